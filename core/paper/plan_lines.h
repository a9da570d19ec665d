// Inside of the marking plan: outlines read as corners, straight strokes and curves, before any size is rounded.
#pragma once

#include <optional>
#include <vector>

#include "core/geom/outline.h"
#include "core/geom/tolerance.h"
#include "core/paper/marking_plan.h"

namespace spile::paper {

/// What one stroke of the chalk follows: a straight edge, or arcs that run on into one another.
struct RawStroke {
    std::vector<Edge> edges;

    bool straight() const { return edges.size() == 1 && edges[0].straight(); }
    Vec2 from() const { return edges.front().a; }
    Vec2 to() const { return edges.back().b; }
};

struct RawRound {
    std::size_t stroke = 0;  ///< the corner is where this stroke begins
    double radius = 0;
    Vec2 centre;
    double touch_before = 0, touch_after = 0;  ///< from the square corner to where the round begins and ends
};

struct RawLine {
    Cut cut = Cut::through;
    bool hole = false;
    bool closed = true;
    std::vector<RawStroke> strokes;
    std::vector<RawRound> rounds;
    std::vector<Edge> edges;  ///< as given
};

/// Below this, two places are one to the workshop: what is collinear or tangent within it counts as such.
inline constexpr Resolution kSame{0.01};

std::vector<Edge> edges_of(const Outline& outline);

/// Straight edges in line are joined; arcs of at most `disc_most_mm` that are tangent to what they join on both sides
/// (straight edges, or arcs of at least twice the radius) become rounds of the corner where those would meet.
RawLine raw_line(std::vector<Edge> edges, bool closed, double disc_most_mm);

/// The same, begun at another stroke. Requires: closed.
RawLine begun_at(const RawLine& line, std::size_t stroke);
RawLine moved(const Rigid& move, const RawLine& line);

/// The stretches of `backing` that do not lie on `face`, each a chain; `closed` when the whole outline is one.
std::vector<RawLine> lines_off(const Outline& backing, const Outline& face, double disc_most_mm);

Vec2 nearest_of(const Edge& edge, Vec2 p);
double distance_to(const Edge& edge, Vec2 p);
double distance_to(const std::vector<Edge>& edges, Vec2 p);

/// The least of dot(normal, point) along an edge. Requires: `normal` is a unit vector.
double least_along(const Edge& edge, Vec2 normal);

/// A batten bent through points: the natural cubic spline over their chord lengths, as straight edges.
/// Source: a thin batten held at points and free at its ends takes, for small slopes, the shape of least bending
/// energy, which is the natural cubic spline (from memory; Schoenberg's reason for the word spline).
std::vector<Edge> batten_through(const std::vector<Vec2>& points);

/// The arc of at most half a circle between two places. Requires: radius >= half their distance within noise.
Edge arc_between(Vec2 a, Vec2 b, double radius, bool bulges_right);

/// Largest distance of any point of `drawn` from `truth`, within `resolution`. Where both run from end to end without a
/// corner this is also the distance the other way.
double departure_from(const std::vector<Edge>& drawn, const std::vector<Edge>& truth, Resolution resolution);

}  // namespace spile::paper
