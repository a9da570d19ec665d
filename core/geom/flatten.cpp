// Polygons within a resolution of an outline.
#include "core/geom/edge_math.h"
#include "core/geom/measure_of.h"

namespace spile {

using namespace edge_math;

namespace {

constexpr double most_pieces = 65536;

/// Pieces for an arc of which half a piece's sweep may be at most sqrt(y2).
std::size_t pieces_for(const Edge& e, double y2) {
    const double half_sweep = 2 * std::fabs(e.bulge) * atan_over(e.bulge);
    const double n = std::ceil(half_sweep / std::sqrt(y2));
    return n >= 1 && n <= most_pieces ? static_cast<std::size_t>(n)
           : n < 1                    ? 1
                                      : static_cast<std::size_t>(most_pieces);
}

/// Points of the arc strictly between its ends, each moved `out` to the right.
void add_chords(const Edge& e, double resolution, double out, std::vector<Vec2>& to) {
    // A chord departs by r (1 - cos y) <= r y^2 / 2, y half a piece's sweep.
    const std::size_t n = pieces_for(e, 2 * resolution / radius_of(e));
    for (std::size_t k = 1; k < n; ++k) {
        const double t = static_cast<double>(k) / static_cast<double>(n);
        to.push_back(point_at(e, t) - out * left_of(direction_at(e, t)));
    }
}

/// Corners of the tangents at the ends of each piece.
void add_tangents(const Edge& e, double resolution, double out, std::vector<Vec2>& to) {
    // A corner stands off by r (1 / cos y - 1) <= r (y^2/2) / (1 - y^2/2); solved for y^2.
    const double radius = radius_of(e);
    const double rho = resolution / radius;
    const std::size_t n = pieces_for(e, 2 * rho / (1 + rho));
    const double y = 2 * std::fabs(std::atan(e.bulge)) / static_cast<double>(n);
    const double off = radius * std::tan(y) * std::tan(y / 2);  // r (1/cos y - 1) without cancellation
    for (std::size_t k = 0; k < n; ++k) {
        const double t = (static_cast<double>(k) + 0.5) / static_cast<double>(n);
        to.push_back(point_at(e, t) - (off + out) * left_of(direction_at(e, t)));
    }
}

void add_edge(const Edge& e, double resolution, bool outward, double noise, std::vector<Vec2>& to) {
    to.push_back(e.a);
    if (flat(e) || e.a == e.b) return;
    if (!(resolution > noise)) resolution = noise > 0 ? noise : 1;
    if (outward && e.bulge > 0)
        add_tangents(e, resolution, noise, to);
    else
        add_chords(e, resolution, outward ? noise : 0, to);
}

}  // namespace

std::vector<Vec2> flatten(const Outline& outline, Resolution resolution, bool outward) {
    std::vector<Vec2> points;
    const double noise = noise_mm(largest(outline));
    for (std::size_t i = 0; i < outline.size(); ++i)
        add_edge(outline.edge(i), resolution.mm, outward, noise, points);
    return points;
}

std::vector<Vec2> flatten(const Path& path, Resolution resolution) {
    std::vector<Vec2> points;
    double most = 0;
    for (const Vertex& v : path.vertices) most = std::fmax(most, largest(v.p));
    for (std::size_t i = 0; i < path.edge_count(); ++i)
        add_edge(path.edge(i), resolution.mm, false, noise_mm(most), points);
    if (!path.vertices.empty()) points.push_back(path.vertices.back().p);
    return points;
}

}  // namespace spile
