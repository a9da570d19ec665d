#include "core/layout/solve/whole_places.h"

#include <algorithm>
#include <cmath>

namespace spile::lay {
namespace {

constexpr int kPasses = 4;
constexpr int kSpread = 3;  // steps that the far ones go out of the way of the others at first

std::int64_t floor_to(std::int64_t v, std::int64_t step) {
    return v - ((v % step) + step) % step;
}

class Places {
  public:
    Places(const FitTable& table, const Prepared& prepared, std::int64_t length, std::int64_t step)
        : table_(table),
          problem_(prepared.problem),
          length_(length),
          step_(step),
          origin_{std::llround(prepared.origin_mm.x * kUnitsPerMm),
                  std::llround(prepared.origin_mm.y * kUnitsPerMm)} {}

    bool may_move(std::size_t i) const { return !problem_.items[i].fixed && problem_.items[i].cloth < 0; }

    /// The lower left of the item's box on the roll.
    IPoint place(const Spot& spot) const {
        const IBox& box = problem_.boxes[static_cast<std::size_t>(spot.shape)];
        return origin_ + spot.at + IPoint{box.min_x, box.min_y};
    }
    int whole_ways(const Spot& spot) const {
        const IPoint p = place(spot);
        return (p.x % step_ == 0) + (p.y % step_ == 0);
    }

    /// The first legal of the places round about, those whole both ways before those whole one way; `more` steps farther from the
    /// cut end and the selvedge before nearer ones, to make room.
    void improve(Spots& spots, std::size_t i, int more) const {
        const IPoint here = place(spots[i]), at = spots[i].at;
        const int ways = whole_ways(spots[i]);
        if (ways == 2 && more == 0) return;
        const std::vector<std::int64_t> along = moves(here.x, more), across = moves(here.y, more);
        for (const std::int64_t dx : along)
            for (const std::int64_t dy : across)
                if (take(spots, i, at + IPoint{dx, dy})) return;
        if (ways == 1) return;
        for (const std::int64_t dy : across)
            if (take(spots, i, at + IPoint{0, dy})) return;
        for (const std::int64_t dx : along)
            if (take(spots, i, at + IPoint{dx, 0})) return;
    }

    /// Back by whole steps, as far as it was moved out at most.
    void draw_back(Spots& spots, std::size_t i) const {
        for (const IPoint back : {IPoint{-step_, 0}, IPoint{0, -step_}})
            for (int k = 0; k < kSpread && take(spots, i, spots[i].at + back); ++k) {
            }
    }

  private:
    std::vector<std::int64_t> moves(std::int64_t v, int more) const {
        const std::int64_t below = floor_to(v, step_) - v, above = below == 0 ? 0 : below + step_;
        std::vector<std::int64_t> out;
        for (int m = more; m > 0; --m) out.push_back(above + m * step_);
        const bool nearer_below = -below <= above;
        out.push_back(nearer_below ? below : above);
        if (below != 0) out.push_back(nearer_below ? above : below);
        return out;
    }

    bool take(Spots& spots, std::size_t i, IPoint at) const {
        const IPoint before = spots[i].at;
        spots[i].at = at;
        if (free_at(spots, i)) return true;
        spots[i].at = before;
        return false;
    }

    bool free_at(const Spots& spots, std::size_t i) const {
        const Spot& spot = spots[i];
        const IBox range = range_of(problem_, spot.shape, length_);
        if (spot.at.x < range.min_x || spot.at.x > range.max_x || spot.at.y < range.min_y ||
            spot.at.y > range.max_y)
            return false;
        for (std::size_t j = 0; j < spots.size(); ++j) {
            if (j == i) continue;
            const IPoint d = spot.at - spots[j].at;
            const IBox box = table_.box(spots[j].shape, spot.shape);
            if (d.x <= box.min_x || d.x >= box.max_x || d.y <= box.min_y || d.y >= box.max_y) continue;
            if (strictly_inside(table_.pair(spots[j].shape, spot.shape).loops, d)) return false;
        }
        return true;
    }

    const FitTable& table_;
    const Problem& problem_;
    const std::int64_t length_, step_;
    const IPoint origin_;
};

}  // namespace

Spots on_whole_places(const FitTable& table, const Prepared& prepared, Spots spots, std::int64_t length,
                      std::int64_t step, const std::function<bool()>& stop) {
    const Places places(table, prepared, length, step);
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < spots.size(); ++i)
        if (places.may_move(i)) order.push_back(i);
    const auto from_the_corner = [&](std::size_t i) {
        const IPoint p = places.place(spots[i]);
        return p.x + p.y;
    };
    // Farthest first: each makes room for those before it, then they draw back as far as they can.
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return from_the_corner(a) > from_the_corner(b); });
    for (int pass = 0; pass < kPasses; ++pass)
        for (const std::size_t i : order) {
            if (stop()) return spots;
            places.improve(spots, i, pass == 0 ? kSpread : 0);
        }
    std::reverse(order.begin(), order.end());
    for (const std::size_t i : order) {
        if (stop()) return spots;
        places.draw_back(spots, i);
    }
    return spots;
}

int whole_places(const Prepared& prepared, const Spots& spots, std::int64_t step) {
    const FitTable none(prepared.problem, false);
    const Places places(none, prepared, 0, step);
    int ways = 0;
    for (std::size_t i = 0; i < spots.size(); ++i)
        if (places.may_move(i)) ways += places.whole_ways(spots[i]);
    return ways;
}

}  // namespace spile::lay
