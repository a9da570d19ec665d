#include "core/layout/check/nearest.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"

namespace spile {
namespace {

constexpr std::int64_t kNear_um = 50;  ///< drawing in ends at this: finer than a knife
constexpr int kDirections = 32;
constexpr std::size_t kMostInPattern = 400;  ///< places of a pattern looked at

struct At {
    std::int64_t x = 0, y = 0;
};

double apart(At a, At b) {
    const double dx = static_cast<double>(a.x - b.x), dy = static_cast<double>(a.y - b.y);
    return std::sqrt(dx * dx + dy * dy);
}

const LayoutPiece* piece_of(const std::vector<LayoutPiece>& pieces, const Placement& p) {
    for (const LayoutPiece& piece : pieces)
        if (piece.id == p.piece) return &piece;
    return nullptr;
}

class Finder {
  public:
    Finder(const std::vector<LayoutPiece>& pieces, const Goods& goods, const Layout& layout,
           std::size_t moved, At wanted)
        : goods_(goods), before_(layout.placements[moved]), wanted_(wanted) {
        layout_.stretches = layout.stretches;
        take(pieces, layout, moved);
    }

    std::optional<Placement> nearest() {
        if (in_pattern_)
            on_the_pattern();
        else
            on_rings();
        if (!best_) return std::nullopt;
        Placement out = before_;
        out.x_um = best_->x;
        out.y_um = best_->y;
        return out;
    }

  private:
    /// Only what the piece can meet: the others are legal as they lie.
    void take(const std::vector<LayoutPiece>& pieces, const Layout& layout, std::size_t moved) {
        const LayoutPiece& own = *piece_of(pieces, before_);
        const auto on_roll = [](const LayoutPiece& piece, const Placement& p) {
            return box_of(roll_from_piece(p)(piece.outline));
        };
        Placement at_wanted = before_;
        at_wanted.x_um = wanted_.x;
        at_wanted.y_um = wanted_.y;
        Box window = on_roll(own, at_wanted);
        const double reach = kNearestReach_mm + goods_.gap_mm;
        window = {window.min - Vec2{reach, reach}, window.max + Vec2{reach, reach}};
        bool mate = false;
        for (std::size_t i = 0; i < layout.placements.size(); ++i) {
            const Placement& p = layout.placements[i];
            const LayoutPiece* piece = piece_of(pieces, p);
            if (!piece) continue;
            const bool same_cloth =
                i != moved && goods_.repeat.any() && !own.cloth.empty() && piece->cloth == own.cloth;
            in_pattern_ = in_pattern_ || same_cloth;
            const Box box = on_roll(*piece, p);
            const bool near = p.stretch == before_.stretch && box.min.x < window.max.x &&
                              box.max.x > window.min.x && box.min.y < window.max.y &&
                              box.max.y > window.min.y;
            if (i != moved && !near && !(same_cloth && !mate)) continue;
            mate = mate || same_cloth;
            if (i == moved) moved_ = layout_.placements.size();
            pieces_.push_back(*piece);
            pieces_.back().pin.reset();
            layout_.placements.push_back(p);
        }
    }

    bool legal(At at) {
        layout_.placements[moved_].x_um = at.x;
        layout_.placements[moved_].y_um = at.y;
        measure_layout(pieces_, goods_, layout_);
        return check_layout(pieces_, goods_, layout_).empty();
    }

    /// From a legal place towards another as far as halving finds legal.
    At drawn_in(At at, At to) {
        if (legal(to)) return to;
        while (std::llabs(to.x - at.x) > kNear_um || std::llabs(to.y - at.y) > kNear_um) {
            const At middle{at.x + (to.x - at.x) / 2, at.y + (to.y - at.y) / 2};
            (legal(middle) ? at : to) = middle;
        }
        return at;
    }

    void offer(At at) {
        if (!best_ || apart(at, wanted_) < apart(*best_, wanted_)) best_ = at;
    }

    /// Rings about half as far out again each time; two more after the first that finds a place, since what lies farther along a
    /// ray may be drawn in farther.
    void on_rings() {
        int more = 2;
        double reach_mm = 1;
        for (int ring = 0; reach_mm <= kNearestReach_mm; reach_mm *= ring++ % 2 == 0 ? 1.5 : 4.0 / 3) {
            bool any = false;
            for (int k = 0; k < kDirections; ++k) {
                const At at = on_ring(reach_mm, k);
                if (!legal(at)) continue;
                any = true;
                At in = drawn_in(at, wanted_);
                in = drawn_in(in, {wanted_.x, in.y});
                in = drawn_in(in, {in.x, wanted_.y});
                offer(in);
            }
            if ((any || best_) && more-- == 0) return;
        }
    }

    /// Round a square: the same on every machine.
    At on_ring(double reach_mm, int k) const {
        const int side = k / (kDirections / 4), step = k % (kDirections / 4);
        const double along = -1 + 2.0 * step / (kDirections / 4);
        const std::array<Vec2, 4> ways{{{1, along}, {-along, 1}, {-1, -along}, {along, -1}}};
        const Vec2 way = ways[static_cast<std::size_t>(side)];
        return {wanted_.x + std::llround(way.x * reach_mm * 1000),
                wanted_.y + std::llround(way.y * reach_mm * 1000)};
    }

    /// Whole repeats from where it lies, the nearest first; where one way is free, drawn in along it.
    void on_the_pattern() {
        const Repeat& repeat = goods_.repeat;
        const auto um = [](double mm) { return std::llround(mm * 1000); };
        std::vector<At> places;
        const double rows_away =
            repeat.across_mm > 0
                ? std::round(static_cast<double>(wanted_.y - before_.y_um) / 1000 / repeat.across_mm)
                : 0;
        const int rows = repeat.across_mm > 0 ? 12 : 0;
        for (int row = -rows; row <= rows; ++row) {
            const double r = rows_away + row;
            const double x0 = static_cast<double>(before_.x_um) / 1000 + r * repeat.drop_mm;
            const std::int64_t y = repeat.across_mm > 0 ? before_.y_um + um(r * repeat.across_mm) : wanted_.y;
            if (repeat.along_mm <= 0) {
                places.push_back({wanted_.x, y});
                continue;
            }
            const double steps = std::round((static_cast<double>(wanted_.x) / 1000 - x0) / repeat.along_mm);
            for (int k = -12; k <= 12; ++k) places.push_back({um(x0 + (steps + k) * repeat.along_mm), y});
        }
        std::stable_sort(places.begin(), places.end(),
                         [&](At a, At b) { return apart(a, wanted_) < apart(b, wanted_); });
        if (places.size() > kMostInPattern) places.resize(kMostInPattern);
        const bool free_along = repeat.along_mm <= 0, free_across = repeat.across_mm <= 0;
        for (const At place : places) {
            if (best_ && apart(place, wanted_) >= apart(*best_, wanted_)) return;
            if (legal(place)) {
                offer(place);
                continue;
            }
            for (double off_mm = 1; (free_along || free_across) && off_mm <= kNearestReach_mm; off_mm *= 2) {
                bool any = false;
                for (const std::int64_t off : {um(off_mm), -um(off_mm)}) {
                    const At at{place.x + (free_along ? off : 0), place.y + (free_across ? off : 0)};
                    if (!legal(at)) continue;
                    any = true;
                    offer(drawn_in(at, place));
                }
                if (any) break;
            }
        }
    }

    const Goods& goods_;
    const Placement before_;
    const At wanted_;
    std::vector<LayoutPiece> pieces_;
    Layout layout_;
    std::size_t moved_ = 0;
    bool in_pattern_ = false;
    std::optional<At> best_;
};

}  // namespace

std::optional<Placement> nearest_legal(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                       const Layout& layout, std::size_t moved, std::int64_t x_um,
                                       std::int64_t y_um) {
    if (moved >= layout.placements.size() || !piece_of(pieces, layout.placements[moved])) return std::nullopt;
    return Finder(pieces, goods, layout, moved, {x_um, y_um}).nearest();
}

}  // namespace spile
