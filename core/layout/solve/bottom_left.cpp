#include "core/layout/solve/bottom_left.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace spile::lay {
namespace {

struct Interval {
    double low, high;  ///< open: the ends themselves are free
};

/// Crossings of loops with the line x = `at` (or y = `at` when `along_x`), as forbidden intervals on it. On an outline the
/// side with larger `at` counts.
void forbidden_on_line(const Polys& loops, std::int64_t at, bool along_x, std::int64_t shift,
                       std::vector<double>& scratch, std::vector<Interval>& into) {
    scratch.clear();
    for (const Poly& loop : loops)
        for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
            const IPoint p = loop[i], q = loop[i + 1 == n ? 0 : i + 1];
            const std::int64_t pu = along_x ? p.y : p.x, qu = along_x ? q.y : q.x;
            if ((pu <= at) == (qu <= at)) continue;
            const double pv = static_cast<double>(along_x ? p.x : p.y),
                         qv = static_cast<double>(along_x ? q.x : q.y);
            const double t = static_cast<double>(at - pu) / static_cast<double>(qu - pu);
            scratch.push_back(pv + t * (qv - pv));
        }
    std::sort(scratch.begin(), scratch.end());
    const double move = static_cast<double>(shift);
    for (std::size_t i = 0; i + 1 < scratch.size(); i += 2)
        into.push_back({scratch[i] + move, scratch[i + 1] + move});
}

class Filler {
  public:
    Filler(const FitTable& table, const Spots& kept, const std::vector<char>& is_kept)
        : table_(table), problem_(table.problem()), spots_(kept) {
        for (std::size_t i = 0; i < kept.size(); ++i)
            if (is_kept[i]) placed_.push_back(static_cast<int>(i));
    }

    void place(int item) {
        Spot best;
        bool any = false;
        for (int shape : problem_.items[item].shapes) {
            const IBox range = range_of(problem_, shape, 0);
            if (range.min_y > range.max_y) continue;
            const IPoint at = first_free(shape, range);
            const auto far = [&](int s, IPoint p) { return p.x + problem_.boxes[s].max_x; };
            if (!any || far(shape, at) < far(best.shape, best.at)) best = {shape, at};
            any = true;
        }
        spots_[item] = best;
        placed_.push_back(item);
    }

    Spots take() { return std::move(spots_); }

  private:
    /// The least free y on the line x, if any.
    bool free_on(int shape, const IBox& range, std::int64_t x, std::int64_t& y) {
        blocked_.clear();
        for (int j : placed_) {
            const Spot& s = spots_[j];
            const IBox box = table_.box(s.shape, shape);
            if (x < s.at.x + box.min_x || x >= s.at.x + box.max_x) continue;
            forbidden_on_line(table_.pair(s.shape, shape).loops, x - s.at.x, false, s.at.y, scratch_,
                              blocked_);
        }
        std::sort(blocked_.begin(), blocked_.end(), [](Interval a, Interval b) { return a.low < b.low; });
        double free = static_cast<double>(range.min_y);
        for (const Interval& b : blocked_) {
            if (std::ceil(free) <= b.low) break;
            free = std::max(free, b.high);
        }
        y = static_cast<std::int64_t>(std::ceil(free));
        return y <= range.max_y;
    }

    IPoint first_free(int shape, const IBox& range) {
        const std::int64_t step = std::max<std::int64_t>(1, problem_.boxes[shape].width() / 16);
        std::int64_t x = range.min_x, y = 0;
        if (!free_on(shape, range, x, y)) {
            while (!free_on(shape, range, x += step, y)) {
            }
            std::int64_t blocked = x - step, free = x, y_free = y;
            for (int halving = 0; halving < 8 && free - blocked > 1; ++halving) {
                const std::int64_t middle = blocked + (free - blocked) / 2;
                if (free_on(shape, range, middle, y)) {
                    free = middle;
                    y_free = y;
                } else {
                    blocked = middle;
                }
            }
            x = free;
            y = y_free;
        }
        for (int slide = 0; slide < 20; ++slide) {
            const std::int64_t left = slid(shape, {x, y}, range.min_x, true);
            const std::int64_t down = slid(shape, {left, y}, range.min_y, false);
            if (left == x && down == y) break;
            x = left;
            y = down;
        }
        return {x, y};
    }

    /// How far a shape at p can slide towards smaller x (or y) before it meets another or `least`.
    std::int64_t slid(int shape, IPoint p, std::int64_t least, bool along_x) {
        blocked_.clear();
        const double here = static_cast<double>(along_x ? p.x : p.y);
        for (int j : placed_) {
            const Spot& s = spots_[j];
            const IBox box = table_.box(s.shape, shape);
            const IPoint d = p - s.at;
            const bool beside = along_x ? d.y < box.min_y || d.y >= box.max_y || d.x <= box.min_x
                                        : d.x < box.min_x || d.x >= box.max_x || d.y <= box.min_y;
            if (beside) continue;
            forbidden_on_line(table_.pair(s.shape, shape).loops, along_x ? d.y : d.x, along_x,
                              along_x ? s.at.x : s.at.y, scratch_, blocked_);
        }
        double stop = static_cast<double>(least);
        for (const Interval& b : blocked_)
            // A forbidden stretch that ends at or before here bounds the slide; one that reaches past it (the edge lies
            // on the line) forbids it.
            if (b.low < here) stop = std::max(stop, b.high);
        return std::min(along_x ? p.x : p.y, static_cast<std::int64_t>(std::ceil(stop)));
    }

    const FitTable& table_;
    const Problem& problem_;
    Spots spots_;
    std::vector<int> placed_;
    std::vector<double> scratch_;
    std::vector<Interval> blocked_;
};

}  // namespace

Spots bottom_left(const FitTable& table, const std::vector<int>& order, const Spots& kept,
                  const std::vector<char>& is_kept, const std::function<bool()>& stop) {
    Filler filler(table, kept, is_kept);
    for (int item : order) {
        if (is_kept[item]) continue;
        if (stop && stop()) return {};
        filler.place(item);
    }
    return filler.take();
}

Spots bottom_left(const FitTable& table, const std::vector<int>& order, const std::function<bool()>& stop) {
    const std::size_t n = table.problem().items.size();
    return bottom_left(table, order, Spots(n), std::vector<char>(n, 0), stop);
}

std::vector<std::vector<int>> usual_orders(const Problem& problem) {
    const std::size_t n = problem.items.size();
    std::vector<std::vector<double>> keys(5, std::vector<double>(n));
    for (std::size_t i = 0; i < n; ++i) {
        const IBox& box = problem.box_of_item(i);
        const double w = static_cast<double>(box.width()), h = static_cast<double>(box.height());
        keys[0][i] = w * h;
        keys[1][i] = w;
        keys[2][i] = area_of(problem.shapes[problem.items[i].shapes[0]].outer);
        keys[3][i] = h;
        keys[4][i] = w + h;
    }
    std::vector<std::vector<int>> orders;
    for (const auto& key : keys) {
        std::vector<int> order(n);
        std::iota(order.begin(), order.end(), 0);
        std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return key[a] > key[b]; });
        if (std::find(orders.begin(), orders.end(), order) == orders.end())
            orders.push_back(std::move(order));
    }
    return orders;
}

}  // namespace spile::lay
