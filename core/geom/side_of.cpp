// Which side of an outline a point lies on, and the nearest place on it.
#include <limits>

#include "core/geom/edge_math.h"
#include "core/geom/far.h"
#include "core/geom/measure_of.h"
#include "core/geom/parity.h"

namespace spile {

using namespace edge_math;

namespace {

/// On a tie of a point with a chord the point counts as moved by an infinitely small step up, and a yet smaller one
/// to the right; chord and segment tests agree on that, so no point falls between them.
bool left_of_chord(Vec2 a, Vec2 b, Vec2 p) {
    const double side = cross(b - a, p - a);
    if (side != 0) return side > 0;
    if (a.x != b.x) return b.x > a.x;
    return b.y < a.y;
}

/// How far up and down every edge reaches.
std::vector<Box> rows_of(const Outline& outline) {
    std::vector<Box> rows;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Box box = rough_box(outline.edge(i));
        rows.push_back({{0, box.min.y}, {0, box.max.y}});
    }
    return rows;
}

}  // namespace

bool crosses_ray(const Edge& e, Vec2 p) {
    const bool up_a = e.a.y > p.y;
    const bool up_b = e.b.y > p.y;
    const bool bent = !flat(e);
    if (up_a == up_b && !bent) return false;
    bool odd = false;
    const bool left = left_of_chord(e.a, e.b, p);
    if (up_a != up_b) odd = left == up_b;
    // Between chord and arc the answer is the other one.
    if (bent && left != (e.bulge > 0) && scaled_power(e, p) < 0) odd = !odd;
    return odd;
}

Parity::Parity(const Outline& outline, double noise) : rows_(rows_of(outline), noise) {
    for (std::size_t i = 0; i < outline.size(); ++i) edges_.push_back(outline.edge(i));
}

bool Parity::odd(Vec2 p) const {
    bool odd = false;
    rows_.any_at({0, p.y}, [&](std::size_t i) {
        odd ^= crosses_ray(edges_[i], p);
        return false;
    });
    return odd;
}

Side side_of(const Outline& outline, Vec2 p) {
    if (outline.empty() || !finite(p)) return Side::outside;
    const double noise = noise_mm(std::max(largest(outline), largest(p)));
    bool odd = false;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge e = outline.edge(i);
        const Box box = rough_box(e);
        if (box.min.y - p.y > 4 * noise || p.y - box.max.y > 4 * noise) continue;
        if (touches(e, box, p, noise)) return Side::on;
        odd ^= crosses_ray(e, p);
    }
    return odd ? Side::inside : Side::outside;
}

Side side_of(const Region& region, Vec2 p) {
    const Side outer = side_of(region.outer, p);
    if (outer != Side::inside) return outer;
    for (const Outline& hole : region.holes) {
        const Side side = side_of(hole, p);
        if (side == Side::on) return Side::on;
        if (side == Side::inside) return Side::outside;
    }
    return Side::inside;
}

Nearest nearest_on(const Edge& edge, Vec2 p) {
    Nearest best;
    const double to_a = distance(p, edge.a);
    const double to_b = distance(p, edge.b);
    best.at = to_b < to_a ? edge.b : edge.a;
    best.distance = to_b < to_a ? to_b : to_a;
    if (edge.a == edge.b || !foot_on_edge(edge, p)) return best;
    if (!flat(edge) && scaled_from_centre(edge, p) == Vec2{}) {
        const Vec2 mid = midpoint_of(edge);
        return {mid, 0, distance(p, mid)};
    }
    const double off = right_of_carrier(edge, p);
    if (std::fabs(off) < best.distance) {
        best.distance = std::fabs(off);
        best.at = p - off * right_normal_at(edge, p);
    }
    return best;
}

Nearest nearest_on(const Outline& outline, Vec2 p) {
    Nearest best;
    best.distance = std::numeric_limits<double>::infinity();
    // No farther than the nearest vertex: what lies beyond that is not asked.
    double to_vertex2 = best.distance, most = largest(p);
    for (const Vertex& v : outline.vertices) {
        to_vertex2 = std::min(to_vertex2, norm2(v.p - p));
        most = std::max(most, largest(v.p));
    }
    const double reach = std::sqrt(to_vertex2) + 4 * noise_mm(most);
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Edge e = outline.edge(i);
        if (beyond(rough_box(e), p, reach)) continue;
        const Nearest here = nearest_on(e, p);
        if (here.distance < best.distance) best = {here.at, i, here.distance};
    }
    return best;
}

}  // namespace spile
