#include "core/paper/work_order.h"

#include <algorithm>

#include "core/paper/aboard.h"
#include "core/paper/cautions.h"
#include "core/paper/page_frame.h"

namespace spile::paper {
namespace {

bool any_finish(const PaperInput& in, Finish finish) {
    for (const Piece& p : *in.pieces)
        for (const EdgeReport& e : p.edges)
            if (e.plan.finish == finish) return true;
    return false;
}
bool any_holes(const PaperInput& in) {
    return std::any_of(in.pieces->begin(), in.pieces->end(), [](const Piece& p) { return !p.holes.empty(); });
}
bool any_studs(const PaperInput& in) {
    return std::any_of(in.pieces->begin(), in.pieces->end(), [](const Piece& p) { return !p.studs.empty(); });
}

}  // namespace

std::vector<WorkLine> work_in_order(const PaperInput& in) {
    std::vector<WorkLine> w;
    const std::string side = in.mark_on_back ? "back" : "face";
    w.push_back({WorkStep::goods,
                 "Goods against this ticket: name, lot, usable width, flaws, the way the arrow runs."});
    w.push_back(
        {WorkStep::mark, "Unroll " + side +
                             " up, let it lie flat. Mark from the roll sheet and the marking sheets; try the "
                             "diagonals. Chalk on every piece its number, " +
                             strong(side_chalked(in.mark_on_back)) +
                             " and the arrow with its flag, before anything is cut."});
    w.push_back({WorkStep::cut, "Cut holes, then outsides. BACKING ONLY lines without touching the face. " +
                                    strong(std::string(caution::blades) + " " + caution::hot_knife) + " " +
                                    caution::hot_knife_thread});
    if (any_dry_fitted(in))
        w.push_back({WorkStep::dry_fit, strong("Dry fit aboard before any edge is finished:") +
                                            " mark what to take off, trim, try again; measure. " +
                                            caution::ways});
    if (any_holes(in)) w.push_back({WorkStep::holes, "Finish the holes: slits, fold, sew; or bind."});
    if (in.applied && !in.applied->empty())
        w.push_back({WorkStep::apply,
                     "Applied pieces: finish their own edges, set each to its chalk line, sew or stick it "
                     "on, while the panel still lies flat."});
    if (any_finish(in, Finish::turned))
        w.push_back(
            {WorkStep::turn,
             "Turned edges: tape and fold the face onto the backing; sew two opposite edges, notch the "
             "corners, sew the others."});
    if (any_finish(in, Finish::bound))
        w.push_back(
            {WorkStep::bind, "Bound edges: all round in one run, end over start" +
                                 (in.finish ? " by " + length_words(in.finish->binding_overlap_mm, in.lengths)
                                            : std::string()) +
                                 "; one that stops, its ends folded under. Sealed and back-stitched."});
    if (any_finish(in, Finish::sealed)) w.push_back({WorkStep::seal, "Seal the edges that are sealed."});
    w.push_back({WorkStep::measure, "Measure again after edging: sizes and diagonals against this ticket."});
    w.push_back({WorkStep::pack, "Clean, label, pack rolled face out."});
    if (any_studs(in))
        w.push_back({WorkStep::studs, "Aboard: studs found from above, pieces in place. " +
                                          strong(caution::drilling) + " " + caution::defer});
    w.push_back({WorkStep::fit,
                 "Aboard: lids open, doors swing. " + strong(caution::ways) + " " + strong(caution::trips)});
    return w;
}

}  // namespace spile::paper
