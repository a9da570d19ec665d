// What an outline is: its size, area, and what lies in it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/geom/outline.h"
#include "core/geom/tolerance.h"

namespace spile {

double area_mm2(
    const Outline& outline);            ///< signed, counter-clockwise positive; arcs exact by Green's theorem
double area_mm2(const Region& region);  ///< outer less holes
double length_mm(const Outline& outline);
double length_mm(const Path& path);
Box box_of(const Edge& edge);
Box box_of(const Outline& outline);  ///< tight, arcs included
Box box_of(const Region& region);

enum class Side { inside, on, outside };
/// `on` within noise of the outline. Either sense of outline.
Side side_of(const Outline& outline, Vec2 p);
Side side_of(const Region& region, Vec2 p);

struct Nearest {
    Vec2 at;
    std::size_t edge = 0;
    double distance = 0;
};
/// The first of several equally near places. Error at most noise, however shallow an arc.
Nearest nearest_on(const Edge& edge, Vec2 p);        ///< `edge` of the result is 0
Nearest nearest_on(const Outline& outline, Vec2 p);  ///< Requires: !outline.empty()

/// Least distance between two edges, 0 when they meet. Closed form for line-line, line-arc and arc-arc.
double distance_between(const Edge& a, const Edge& b);

/// Least distance between the boundaries of two outlines (0 when they cross or touch).
double distance_between(const Outline& a, const Outline& b);

/// Polygon within `resolution` of the outline. Chords (inside convex arcs) or, when `outward`, tangents and chords
/// chosen so that the polygon contains a counter-clockwise outline (arc points stand off by noise, so that rounding
/// cannot cut into it); of a clockwise one (a hole) it is contained.
/// On bad input: a resolution below noise is taken as noise; one arc is cut in at most 65536 pieces.
std::vector<Vec2> flatten(const Outline& outline, Resolution resolution, bool outward = false);
std::vector<Vec2> flatten(const Path& path, Resolution resolution);

}  // namespace spile
