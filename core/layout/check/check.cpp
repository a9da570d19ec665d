#include "core/layout/check/check.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/base/reporter.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/layout/check/approach.h"

namespace spile {
namespace {

constexpr double kHalfPlace_mm = 0.0005;  // places are whole micrometres

/// A piece that is placed, once or (a fault already reported) more often.
struct Lying {
    std::string id;
    PlacedPiece piece;
    const LayoutPiece* of;
    Placement at;
};

class Checker {
  public:
    Checker(const Goods& goods, const Layout& layout, const LengthStyle& lengths)
        : all_(goods), layout_(layout), goods_(goods), lengths_(lengths) {}

    void match(const std::vector<LayoutPiece>& pieces) {
        std::map<std::string, const LayoutPiece*> by_id;
        std::map<std::string, int> times;
        for (const LayoutPiece& piece : pieces)
            if (!by_id.emplace(piece.id, &piece).second)
                stop("layout-piece-twice", "piece", piece.id, {},
                     "Two pieces are both called " + piece.id + ".", "Give every piece its own number.");
        for (const Placement& p : layout_.placements) {
            const auto found = by_id.find(p.piece);
            if (found == by_id.end()) {
                stop("layout-piece-unknown", "piece", p.piece, {},
                     "The layout places piece " + p.piece + ", which this job does not have.",
                     "Lay the pieces out again.");
                continue;
            }
            ++times[p.piece];
            if (p.stretch < 0 || static_cast<std::size_t>(p.stretch) >= stretch_count(layout_)) {
                stop("layout-stretch", "piece", p.piece, {{"stretch", static_cast<double>(p.stretch), ""}},
                     "Piece " + p.piece + " lies on stretch " + std::to_string(p.stretch) +
                         " of the layout, which has " + std::to_string(stretch_count(layout_)) +
                         ", counted from 0.",
                     "Lay the pieces out again.");
                continue;
            }
            turned_right(p, *found->second);
            if (!found->second->outline.outer.empty())
                lying_.push_back(
                    {p.piece, placed(found->second->outline, roll_from_piece(p)), found->second, p});
            const std::optional<Placement>& pin = found->second->pin;
            if (pin && (pin->x_um != p.x_um || pin->y_um != p.y_um || pin->turns != p.turns ||
                        pin->stretch != p.stretch))
                stop("layout-pin", "piece", p.piece,
                     {{"moved along", p.move_mm().x - pin->move_mm().x, "mm"},
                      {"moved across", p.move_mm().y - pin->move_mm().y, "mm"}},
                     "Piece " + p.piece + " does not lie where it was pinned.",
                     "Lay the pieces out again, or let go of the pin.");
        }
        for (const LayoutPiece& piece : pieces) {
            const int n = times[piece.id];
            if (n == 0)
                stop("layout-piece-missing", "piece", piece.id, {},
                     "Piece " + piece.id + " is not on the goods.", "Lay the pieces out again.");
            if (n > 1)
                stop("layout-piece-twice", "piece", piece.id, {{"times", static_cast<double>(n), ""}},
                     "Piece " + piece.id + " is on the goods " + std::to_string(n) + " times.",
                     "Lay the pieces out again.");
        }
    }

    /// One lot for all that lies side by side, and one length of goods for a pattern that is carried: where it begins on
    /// another is not known.
    void together() {
        if (layout_.stretches.size() < 2) return;
        std::map<std::string, const Lying*> first, of_cloth;
        for (const Lying& l : lying_) {
            const Stretch& own = stretch_of(l);
            if (!l.of->seen_with.empty()) {
                const Lying& other = *first.emplace(l.of->seen_with, &l).first->second;
                // What is yet to buy is of a lot nobody knows.
                const bool elsewhere = other.at.stretch != l.at.stretch;
                if (own.lot != stretch_of(other).lot ||
                    (elsewhere && own.lot.empty() && (to_buy(own) || to_buy(stretch_of(other)))))
                    stop("layout-lot", "piece", l.id, {},
                         "Pieces " + other.id + " and " + l.id +
                             " lie side by side aboard and are cut from " + lot_words(stretch_of(other)) +
                             " and " + lot_words(own) + ": lots differ in colour.",
                         "Cut both from one lot.");
            }
            if (!goods_.repeat.any() || l.of->cloth.empty()) continue;
            const Lying& other = *of_cloth.emplace(l.of->cloth, &l).first->second;
            if (other.at.stretch != l.at.stretch)
                stop("layout-pattern", "piece", l.id, {},
                     "The pattern of piece " + l.id + " cannot be told to meet that of piece " + other.id +
                         ": they are cut from " + stretch_of(other).name + " and " + own.name + ".",
                     "Cut both from one length.");
        }
    }

    /// What follows is asked of the pieces on one stretch.
    void take_stretch(std::size_t k) {
        goods_ = goods_on(all_, layout_, k);
        where_ = layout_.stretches.empty() || layout_.stretches[k].name.empty()
                     ? ""
                     : " This is on " + layout_.stretches[k].name + ".";
        here_.clear();
        for (const Lying& l : lying_)
            if (static_cast<std::size_t>(l.at.stretch) == k) here_.push_back(&l);
    }

    void on_the_goods() {
        const double room = goods_.edge_gap();
        for (const Lying* lying : here_) {
            const Lying& l = *lying;
            const Box& box = l.piece.box;
            const double slack = kPlacementRounding_mm + noise_mm(box);
            const double low = room - box.min.y, high = box.max.y - (goods_.usable_width_mm - room);
            if (std::fmax(low, high) > slack)
                stop("layout-width", "piece", l.id,
                     {{"beyond", std::fmax(low, high), "mm"},
                      {"usable width", goods_.usable_width_mm, "mm"},
                      {"gap at the edge", room, "mm"}},
                     "Piece " + l.id + " lies " + said(std::fmax(low, high)) + " too far to the " +
                         (low > high ? "near" : "far") + " selvedge: the usable width is " +
                         said(goods_.usable_width_mm) + ", less " + said(room) + " at each side.",
                     "Lay the pieces out again, or correct the usable width.");
            if (room - box.min.x > slack)
                stop("layout-cut-end", "piece", l.id,
                     {{"beyond", room - box.min.x, "mm"}, {"gap at the edge", room, "mm"}},
                     "Piece " + l.id + " lies " + said(room - box.min.x) +
                         " too near the cut end: " + said(room) + " must stay free.",
                     "Lay the pieces out again.");
            const double over = box.max.x + room - goods_.length_mm;
            if (goods_.length_mm > 0 && over > slack)
                stop("layout-length", "piece", l.id,
                     {{"beyond", over, "mm"}, {"length", goods_.length_mm, "mm"}},
                     "Piece " + l.id + " ends " + said(over) + " beyond the " + said(goods_.length_mm) +
                         " of goods there is.",
                     "Take a longer piece of goods or fewer pieces.");
        }
    }

    /// The goods about an offcut are a frame with the offcut as its hole: no piece lies on it or nearer than the edge gap.
    void inside_the_offcut() {
        if (goods_.outline.empty()) return;
        Box around = box_of(goods_.outline);
        for (const Lying* l : here_) {
            around.add(l->piece.box.min);
            around.add(l->piece.box.max);
        }
        const double beyond = goods_.edge_gap() + 1000;
        const Vec2 margin{beyond, beyond};
        const PlacedPiece frame =
            placed({rectangle(around.min - margin, around.max + margin), {reversed(goods_.outline)}}, {});
        const double room = goods_.edge_gap();
        for (const Lying* lying : here_) {
            const Lying& l = *lying;
            const Approach found = approach(l.piece, frame, std::fmax(room, kPlacementRounding_mm));
            const double slack = kPlacementRounding_mm + noise_mm(frame.box);
            if (found.depth_mm > slack)
                stop("layout-offcut", "piece", l.id,
                     {{"beyond", found.depth_mm, "mm"}, {"x", found.at.x, "mm"}, {"y", found.at.y, "mm"}},
                     "Piece " + l.id + " stands " + said(found.depth_mm) + " over the edge of the offcut.",
                     "Lay the pieces out again.");
            else if (found.distance_mm < room - slack)
                stop("layout-offcut", "piece", l.id,
                     {{"distance", found.distance_mm, "mm"}, {"gap at the edge", room, "mm"}},
                     "Piece " + l.id + " lies " + said(found.distance_mm) +
                         " from the edge of the offcut: " + said(room) + " must stay free.",
                     "Lay the pieces out again.");
        }
    }

    void off_the_flaws() {
        for (const Flaw& flaw : goods_.flaws) {
            if (!(flaw.at_mm.width() > 0 && flaw.at_mm.height() > 0)) continue;
            const PlacedPiece bad = placed({rectangle(flaw.at_mm.min, flaw.at_mm.max), {}}, {});
            for (const Lying* lying : here_) {
                const Lying& l = *lying;
                const Approach found = approach(l.piece, bad, kPlacementRounding_mm);
                Box both = l.piece.box;
                both.add(flaw.at_mm);
                if (found.depth_mm <= kPlacementRounding_mm + noise_mm(both)) continue;
                stop("layout-flaw", "piece", l.id,
                     {{"overlap", found.depth_mm, "mm"}, {"x", found.at.x, "mm"}, {"y", found.at.y, "mm"}},
                     "Piece " + l.id + " lies on flaw " + flaw.id + " of the goods, " + said(found.depth_mm) +
                         " deep.",
                     "Move it, or lay the pieces out again.");
            }
        }
    }

    /// Every piece of a cloth against the first of it.
    void pattern_carried() {
        if (!goods_.repeat.any()) return;
        std::map<std::string, const Lying*> first;
        for (const Lying* lying : here_) {
            const Lying& l = *lying;
            if (l.of->cloth.empty()) continue;
            const Lying& other = *first.emplace(l.of->cloth, &l).first->second;
            const Vec2 out = pattern_out_mm(goods_.repeat, (l.at.move_mm() - l.of->in_cloth_mm) -
                                                               (other.at.move_mm() - other.of->in_cloth_mm));
            Box both = l.piece.box;
            both.add(other.piece.box);
            const double slack = kPlacementRounding_mm + noise_mm(both);
            if (std::fabs(out.x) <= slack && std::fabs(out.y) <= slack) continue;
            stop("layout-pattern", "piece", l.id, {{"out along", out.x, "mm"}, {"out across", out.y, "mm"}},
                 "The pattern of piece " + l.id + " does not meet that of piece " + other.id + ": it is " +
                     said(std::fabs(out.x)) + " out along the goods and " + said(std::fabs(out.y)) +
                     " across.",
                 "Move it by that much, or lay the pieces out again.");
        }
    }

    void apart() {
        std::stable_sort(here_.begin(), here_.end(), [](const Lying* a, const Lying* b) {
            return a->piece.box.min.x < b->piece.box.min.x;
        });
        for (std::size_t i = 0; i < here_.size(); ++i)
            for (std::size_t j = i + 1; j < here_.size(); ++j) {
                if (here_[j]->piece.box.min.x - here_[i]->piece.box.max.x >= goods_.gap_mm) break;
                pair(*here_[i], *here_[j]);
            }
    }

    void lengths_told(const std::vector<LayoutPiece>& pieces) {
        where_.clear();
        Layout measured = layout_;
        measure_layout(pieces, all_, measured);
        const double used = measured.used_mm, short_by = used - layout_.used_mm;
        if (short_by > kPlacementRounding_mm)
            stop("layout-used", "goods", "", {{"says", layout_.used_mm, "mm"}, {"takes", used, "mm"}},
                 "The layout says it takes " + said(layout_.used_mm) +
                     " of goods, but its last piece ends at " + said(used) + ".",
                 "Lay the pieces out again.");
        // What is bought was rounded with the same limit; at the limit itself doubles differ by their last digit.
        if (layout_.used_mm - layout_.bought_mm > kPlacementRounding_mm + kHalfPlace_mm)
            stop("layout-bought", "goods", "",
                 {{"bought", layout_.bought_mm, "mm"}, {"used", layout_.used_mm, "mm"}},
                 "The layout takes " + said(layout_.used_mm) + " of goods and buys only " +
                     said(layout_.bought_mm) + ".",
                 "Lay the pieces out again.");
    }

    /// What is sold beside the job lengthens nothing.
    void within_what_is_used(const Layout& told) {
        if (told.fillers.empty()) return;
        if (!told.stretches.empty())
            stop("layout-filler", "goods", "", {},
                 "Fillers are placed on a layout over several lengths of goods.",
                 "Lay the pieces out again.");
        for (const Lying& l : lying_) {
            const bool filler = std::any_of(told.fillers.begin(), told.fillers.end(),
                                            [&](const Placement& p) { return p.piece == l.id; });
            const double over = l.piece.box.max.x + all_.edge_gap() - told.used_mm;
            if (!filler || over <= kPlacementRounding_mm + noise_mm(l.piece.box)) continue;
            stop("layout-filler", "piece", l.id, {{"beyond", over, "mm"}, {"used", told.used_mm, "mm"}},
                 "Piece " + l.id + " ends " + said(over) + " beyond the " + said(told.used_mm) +
                     " that the panels take.",
                 "Lay the pieces out again.");
        }
    }

    std::vector<Finding> take() { return std::move(findings_); }

  private:
    void turned_right(const Placement& p, const LayoutPiece& piece) {
        const bool in_pattern = goods_.repeat.any() && !piece.cloth.empty();
        if (turn_allowed(piece.any_way ? Turning::quarter : goods_.turning, p.turns, in_pattern)) return;
        stop("layout-turn", "piece", p.piece, {{"quarter turns", static_cast<double>(p.turns), ""}},
             "Piece " + p.piece + " is turned by " + std::to_string(p.turns) +
                 (p.turns == 1 ? " quarter" : " quarters") + " of a turn, which " +
                 (in_pattern && goods_.turning != Turning::one_way ? "breaks the pattern it carries."
                                                                   : "the direction of the goods forbids."),
             "Lay the pieces out again, or correct the direction of the goods.");
    }

    const Stretch& stretch_of(const Lying& l) const {
        return layout_.stretches[static_cast<std::size_t>(l.at.stretch)];
    }

    static std::string lot_words(const Stretch& stretch) {
        return stretch.name + (stretch.lot.empty() ? ", lot not known" : ", lot " + stretch.lot);
    }

    void pair(const Lying& a, const Lying& b) {
        const double enough = std::fmax(goods_.gap_mm, kPlacementRounding_mm);
        const Approach found = approach(a.piece, b.piece, enough);
        Box both = a.piece.box;
        both.add(b.piece.box);
        const double slack = kPlacementRounding_mm + noise_mm(both);
        // Names in a fixed order, whichever lies further along.
        const std::string one = std::min(a.id, b.id), two = std::max(a.id, b.id);
        if (found.depth_mm > slack)
            stop("layout-overlap", "piece", one + " " + two,
                 {{"overlap", found.depth_mm, "mm"}, {"x", found.at.x, "mm"}, {"y", found.at.y, "mm"}},
                 "Pieces " + one + " and " + two + " lie on one another, " + said(found.depth_mm) + " deep.",
                 "Move one of them, or lay the pieces out again.");
        else if (found.distance_mm < goods_.gap_mm - slack)
            stop("layout-gap", "piece", one + " " + two,
                 {{"distance", found.distance_mm, "mm"},
                  {"gap", goods_.gap_mm, "mm"},
                  {"x", found.at.x, "mm"},
                  {"y", found.at.y, "mm"}},
                 "Pieces " + one + " and " + two + " are " + said(found.distance_mm) + " apart; the gap is " +
                     said(goods_.gap_mm) + ", so " + said(goods_.gap_mm - found.distance_mm) + " is missing.",
                 "Move one of them, or lay the pieces out again.");
    }

    /// Small differences are said in hundredths of a millimetre: no tape shows them.
    std::string said(double mm) const {
        if (std::fabs(mm) < 1) return fixed(mm, 3) + " mm";
        LengthStyle style = lengths_;
        style.with_unit = true;
        return plain_length(mm, style);
    }

    void stop(const char* code, const char* kind, const std::string& id, std::vector<Quantity> numbers,
              const std::string& says, std::string to_do) {
        findings_.push_back(
            {code, Severity::stop, {kind, id}, std::move(numbers), says + where_, std::move(to_do), ""});
    }

    const Goods& all_;
    const Layout& layout_;
    Goods goods_;        ///< of the stretch in hand
    std::string where_;  ///< a sentence that names it
    LengthStyle lengths_;
    std::vector<Lying> lying_;
    std::vector<const Lying*> here_;
    std::vector<Finding> findings_;
};

}  // namespace

std::vector<Finding> check_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                  const Layout& layout, const LengthStyle& lengths) {
    // Fillers that were placed are pieces like any other.
    std::vector<LayoutPiece> all = pieces;
    Layout whole = layout;
    for (LayoutPiece& filler : filler_pieces(goods))
        if (std::any_of(layout.fillers.begin(), layout.fillers.end(),
                        [&](const Placement& p) { return p.piece == filler.id; }))
            all.push_back(std::move(filler));
    whole.placements.insert(whole.placements.end(), layout.fillers.begin(), layout.fillers.end());

    Checker checker(goods, whole, lengths);
    checker.match(all);
    checker.together();
    for (std::size_t k = 0; k < stretch_count(layout); ++k) {
        checker.take_stretch(k);
        checker.on_the_goods();
        checker.inside_the_offcut();
        checker.off_the_flaws();
        checker.pattern_carried();
        checker.apart();
    }
    checker.lengths_told(pieces);
    checker.within_what_is_used(layout);
    return checker.take();
}

}  // namespace spile
