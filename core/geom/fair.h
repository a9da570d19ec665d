// Fair curves: a line through points as a batten lies through them, drawn in arcs.
#pragma once

#include <vector>

#include "core/geom/outline.h"
#include "core/geom/tolerance.h"

namespace spile {

struct FairLine {
    std::vector<Edge>
        edges;  ///< from the first point to the last, through all of them; at most half a circle each
    double within_mm =
        0;  ///< no point of the curve is farther from the edges, by comparing with four times as many arcs
    bool fair =
        false;  ///< else the points turn too sharply for a batten, and the line is smooth in direction alone
};

/// The curve through points whose curvature changes evenly from one to the next and is the same on both sides of each; at
/// its two ends it runs on with the curvature it has there, as a batten that is longer than the edge does. It passes every
/// point.
///
/// To first order in the turn from point to point this is the line of least bending, the cubic spline with parabolic ends;
/// for larger turns it keeps what least bending alone loses: points on a circle give that circle. Sources: R. Levien, From
/// Spiral to Spline (thesis, 2009), for the spline of spirals; C. de Boor, A Practical Guide to Splines, for the cubic
/// one (both from memory).
///
/// The arcs meet smoothly (to 1e-9 of a turn) and follow the curve within `resolution`, as few between two points as do. Cost: about
/// 20 us a point.
/// On bad input: fewer than two points, or two that follow one another in one place: no edges. Points that turn by more than a
/// right angle from one stretch to the next: `fair` is false.
FairLine fair_line(const std::vector<Vec2>& points, Resolution resolution);

/// Two arcs from a to b that leave along `start`, arrive along `end` and meet smoothly; one edge where one is enough.
/// Requires: unit directions, a and b apart. From K. Bolton, Biarc curves (1975), equal tangent lengths (from memory).
std::vector<Edge> biarc(Vec2 a, Vec2 start, Vec2 b, Vec2 end);

/// An arc of any sweep below a full turn, halved until no piece is more than half a circle.
void add_arc(Vec2 a, Vec2 b, double bulge, std::vector<Edge>& out);

}  // namespace spile
