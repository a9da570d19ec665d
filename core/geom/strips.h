// Inside geom: finds boxes that may touch, or hold a point, without trying all pairs. The plane is cut into strips across
// its longer side; a box is listed in every strip it reaches into.
#pragma once

#include <algorithm>
#include <vector>

#include "core/geom/vec2.h"

namespace spile {

class Strips {
  public:
    /// `slack` widens every box.
    Strips(std::vector<Box> boxes, double slack) : boxes_(std::move(boxes)) {
        Box all;
        for (Box& b : boxes_) {
            b.min = b.min - Vec2{slack, slack};
            b.max = b.max + Vec2{slack, slack};
            all.add(b);
        }
        const std::size_t n = boxes_.size();
        along_y_ = all.height() > all.width();
        low_ = along_y_ ? all.min.y : all.min.x;
        const double span = along_y_ ? all.height() : all.width();
        count_ = std::clamp<std::size_t>(n / 2, 1, 256);
        per_mm_ = span > 0 ? static_cast<double>(count_) / span : 0;
        start_.assign(count_ + 1, 0);
        first_.reserve(n);
        std::vector<std::size_t> last;
        last.reserve(n);
        for (const Box& b : boxes_) {
            first_.push_back(strip(along_y_ ? b.min.y : b.min.x));
            last.push_back(strip(along_y_ ? b.max.y : b.max.x));
            for (std::size_t s = first_.back(); s <= last.back(); ++s) ++start_[s + 1];
        }
        for (std::size_t s = 0; s < count_; ++s) start_[s + 1] += start_[s];
        items_.resize(start_[count_]);
        std::vector<std::size_t> fill(start_.begin(), start_.end() - 1);
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t s = first_[i]; s <= last[i]; ++s) items_[fill[s]++] = i;
    }

    /// Calls see(i, j), i < j, once for every pair of boxes that touch.
    template <class See>
    void each_pair(See see) const {
        for (std::size_t s = 0; s < count_; ++s)
            for (std::size_t x = start_[s]; x < start_[s + 1]; ++x)
                for (std::size_t y = x + 1; y < start_[s + 1]; ++y) {
                    const std::size_t i = items_[x];
                    const std::size_t j = items_[y];
                    if (s != std::max(first_[i], first_[j])) continue;
                    if (touch(boxes_[i], boxes_[j])) see(i, j);
                }
    }

    /// Calls see(i) for every box that holds p, until it returns true; true if one did.
    template <class See>
    bool any_at(Vec2 p, See see) const {
        const std::size_t s = strip(along_y_ ? p.y : p.x);
        for (std::size_t x = start_[s]; x < start_[s + 1]; ++x) {
            const Box& b = boxes_[items_[x]];
            if (p.x >= b.min.x && p.x <= b.max.x && p.y >= b.min.y && p.y <= b.max.y && see(items_[x]))
                return true;
        }
        return false;
    }

  private:
    static bool touch(const Box& a, const Box& b) {
        return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y;
    }
    std::size_t strip(double v) const {
        const double s = (v - low_) * per_mm_;
        return s > 0 ? std::min(static_cast<std::size_t>(std::min(s, 1e6)), count_ - 1) : 0;
    }

    std::vector<Box> boxes_;
    bool along_y_ = false;
    double low_ = 0;
    double per_mm_ = 0;
    std::size_t count_ = 1;
    std::vector<std::size_t> first_;  ///< strip of every box
    std::vector<std::size_t> start_;
    std::vector<std::size_t> items_;
};

}  // namespace spile
