#include "core/layout/solve/bottom_left.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>

#include "core/layout/solve/along_strip.h"

namespace spile::lay {
namespace {

constexpr std::int64_t kNowhere = INT64_MAX;

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
        : table_(table),
          problem_(table.problem()),
          spots_(kept),
          near_(problem_),
          room_(problem_),
          profiles_(problem_.shapes.size()) {
        for (std::size_t i = 0; i < kept.size(); ++i)
            if (is_kept[i]) put_down(static_cast<int>(i));
    }

    /// False when the item's cloth leaves it no place across the strip.
    bool place(int item) {
        Spot best;
        bool any = false;
        for (int shape : problem_.items[item].shapes) {
            const IBox range = range_of(problem_, shape, 0);
            if (range.min_y > range.max_y) continue;
            const IPoint at =
                begun(item) ? first_free_of_cloth(item, shape, range) : first_free(shape, range);
            const auto far = [&](int s, IPoint p) { return p.x + problem_.boxes[s].max_x; };
            if (at.x == kNowhere) continue;
            if (!any || far(shape, at) < far(best.shape, best.at)) best = {shape, at};
            any = true;
        }
        if (!any) return false;
        spots_[item] = best;
        put_down(item);
        return true;
    }

    Spots take() { return std::move(spots_); }

  private:
    /// Where the table keeps none, those of one item's places are kept for as long as it is looked at.
    const FitTable::Pair& pair(int fixed, int moving) {
        if (table_.keeps()) return table_.pair(fixed, moving);
        if (moving != moving_) {
            for (const int at : made_) pairs_[static_cast<std::size_t>(at)].reset();
            made_.clear();
            moving_ = moving;
            pairs_.resize(problem_.shapes.size());
        }
        std::unique_ptr<FitTable::Pair>& slot = pairs_[static_cast<std::size_t>(fixed)];
        if (!slot) {
            slot = table_.made(fixed, moving);
            made_.push_back(fixed);
        }
        return *slot;
    }

    void put_down(int item) {
        near_.add(item, spots_[item]);
        room_.take(spots_[item]);
        const int cloth = problem_.items[item].cloth;
        if (cloth >= 0) began_.emplace(cloth, spots_[item].at - problem_.items[item].in_cloth);
    }
    bool begun(int item) const { return began_.count(problem_.items[item].cloth) > 0; }

    /// The least x and there the least y of the item's lattice that are free.
    IPoint first_free_of_cloth(int item, int shape, const IBox& range) {
        const Problem::Lattice& l = problem_.lattice;
        const IPoint base = began_.at(problem_.items[item].cloth) + problem_.items[item].in_cloth;
        // The first value not below `least` that is whole steps from `v`.
        const auto from = [](std::int64_t v, std::int64_t step, std::int64_t least) {
            const std::int64_t rest = ((least - v) % step + step) % step;
            return rest == 0 ? least : least + step - rest;
        };
        if (l.across == 0) {
            for (std::int64_t x = from(base.x, l.along, range.min_x), y = 0;; x += l.along)
                if (free_on(shape, range, x, y)) return {x, y};
        }
        IPoint best{kNowhere, 0};
        for (std::int64_t y = from(base.y, l.across, range.min_y); y <= range.max_y; y += l.across) {
            const std::int64_t x = first_x_on(shape, range.min_x, y, base, best.x);
            if (x < best.x) best = {x, y};
        }
        return best;
    }

    /// The least free x of the lattice on the line y, or `below` when there is none less.
    std::int64_t first_x_on(int shape, std::int64_t least, std::int64_t y, IPoint base, std::int64_t below) {
        const Problem::Lattice& l = problem_.lattice;
        blocked_.clear();
        for (int j : near_.all()) {
            const Spot& s = spots_[j];
            const IBox box = table_.box(s.shape, shape);
            if (y < s.at.y + box.min_y || y >= s.at.y + box.max_y) continue;
            forbidden_on_line(pair(s.shape, shape).loops, y - s.at.y, true, s.at.x, scratch_, blocked_);
        }
        std::sort(blocked_.begin(), blocked_.end(), [](Interval a, Interval b) { return a.low < b.low; });
        const std::int64_t row = l.across > 0 ? (y - base.y) / l.across : 0;
        const auto next = [&](double v) {
            const std::int64_t whole = static_cast<std::int64_t>(std::ceil(v));
            if (l.along == 0) return whole;
            const std::int64_t rest = ((whole - base.x - row * l.drop) % l.along + l.along) % l.along;
            return rest == 0 ? whole : whole + l.along - rest;
        };
        std::int64_t x = next(static_cast<double>(least));
        for (const Interval& b : blocked_) {
            // A gap between two forbidden stretches serves only where a place of the lattice falls into it.
            if (static_cast<double>(x) <= b.low || static_cast<double>(x) >= b.high) continue;
            x = next(b.high);
            if (x >= below) return below;
        }
        return std::min(x, below);
    }

    /// The least free y on the line x, if any.
    bool free_on(int shape, const IBox& range, std::int64_t x, std::int64_t& y) {
        blocked_.clear();
        for (int j :
             near_.around(x + problem_.shapes[shape].box.min_x, x + problem_.shapes[shape].box.max_x)) {
            const Spot& s = spots_[j];
            const IBox box = table_.box(s.shape, shape);
            if (x < s.at.x + box.min_x || x >= s.at.x + box.max_x) continue;
            forbidden_on_line(pair(s.shape, shape).loops, x - s.at.x, false, s.at.y, scratch_, blocked_);
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
        Profile& profile = profiles_[static_cast<std::size_t>(shape)];
        if (profile.empty()) profile = profile_of(problem_.shapes[static_cast<std::size_t>(shape)]);
        std::int64_t x = range.min_x, y = 0;
        const auto free_at = [&](std::int64_t at) {
            return room_.may_hold(profile, at) && free_on(shape, range, at, y);
        };
        if (!free_at(x)) {
            while (!free_at(x += step)) {
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
        const IBox& own = problem_.shapes[shape].box;
        for (int j : near_.around(along_x ? least + own.min_x : p.x + own.min_x, p.x + own.max_x)) {
            const Spot& s = spots_[j];
            const IBox box = table_.box(s.shape, shape);
            const IPoint d = p - s.at;
            const bool beside = along_x ? d.y < box.min_y || d.y >= box.max_y || d.x <= box.min_x
                                        : d.x < box.min_x || d.x >= box.max_x || d.y <= box.min_y;
            if (beside) continue;
            forbidden_on_line(pair(s.shape, shape).loops, along_x ? d.y : d.x, along_x,
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
    AlongStrip near_;
    RoomAcross room_;
    std::vector<Profile> profiles_;                       ///< by shape, made when first asked for
    std::map<int, IPoint> began_;                         ///< by cloth
    std::vector<std::unique_ptr<FitTable::Pair>> pairs_;  ///< with moving_, by fixed shape
    std::vector<int> made_;
    int moving_ = -1;
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
        if (!filler.place(item)) return {};
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
