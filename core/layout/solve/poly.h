// Polygons in whole units, as the search uses them.
#pragma once

#include <cstdint>
#include <vector>

namespace spile::lay {

/// Whole units: 1/16 um for goods, a fine part of the strip for research instances. Requires: |x|, |y| < 2^30, so that
/// products of differences fit 64 bits.
struct IPoint {
    std::int64_t x = 0;
    std::int64_t y = 0;

    bool operator==(const IPoint&) const = default;
    friend IPoint operator+(IPoint a, IPoint b) { return {a.x + b.x, a.y + b.y}; }
    friend IPoint operator-(IPoint a, IPoint b) { return {a.x - b.x, a.y - b.y}; }
    friend IPoint operator-(IPoint a) { return {-a.x, -a.y}; }
};

inline std::int64_t cross(IPoint a, IPoint b) {
    return a.x * b.y - a.y * b.x;
}
inline std::int64_t dot(IPoint a, IPoint b) {
    return a.x * b.x + a.y * b.y;
}

using Poly = std::vector<IPoint>;  ///< closed; counter-clockwise unless it is a hole
using Polys = std::vector<Poly>;

struct IBox {
    std::int64_t min_x = INT64_MAX, min_y = INT64_MAX, max_x = INT64_MIN, max_y = INT64_MIN;

    std::int64_t width() const { return max_x - min_x; }
    std::int64_t height() const { return max_y - min_y; }
    void add(IPoint p) {
        min_x = p.x < min_x ? p.x : min_x;
        min_y = p.y < min_y ? p.y : min_y;
        max_x = p.x > max_x ? p.x : max_x;
        max_y = p.y > max_y ? p.y : max_y;
    }
};

double area_of(const Poly& poly);  ///< signed, counter-clockwise positive, square units
IBox box_of(const Poly& poly);

/// Without repeated points, points on a straight run and spikes; empty when nothing is left.
Poly cleaned(const Poly& poly);

/// Without points that stand within `units` of the straight run past them, and without spikes thinner than that: what
/// rounding leaves behind where outlines are united.
Poly tidied(const Poly& poly, double units);

bool is_convex(const Poly& poly);  ///< of a cleaned counter-clockwise polygon
Poly hull_of(const Poly& poly);

Poly turned(const Poly& poly, int quarter_turns);  ///< about the origin, counter-clockwise
Poly negated(const Poly& poly);                    ///< every point through the origin; keeps its sense

/// The polygon made smaller by `units` all round (holes of a piece: material shrinks, so the hole grows). May fall into
/// parts or vanish. Corners stay sharp.
Polys shrunk(const Poly& poly, double units);

/// What of `a` does not lie in `b`. Requires: no part of the result has a hole.
Polys difference(const Poly& a, const Poly& b);

}  // namespace spile::lay
