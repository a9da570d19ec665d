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

/// A piece that is placed, once or (a fault already reported) more often.
struct Lying {
    std::string id;
    PlacedPiece piece;
    const LayoutPiece* of;
    Vec2 move_mm;
};

class Checker {
  public:
    Checker(const Goods& goods, const LengthStyle& lengths) : goods_(goods), lengths_(lengths) {}

    void match(const std::vector<LayoutPiece>& pieces, const Layout& layout) {
        std::map<std::string, const LayoutPiece*> by_id;
        std::map<std::string, int> times;
        for (const LayoutPiece& piece : pieces)
            if (!by_id.emplace(piece.id, &piece).second)
                stop("layout-piece-twice", "piece", piece.id, {},
                     "Two pieces are both called " + piece.id + ".", "Give every piece its own number.");
        for (const Placement& p : layout.placements) {
            const auto found = by_id.find(p.piece);
            if (found == by_id.end()) {
                stop("layout-piece-unknown", "piece", p.piece, {},
                     "The layout places piece " + p.piece + ", which this job does not have.",
                     "Lay the pieces out again.");
                continue;
            }
            ++times[p.piece];
            if (!found->second->outline.outer.empty())
                lying_.push_back(
                    {p.piece, placed(found->second->outline, p.move_mm()), found->second, p.move_mm()});
            const std::optional<Placement>& pin = found->second->pin;
            if (pin && (pin->x_um != p.x_um || pin->y_um != p.y_um))
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

    void on_the_goods() {
        const double room = goods_.edge_gap();
        for (const Lying& l : lying_) {
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

    void off_the_flaws() {
        for (const Flaw& flaw : goods_.flaws) {
            if (!(flaw.at_mm.width() > 0 && flaw.at_mm.height() > 0)) continue;
            const PlacedPiece bad = placed({rectangle(flaw.at_mm.min, flaw.at_mm.max), {}}, {});
            for (const Lying& l : lying_) {
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
        for (const Lying& l : lying_) {
            if (l.of->cloth.empty()) continue;
            const Lying& other = *first.emplace(l.of->cloth, &l).first->second;
            const Vec2 out = pattern_out_mm(
                goods_.repeat, (l.move_mm - l.of->in_cloth_mm) - (other.move_mm - other.of->in_cloth_mm));
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
        std::stable_sort(lying_.begin(), lying_.end(), [](const Lying& a, const Lying& b) {
            return a.piece.box.min.x < b.piece.box.min.x;
        });
        for (std::size_t i = 0; i < lying_.size(); ++i)
            for (std::size_t j = i + 1; j < lying_.size(); ++j) {
                if (lying_[j].piece.box.min.x - lying_[i].piece.box.max.x >= goods_.gap_mm) break;
                pair(lying_[i], lying_[j]);
            }
    }

    void lengths_told(const std::vector<LayoutPiece>& pieces, const Layout& layout) {
        const double used = used_length_mm(pieces, goods_, layout.placements);
        const double short_by = used - layout.used_mm;
        if (short_by > kPlacementRounding_mm)
            stop("layout-used", "goods", "", {{"says", layout.used_mm, "mm"}, {"takes", used, "mm"}},
                 "The layout says it takes " + said(layout.used_mm) +
                     " of goods, but its last piece ends at " + said(used) + ".",
                 "Lay the pieces out again.");
        if (layout.used_mm - layout.bought_mm > kPlacementRounding_mm)
            stop("layout-bought", "goods", "",
                 {{"bought", layout.bought_mm, "mm"}, {"used", layout.used_mm, "mm"}},
                 "The layout takes " + said(layout.used_mm) + " of goods and buys only " +
                     said(layout.bought_mm) + ".",
                 "Lay the pieces out again.");
    }

    std::vector<Finding> take() { return std::move(findings_); }

  private:
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
              std::string says, std::string to_do) {
        findings_.push_back(
            {code, Severity::stop, {kind, id}, std::move(numbers), std::move(says), std::move(to_do), ""});
    }

    const Goods& goods_;
    LengthStyle lengths_;
    std::vector<Lying> lying_;
    std::vector<Finding> findings_;
};

}  // namespace

std::vector<Finding> check_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                  const Layout& layout, const LengthStyle& lengths) {
    Checker checker(goods, lengths);
    checker.match(pieces, layout);
    checker.on_the_goods();
    checker.off_the_flaws();
    checker.pattern_carried();
    checker.apart();
    checker.lengths_told(pieces, layout);
    return checker.take();
}

}  // namespace spile
