#include "core/geom/measure_of.h"

#include "core/geom/edge_math.h"

namespace spile {

using namespace edge_math;

double area_mm2(const Outline& outline) {
    if (outline.empty()) return 0;
    // From the first vertex, so that a far origin costs nothing.
    const Vec2 o = outline.vertices[0].p;
    double twice = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge e = outline.edge(i);
        twice += cross(e.a - o, e.b - o) + 2 * norm2(e.b - e.a) * segment_area_over_chord2(e.bulge);
    }
    return twice / 2;
}

double area_mm2(const Region& region) {
    double area = std::fabs(area_mm2(region.outer));
    for (const Outline& hole : region.holes) area -= std::fabs(area_mm2(hole));
    return area;
}

double length_mm(const Outline& outline) {
    double sum = 0;
    for (std::size_t i = 0; i < outline.size(); ++i) sum += length_of(outline.edge(i));
    return sum;
}

double length_mm(const Path& path) {
    double sum = 0;
    for (std::size_t i = 0; i < path.edge_count(); ++i) sum += length_of(path.edge(i));
    return sum;
}

Box box_of(const Edge& edge) {
    Box box;
    box.add(edge.a);
    box.add(edge.b);
    if (flat(edge)) return box;
    // Farthest out inside the arc only where its direction turns over.
    const Vec2 from = start_tangent(edge), to = end_tangent(edge);
    Vec2 at;
    if ((from.x < 0) != (to.x < 0) && extreme_along(edge, {1, 0}, at)) box.add(Vec2{at.x, edge.a.y});
    if ((from.y < 0) != (to.y < 0) && extreme_along(edge, {0, 1}, at)) box.add(Vec2{edge.a.x, at.y});
    return box;
}

Box box_of(const Outline& outline) {
    Box box;
    for (std::size_t i = 0; i < outline.size(); ++i) box.add(box_of(outline.edge(i)));
    return box;
}

Box box_of(const Region& region) {
    return box_of(region.outer);
}

}  // namespace spile
