// Inside geom: what is certainly too far away to matter, told from boxes without a root or a division, so that only what
// is near is asked exactly. Never tells of anything that the exact question would have found.
#pragma once

#include "core/geom/edge_math.h"
#include "core/geom/measure_of.h"

namespace spile {

/// Holds the edge, within noise: the box about its chord and the chord's parallel through the top of the arc.
inline Box rough_box(const Edge& e) {
    const Vec2 rise = -e.bulge / 2 * left_of(e.b - e.a);
    return {{std::min(e.a.x, e.b.x) + std::min(rise.x, 0.0), std::min(e.a.y, e.b.y) + std::min(rise.y, 0.0)},
            {std::max(e.a.x, e.b.x) + std::max(rise.x, 0.0), std::max(e.a.y, e.b.y) + std::max(rise.y, 0.0)}};
}

/// More than `by` apart along x or y.
inline bool apart(const Box& a, const Box& b, double by) {
    return a.min.x - b.max.x > by || b.min.x - a.max.x > by || a.min.y - b.max.y > by ||
           b.min.y - a.max.y > by;
}
inline bool apart(const Box& box, Vec2 p, double by) {
    return apart(box, Box{p, p}, by);
}

/// More than `by` from everything in the box.
inline bool beyond(const Box& box, Vec2 p, double by) {
    const double x = std::max(std::max(box.min.x - p.x, p.x - box.max.x), 0.0);
    const double y = std::max(std::max(box.min.y - p.y, p.y - box.max.y), 0.0);
    return x * x + y * y > by * by;
}

/// True when p lies on the edge within `noise`. `box`: its rough box. Twice the noise of distances and boxes is left
/// before a place counts as far.
inline bool touches(const Edge& e, const Box& box, Vec2 p, double noise) {
    if (apart(box, p, 4 * noise)) return false;
    return distance(p, e.a) <= noise || distance(p, e.b) <= noise || nearest_on(e, p).distance <= noise;
}

}  // namespace spile
