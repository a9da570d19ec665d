// Outlines: closed chains of straight edges and circular arcs, kept exact.
#pragma once

#include <vector>

#include "core/geom/vec2.h"

namespace spile {

/// One edge of a chain: straight (bulge 0) or an arc. bulge = tan(sweep / 4), positive when the arc turns left
/// (counter-clockwise) from a to b, so it lies to the right of the chord. Requires |bulge| <= 1 (at most half a circle).
/// This is the bulge of DXF polylines (group code 42).
struct Edge {
    Vec2 a;
    Vec2 b;
    double bulge = 0;
    int tag = 0;  ///< whose edge this is; carried through every operation

    bool straight() const { return bulge == 0; }
};

/// A vertex and the edge that leaves it.
struct Vertex {
    Vec2 p;
    double bulge = 0;  ///< of the edge to the next vertex
    int tag = 0;       ///< of the edge to the next vertex

    bool operator==(const Vertex&) const = default;
};

/// Closed chain: the last vertex joins the first. Material lies on the left of a counter-clockwise outline.
struct Outline {
    std::vector<Vertex> vertices;

    std::size_t size() const { return vertices.size(); }
    bool empty() const { return vertices.empty(); }
    Edge edge(std::size_t i) const {
        const Vertex& v = vertices[i];
        const Vertex& w = vertices[i + 1 == vertices.size() ? 0 : i + 1];
        return {v.p, w.p, v.bulge, v.tag};
    }
    bool operator==(const Outline&) const = default;
};

/// An open chain, e.g. a stitch line that stops or a slit.
struct Path {
    std::vector<Vertex> vertices;  ///< the last vertex's bulge and tag are unused

    std::size_t edge_count() const { return vertices.empty() ? 0 : vertices.size() - 1; }
    Edge edge(std::size_t i) const {
        return {vertices[i].p, vertices[i + 1].p, vertices[i].bulge, vertices[i].tag};
    }
};

/// A piece of surface: one counter-clockwise outer outline, clockwise holes inside it.
struct Region {
    Outline outer;
    std::vector<Outline> holes;
};

/// A circular arc by its circle. Start and sweep are exact enough for drawing; decisions use the bulge.
struct Arc {
    Vec2 centre;
    double radius = 0;
    double start_rad = 0;
    double sweep_rad = 0;  ///< signed, counter-clockwise positive
};

Arc arc_of(const Edge& edge);                   ///< Requires: !edge.straight()
Vec2 centre_of(const Edge& edge);               ///< Requires: !edge.straight(); only + - * / sqrt
double radius_of(const Edge& edge);             ///< Requires: !edge.straight(); only + - * / sqrt
Vec2 midpoint_of(const Edge& edge);             ///< halfway along the edge; exact for arcs up to noise
Vec2 point_at(const Edge& edge, double t);      ///< t in [0, 1] of the length
Vec2 direction_at(const Edge& edge, double t);  ///< unit tangent
double length_of(const Edge& edge);
Edge reversed(const Edge& edge);

/// The bulge of an arc with chord c and signed rise h (h > 0 bulges to the right of a->b): 2 h / c.
/// From r = c^2 / 8h + h / 2 (chord and rise). Requires: chord > 0.
double bulge_from_rise(double chord, double rise);
/// The bulge of the arc from a to b through p; 0 when p lies on the chord within noise.
/// When p needs more than half a circle the value exceeds 1 in size; split first.
double bulge_through(Vec2 a, Vec2 p, Vec2 b);

Outline circle(Vec2 centre, double radius, int tag = 0);  ///< counter-clockwise, two half circles
Outline rectangle(Vec2 min, Vec2 max,
                  int first_tag = 0);  ///< counter-clockwise, tags first_tag .. +3 from the bottom edge
Outline polygon(const std::vector<Vec2>& corners, int first_tag = 0);

Outline reversed(const Outline& outline);

}  // namespace spile
