#include "core/geom/outline.h"

#include <algorithm>

#include "core/geom/edge_math.h"
#include "core/geom/tolerance.h"

namespace spile {

using namespace edge_math;

Arc arc_of(const Edge& edge) {
    const Vec2 centre = centre_of(edge);
    const Vec2 from = edge.a - centre;
    return {centre, radius_of(edge), std::atan2(from.y, from.x), 4 * std::atan(edge.bulge)};
}

Vec2 centre_of(const Edge& edge) {
    const double s = edge.bulge;
    return lerp(edge.a, edge.b, 0.5) + (1 - s * s) / (4 * s) * left_of(edge.b - edge.a);
}

double radius_of(const Edge& edge) {
    const double s = std::fabs(edge.bulge);
    return distance(edge.a, edge.b) * (1 + s * s) / (4 * s);
}

Vec2 midpoint_of(const Edge& edge) {
    return lerp(edge.a, edge.b, 0.5) - edge.bulge / 2 * left_of(edge.b - edge.a);
}

Vec2 point_at(const Edge& edge, double t) {
    if (t <= 0) return edge.a;
    if (t >= 1) return edge.b;
    if (flat(edge)) return lerp(edge.a, edge.b, t);
    // The part's chord: length chord sin(t phi/2) / sin(phi/2), turned by (t - 1) phi/2 from the whole chord.
    const double s = edge.bulge;
    const double half = 2 * std::atan(s);
    const double k = std::sin(t * half) * (1 + s * s) / (2 * s);
    const double turn = (t - 1) * half;
    const double c = k * std::cos(turn);
    const double d = k * std::sin(turn);
    const Vec2 chord = edge.b - edge.a;
    return edge.a + Vec2{c * chord.x - d * chord.y, d * chord.x + c * chord.y};
}

Vec2 direction_at(const Edge& edge, double t) {
    if (t <= 0) return start_tangent(edge);
    if (t >= 1) return end_tangent(edge);
    const Vec2 u = unit(edge.b - edge.a);
    if (flat(edge)) return u;
    const double turn = (4 * t - 2) * std::atan(edge.bulge);
    const double c = std::cos(turn);
    const double s = std::sin(turn);
    return {c * u.x - s * u.y, s * u.x + c * u.y};
}

double length_of(const Edge& edge) {
    const double s = edge.bulge;
    return distance(edge.a, edge.b) * (1 + s * s) * atan_over(s);
}

Edge reversed(const Edge& edge) {
    return {edge.b, edge.a, -edge.bulge, edge.tag};
}

double bulge_from_rise(double chord, double rise) {
    return 2 * rise / chord;
}

double bulge_through(Vec2 a, Vec2 p, Vec2 b) {
    // The chords turn by half the sweep at p; the bulge is the tangent of half of that.
    const Vec2 u = p - a;
    const Vec2 v = b - p;
    const double turn = cross(u, v);
    const double noise = noise_mm(std::max({largest(a), largest(p), largest(b)}));
    if (std::fabs(turn) <= noise * distance(a, b)) return 0;
    return turn / (norm(u) * norm(v) + dot(u, v));
}

Outline circle(Vec2 centre, double radius, int tag) {
    return {{{centre + Vec2{radius, 0}, 1, tag}, {centre - Vec2{radius, 0}, 1, tag}}};
}

Outline rectangle(Vec2 min, Vec2 max, int first_tag) {
    return polygon({min, {max.x, min.y}, max, {min.x, max.y}}, first_tag);
}

Outline polygon(const std::vector<Vec2>& corners, int first_tag) {
    Outline out;
    out.vertices.reserve(corners.size());
    for (const Vec2& p : corners) out.vertices.push_back({p, 0, first_tag++});
    return out;
}

Outline reversed(const Outline& outline) {
    const std::size_t n = outline.size();
    Outline out;
    out.vertices.reserve(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Vertex& edge = outline.vertices[n - 1 - i];
        out.vertices.push_back({outline.vertices[(n - i) % n].p, -edge.bulge, edge.tag});
    }
    return out;
}

}  // namespace spile
