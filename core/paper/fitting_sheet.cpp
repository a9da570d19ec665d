// The fitting sheet: what goes where aboard, and what to try before leaving.
#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/cautions.h"
#include "core/paper/flow_parts.h"

namespace spile {
namespace paper {
namespace {

/// Edges of the job that meet something, "3 E-J6".
std::vector<std::string> edges_that_meet(const PaperInput& in, Situation situation) {
    std::vector<std::string> out;
    for (const Piece& p : *in.pieces)
        for (const EdgeReport& e : p.edges)
            if (e.plan.situation == situation)
                out.push_back(std::to_string(p.number) + " " + joined(e.from, "\u2013", e.to));
    return out;
}

void plan(Flow& flow, const PaperInput& in, const std::string& space) {
    Box all;
    for (const Panel& p : *in.panels)
        if (p.space == space && !p.mat) all.add(box_of(p.boat_line.outline));
    // As high as its width on the page makes it, so that nothing is left white.
    const double wanted = (flow.area().width() - 2) * all.height() / std::max(all.width(), 1.0) + 24;
    const double height = std::clamp(wanted, 60.0, flow.area().height() - 16);
    flow.need(height + 12);
    flow.heading(space, 12);
    draw_boat_plan(flow.canvas(), {{flow.area().min.x, flow.y()}, {flow.area().max.x, flow.y() + height}}, in,
                   space, {});
    flow.skip(height + 2);
}

}  // namespace
}  // namespace paper

Sheet fitting_sheet(const PaperInput& in) {
    using namespace paper;
    SPILE_CHECK(in.pieces && in.panels);
    FrameText text = plain_frame(in, "FIT ABOARD \u00b7 SEEN FROM ABOVE", "Fitting sheet");
    text.bar_right = "face up";
    Flow flow(in.bench_paper, text);
    for (const std::string& space : spaces_of(in)) {
        plan(flow, in, space);
        std::vector<std::string> marks;
        for (const MatchMark& m : match_marks(in, space))
            marks.push_back(strong(m.letter) + " " + std::to_string(m.piece) + " to " +
                            std::to_string(m.other));
        if (!marks.empty()) flow.paragraph("Marks that meet: " + list_words(marks) + ".");
    }
    std::vector<std::string> mats;
    for (const Panel& p : *in.panels)
        if (p.mat) mats.push_back(p.name.empty() ? p.id : p.name);
    if (!mats.empty()) flow.paragraph("Plain mats, laid where they are wanted: " + list_words(mats) + ".");

    flow.heading("In this order", 20);
    task(flow, "Clean and dry the sole. Lay the pieces out by number, arrows to the bow, " +
                   strong("face up") + ".");
    if (in.settings.dry_fit)
        task(flow, strong("Dry fit: edges are not finished yet.") + " Mark in chalk what comes off.");
    task(flow,
         "Lay them from the bow aft, marks meeting; look along every joint: even, and no edge on another.");
    std::vector<std::string> studs;
    for (const Piece& p : *in.pieces)
        for (const Stud& s : p.studs) studs.push_back(s.id + " in " + std::to_string(p.number));
    if (!studs.empty()) {
        task(flow,
             "Find each stud from above with all pieces in place and weighted, prick, then set its snap: " +
                 strong(list_words(studs)) + ".");
        task(flow, "New studs only where no old one is left to use. " + strong(caution::drilling) + " " +
                       caution::defer);
    }
    const auto lids = edges_that_meet(in, Situation::lid);
    if (!lids.empty())
        task(flow,
             "Open and shut every lid and door beside " + strong(list_words(lids)) +
                 ": nothing rubs, lifts or jams. Goods and binding are thicker than what lay there before.");
    task(flow, "Lift out every piece that must open alone, and lay it back.");
    task(flow, strong(caution::ways) + " Drains run.");
    const auto walked = edges_that_meet(in, Situation::walked_over);
    task(flow,
         strong(caution::trips) + (walked.empty() ? "" : " Walk over " + list_words(walked) + " first."));
    task(flow, "Photograph every piece in its place. Write what was changed, and keep it with the pattern:");
    blank_lines(flow, 3);

    Sheet sheet;
    sheet.file_stem = "fitting";
    sheet.title = "Fitting sheet";
    sheet.purpose = "To take aboard with the pieces: what lies where, studs, marks that meet, lids to try";
    sheet.pages = flow.finish();
    return sheet;
}

}  // namespace spile
