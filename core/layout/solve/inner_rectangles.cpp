#include "core/layout/solve/inner_rectangles.h"

#include <algorithm>
#include <cmath>

namespace spile::lay {
namespace {

constexpr int kHeights = 8;  // tried for a band in a shape that is not convex
constexpr int kHalvings = 12;

struct Run {
    double from, to;
};

class Bands {
  public:
    explicit Bands(const Shape& shape) : shape_(shape), loops_{shape.outer} {
        loops_.insert(loops_.end(), shape.holes.begin(), shape.holes.end());
    }

    /// The longest stretch along the goods on which the band low..high lies inside.
    double longest(double low, double high) {
        if (is_convex()) return between_sides(low, high);
        runs_.clear();
        for (const Poly& loop : loops_)
            for (std::size_t i = 0, n = loop.size(); i < n; ++i)
                if (const Run run = taken(loop[i], loop[i + 1 == n ? 0 : i + 1], low, high);
                    run.from <= run.to)
                    runs_.push_back(run);
        std::sort(runs_.begin(), runs_.end(), [](const Run& a, const Run& b) { return a.from < b.from; });
        double best = 0, reached = runs_.empty() ? 0 : runs_.front().from;
        for (const Run& run : runs_) {
            if (run.from - reached > best && inside(0.5 * (reached + run.from), 0.5 * (low + high)))
                best = run.from - reached;
            reached = std::fmax(reached, run.to);
        }
        return best;
    }

    /// Of a convex shape: the sides that go up are to the right of it, those that go down to the left.
    double between_sides(double low, double high) const {
        double left = -1e300, right = 1e300;
        for (std::size_t i = 0, n = shape_.outer.size(); i < n; ++i) {
            const IPoint p = shape_.outer[i], q = shape_.outer[i + 1 == n ? 0 : i + 1];
            const Run run = taken(p, q, low, high);
            if (q.y > p.y) right = std::fmin(right, run.from);
            if (q.y < p.y) left = std::fmax(left, run.to);
        }
        return right - left;
    }

    bool is_convex() const { return shape_.convex && shape_.holes.empty(); }

    double longest_of_width(double width) {
        const double low = static_cast<double>(shape_.box.min_y);
        const double room = static_cast<double>(shape_.box.height()) - width;
        if (room < 0) return 0;
        const auto at = [&](double y) { return longest(y, y + width); };
        if (is_convex()) {
            // Of a convex shape the stretch is a concave function of the height.
            double from = low, to = low + room;
            double best = std::fmax(at(from), at(to));
            for (int k = 0; k < kHalvings && to > from; ++k) {
                const double a = from + 0.4 * (to - from), b = to - 0.4 * (to - from);
                const double at_a = at(a), at_b = at(b);
                best = std::fmax(best, std::fmax(at_a, at_b));
                (at_a < at_b ? from : to) = at_a < at_b ? a : b;
            }
            return best;
        }
        double best = 0;
        for (int k = 0; k <= kHeights; ++k) best = std::fmax(best, at(low + room * k / kHeights));
        for (const Poly& loop : loops_)
            for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
                const IPoint p = loop[i], q = loop[i + 1 == n ? 0 : i + 1];
                if (p.y != q.y) continue;
                const double y = static_cast<double>(p.y);
                for (const double from : {y, y - width})
                    if (from >= low && from <= low + room) best = std::fmax(best, at(from));
            }
        return best;
    }

  private:
    /// What an edge takes from the band; from 1e300 to -1e300 when nothing.
    static Run taken(IPoint p, IPoint q, double low, double high) {
        double px = static_cast<double>(p.x), py = static_cast<double>(p.y);
        double qx = static_cast<double>(q.x), qy = static_cast<double>(q.y);
        if (py > qy) {
            std::swap(px, qx);
            std::swap(py, qy);
        }
        if (qy <= low || py >= high) return {1e300, -1e300};
        const double slope = qy > py ? (qx - px) / (qy - py) : 0;
        const double from = py < low ? px + slope * (low - py) : px;
        const double to = qy > high ? px + slope * (high - py) : qx;
        return {std::fmin(from, to), std::fmax(from, to)};
    }

    bool inside(double x, double y) const {
        bool in = false;
        for (const Poly& loop : loops_)
            for (std::size_t i = 0, n = loop.size(); i < n; ++i) {
                const IPoint p = loop[i], q = loop[i + 1 == n ? 0 : i + 1];
                const double py = static_cast<double>(p.y), qy = static_cast<double>(q.y);
                if ((py <= y) == (qy <= y)) continue;
                const double px = static_cast<double>(p.x), qx = static_cast<double>(q.x);
                if (px + (y - py) / (qy - py) * (qx - px) < x) in = !in;
            }
        return in;
    }

    const Shape& shape_;
    Polys loops_;
    std::vector<Run> runs_;
};

}  // namespace

std::vector<InnerRectangle> inner_rectangles(const Shape& shape, std::vector<std::int64_t> widths) {
    std::sort(widths.begin(), widths.end(), std::greater<>());
    widths.erase(std::unique(widths.begin(), widths.end()), widths.end());
    Bands bands(shape);
    std::vector<InnerRectangle> out;
    for (const std::int64_t width : widths) {
        if (width <= 0 || width > shape.box.height()) continue;
        const auto along =
            static_cast<std::int64_t>(std::floor(bands.longest_of_width(static_cast<double>(width))));
        if (along > 0 && (out.empty() || along > out.back().along)) out.push_back({along, width});
    }
    std::reverse(out.begin(), out.end());
    return out;
}

}  // namespace spile::lay
