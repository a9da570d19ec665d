#include "core/takeoff/takeoff.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/running_length.h"
#include "core/base/text.h"
#include "core/takeoff/applied.h"
#include "core/takeoff/bias.h"

namespace spile {
namespace {

constexpr double kUsualThickness_mm =
    3.175;                             // 1/8 in, common practice for foam-backed goods under the needle
constexpr std::size_t kNamedRuns = 6;  // more than this many pieces are counted, not listed

class Taker {
  public:
    Taker(const std::vector<Piece>& pieces, const std::vector<AppliedPiece>& applied,
          const TakeoffSettings& settings, const LengthStyle& lengths)
        : pieces_(pieces), applied_(applied), settings_(settings), lengths_(lengths) {
        lengths_.with_unit = true;
        for (const Piece& piece : pieces) edged_.push_back(&piece);
        for (const AppliedPiece& a : applied) edged_.push_back(&a.piece);
    }

    void goods(const Goods& goods, const Layout& layout) {
        if (layout.used_mm <= 0) return;
        const double steps = goods.step_mm > 0 ? std::round(layout.bought_mm / goods.step_mm) : 0;
        std::size_t laid_out = pieces_.size();
        for (const AppliedPiece& a : applied_) laid_out += a.own_goods() ? 1 : 0;
        std::string because = "The layout of " + count_of(laid_out, "piece", "pieces") + " takes " +
                              said(layout.used_mm) + " of the roll, " + said(goods.usable_width_mm) +
                              " usable";
        bool offcuts = false;
        std::vector<std::string> from;
        for (std::size_t k = 0; k < layout.stretches.size(); ++k) {
            from.push_back(stretch_words(layout, k));
            offcuts = offcuts || !layout.stretches[k].outline.empty();
        }
        if (!from.empty()) because += ", cut from " + list_words(from);
        if (offcuts)
            because += "; an offcut counts as it is used";
        else if (steps > 0)
            because += "; it is bought in steps of " + ordered(goods.step_mm) + ", so " +
                       count_of(static_cast<std::size_t>(steps), "step", "steps");
        if (layout.least_order) because += ", the least order being " + ordered(goods.least_order_mm);
        if (layout.to_buy_mm > 0)
            because += "; " + ordered(layout.to_buy_mm) + " of it has still to be bought";
        out_.materials.push_back({goods.name.empty() ? "goods" : goods.name, layout.used_mm, "mm",
                                  layout.bought_mm, because + ".", "goods"});
    }

    void binding() {
        double net = 0, cut = 0;
        std::vector<std::string> runs;
        for (const Piece* piece : edged_) {
            if (piece->binding_mm <= 0) continue;
            cut += piece->binding_mm;
            for (const EdgeReport& edge : piece->edges)
                if (edge.plan.finish == Finish::bound) net += edge.net_length_mm;
            runs.push_back("piece " + called(*piece) + " " + said(piece->binding_mm));
        }
        if (runs.empty()) return;
        const double bought = in_steps(cut, settings_.binding_step_mm);
        std::string because = runs.size() <= kNamedRuns ? list_words(runs)
                                                        : count_of(runs.size(), "piece", "pieces") +
                                                              " to bind, " + said(cut) + " in all";
        because += ", each run with its end lapped over its start";
        const double join = bias_join_mm(settings_.binding_join_mm);
        if (settings_.binding_cloth_mm * 1.4 > join && settings_.binding_strip_mm > 0) {
            const BiasFromCloth made = bias_from_cloth(cut, settings_.binding_cloth_mm,
                                                       settings_.binding_strip_mm, settings_.binding_join_mm);
            because += "; cut on the bias from cloth " + said(settings_.binding_cloth_mm) +
                       " wide: " + count_of(static_cast<std::size_t>(made.strips), "strip", "strips") +
                       " of " + said(made.strip_length_mm) + ", " +
                       count_of(static_cast<std::size_t>(made.joins), "join", "joins") + " of " + said(join) +
                       " each, out of " + said(made.cloth_length_mm) + " of cloth";
            out_.materials.push_back({"binding", cut, "mm",
                                      in_steps(made.cloth_length_mm, settings_.binding_step_mm),
                                      because + ".", "binding"});
        } else {
            if (settings_.binding_step_mm > 0)
                because += "; bought in steps of " + ordered(settings_.binding_step_mm);
            out_.materials.push_back({"binding", cut, "mm", bought, because + ".", "binding"});
        }
        out_.work.push_back(
            {"binding", net, "mm", 0,
             "The bound edges of " + count_of(runs.size(), "piece", "pieces") + " by their net line.",
             "bind"});
    }

    void thread(const Goods& goods) {
        double sewn = 0;
        std::size_t seams = 0;
        const auto sew = [&](const Seam& seam) {
            // A closed seam ends over its own start: one stretch sewn twice instead of two.
            sewn += seam.length_mm + (seam.closed ? 1 : 2) * settings_.overstitch_mm;
            ++seams;
        };
        for (const Piece* piece : edged_)
            for (const Seam& seam : piece->seams) sew(seam);
        for (const AppliedPiece& a : applied_)
            if (a.sewn_on) sew(*a.sewn_on);
        if (seams == 0) return;
        const bool set = settings_.sewn_thickness_mm > 0, known = goods.thickness_mm > 0;
        const double thickness = set     ? settings_.sewn_thickness_mm
                                 : known ? goods.thickness_mm
                                         : kUsualThickness_mm;
        const double ratio = lockstitch_thread_ratio(thickness, settings_.thread_stitches_per_mm);
        const double thread = ratio * sewn;
        const std::string stitches =
            lengths_.unit == Unit::inch
                ? fixed(settings_.thread_stitches_per_mm * 25.4, 1) + " stitches per inch"
                : fixed(settings_.thread_stitches_per_mm * 10, 1) + " stitches per cm";
        out_.stitches = sewn * settings_.thread_stitches_per_mm;
        const double wasted = thread * (1 + settings_.thread_waste),
                     bought = in_steps(wasted, settings_.spool_mm);
        std::string spools;
        if (settings_.spool_mm > 0)
            spools = "; in whole spools of " + ordered(settings_.spool_mm) + ": " +
                     fixed(std::round(bought / settings_.spool_mm), 0);
        out_.materials.push_back({"thread", thread, "mm", bought,
                                  count_of(seams, "seam", "seams") + ", " + said(sewn) +
                                      " with their ends sewn twice; a lockstitch through " + said(thickness) +
                                      (set     ? ""
                                       : known ? " (the thickness of the goods)"
                                               : " (a usual thickness: none is given)") +
                                      " at " + stitches + " takes " + fixed(ratio, 2) +
                                      " times that, needle and bobbin together (" + said(thread / 2) +
                                      " each); " + fixed(settings_.thread_waste * 100, 0) +
                                      " % more for waste, " + ordered(wasted) + spools + ".",
                                  "thread"});
    }

    void tape() {
        double edges = 0, holes = 0;
        std::size_t turned = 0, turned_holes = 0;
        for (const Piece* piece : edged_) {
            for (const EdgeReport& edge : piece->edges)
                if (edge.plan.finish == Finish::turned) {
                    edges += edge.net_length_mm;
                    ++turned;
                }
            for (const HoleReport& hole : piece->holes)
                if (hole.finish == Finish::turned) {
                    holes += hole.round ? std::acos(-1.0) * hole.net_diameter_mm : hole.rim_mm;
                    ++turned_holes;
                }
        }
        if (turned + turned_holes == 0) return;
        std::vector<std::string> parts;
        if (turned) parts.push_back(count_of(turned, "turned edge", "turned edges") + ", " + said(edges));
        if (turned_holes)
            parts.push_back(count_of(turned_holes, "turned hole", "turned holes") + ", " + said(holes) +
                            " round");
        out_.materials.push_back({"double-sided tape", edges + holes, "mm", edges + holes,
                                  "Under " + list_words(parts) + ", along the net line.", "tape"});
        if (turned)
            out_.work.push_back({"turning", edges, "mm", 0,
                                 count_of(turned, "turned edge", "turned edges") + " along the net line.",
                                 "turn"});
    }

    void corners() {
        std::size_t turned = 0, bound = 0;
        for (const Piece* piece : edged_) {
            const std::size_t n = piece->edges.size();
            for (std::size_t i = 0; n > 1 && i < n; ++i) {
                const Finish before = piece->edges[(i + n - 1) % n].plan.finish,
                             after = piece->edges[i].plan.finish;
                if (before == Finish::turned && after == Finish::turned) ++turned;
                if (before == Finish::bound && after == Finish::bound) ++bound;
            }
        }
        count("corners to bind round", bound, "Where two bound edges of a piece meet.", "corner-bound");
        count("corners to notch and turn", turned, "Where two turned edges of a piece meet.",
              "corner-turned");
    }

    void holes() {
        std::size_t turned = 0, others = 0, slits = 0, relief = 0;
        Sizes turned_sizes, other_sizes;
        for (const Piece& piece : pieces_) {
            std::size_t of_holes = 0;
            for (const HoleReport& hole : piece.holes) {
                const bool turns = hole.finish == Finish::turned;
                ++(turns ? turned : others);
                ++(turns ? turned_sizes : other_sizes)[size_of(hole)];
                of_holes += static_cast<std::size_t>(hole.slits);
            }
            slits += of_holes;
            for (const FlapCut& cut : piece.flap_cuts)
                if (cut.kind == FlapCut::Kind::notch || cut.kind == FlapCut::Kind::slit) ++relief;
        }
        count("holes to turn", turned, "Too small to bind, or asked for so: " + sizes(turned_sizes) + ".",
              "hole-turned");
        count("holes to bind or seal", others, "Openings that are not turned: " + sizes(other_sizes) + ".",
              "hole-bound");
        count("slits to cut", slits, "Round the turned holes, so that the face folds back.", "slit");
        count("relief cuts", relief, "Along turned curves, so that the fold lies flat.", "relief");
    }

    void snaps() {
        std::size_t studs = 0, placed = 0;
        for (const Piece& piece : pieces_) {
            studs += piece.studs.size();
            for (const Stud& s : piece.studs) placed += s.by_rule ? 1 : 0;
        }
        if (studs == 0) return;
        out_.materials.push_back(
            {"snaps (socket and cap)", static_cast<double>(studs), "", static_cast<double>(studs),
             placed > 0 ? "One for each stud of the boat under a piece; " +
                              count_of(placed, "new stud", "new studs") + " for the deck besides."
                        : std::string("One for each stud in the boat under a piece."),
             "snap"});
        deck(placed);
        count("snaps to find and set", studs, "Over the studs, with the pieces in place.", "snap-set");
    }

    /// What new snaps want on the deck.
    void deck(std::size_t studs) {
        if (studs == 0) return;
        const double screws = static_cast<double>(studs) * settings_.screws_per_stud;
        out_.materials.push_back({"studs", static_cast<double>(studs), "", static_cast<double>(studs),
                                  "One on the deck for each new snap.", "stud"});
        if (screws > 0)
            out_.materials.push_back({"screws", screws, "", screws,
                                      shortest(settings_.screws_per_stud) + " for each of " +
                                          count_of(studs, "new stud", "new studs") + ".",
                                      "screw"});
    }

    void applied() { take_applied(applied_, lengths_, out_); }

    void sealing() {
        double sealed = 0;
        std::size_t edges = 0;
        for (const Piece& piece : pieces_)
            for (const EdgeReport& edge : piece.edges)
                if (edge.plan.finish == Finish::sealed) {
                    sealed += edge.net_length_mm;
                    ++edges;
                }
        if (edges == 0) return;
        out_.work.push_back({"sealing", sealed, "mm", 0,
                             count_of(edges, "sealed edge", "sealed edges") + " along the net line.",
                             "seal"});
    }

    void dry_fit() {
        const auto tried = [&](const Piece& piece) {
            return settings_.dry_fit ||
                   std::any_of(piece.edges.begin(), piece.edges.end(),
                               [](const EdgeReport& e) { return e.plan.left_long_mm > 0; });
        };
        count("pieces to try aboard before edging",
              static_cast<std::size_t>(std::count_if(pieces_.begin(), pieces_.end(), tried)),
              settings_.dry_fit ? "Asked for." : "An edge of them is left long.", "dry-fit");
    }

    void whole_pieces() {
        for (const Piece& piece : pieces_) out_.area_mm2 += piece.area_mm2;
        count("pieces to mark and cut", pieces_.size(), "Marked, cut, named and packed, one by one.",
              "piece");
    }

    Takeoff take() { return std::move(out_); }

  private:
    void count(const char* what, std::size_t n, std::string because, const char* code) {
        if (n > 0) out_.work.push_back({what, static_cast<double>(n), "", 0, std::move(because), code});
    }

    /// Up to the next whole step; an exact one stays.
    static double in_steps(double mm, double step_mm) {
        return step_mm > 0 ? std::ceil((mm - kPlacementRounding_mm) / step_mm) * step_mm : mm;
    }

    /// Finished, along and across; of round holes the diameter and 0.
    using Sizes = std::map<std::pair<double, double>, std::size_t>;
    static std::pair<double, double> size_of(const HoleReport& hole) {
        if (hole.round) return {hole.net_diameter_mm, 0};
        return {hole.along_mm, hole.across_mm};
    }

    /// "2 of 2 1/2 in and 1 of 12 in x 4 in".
    std::string sizes(const Sizes& by_size) const {
        std::vector<std::string> words;
        for (const auto& [size, n] : by_size)
            words.push_back(std::to_string(n) + " of " + said(size.first) +
                            (size.second > 0 ? " x " + said(size.second) : ""));
        return list_words(words);
    }

    std::string said(double mm) const { return plain_length(mm, lengths_); }
    std::string ordered(double mm) const { return running_length(mm, lengths_); }

    const std::vector<Piece>& pieces_;
    const std::vector<AppliedPiece>& applied_;
    std::vector<const Piece*> edged_;  ///< both
    const TakeoffSettings& settings_;
    LengthStyle lengths_;
    Takeoff out_;
};

}  // namespace

double lockstitch_thread_ratio(double thickness_mm, double stitches_per_mm) {
    return 2 + 2 * thickness_mm * stitches_per_mm;
}

Takeoff take_off(const std::vector<Piece>& pieces, const Goods& goods, const Layout& layout,
                 const TakeoffSettings& settings, const LengthStyle& lengths,
                 const std::vector<AppliedPiece>& applied) {
    Taker taker(pieces, applied, settings, lengths);
    taker.goods(goods, layout);
    taker.binding();
    taker.thread(goods);
    taker.tape();
    taker.corners();
    taker.holes();
    taker.sealing();
    taker.dry_fit();
    taker.applied();
    taker.snaps();
    taker.whole_pieces();
    return taker.take();
}

}  // namespace spile
