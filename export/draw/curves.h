// Arcs as cubic Beziers, for renderers that have no arcs.
#pragma once

#include <vector>

#include "core/geom/outline.h"

namespace spile {

struct Bezier {
    Vec2 a, control_a, control_b, b;
};

/// How far a drawn curve may depart from its arc, mm on the page.
inline constexpr double curve_error_mm = 0.01;

/// The arc as the fewest equal Beziers that stay within `error_mm` of it, in order from edge.a to edge.b; the
/// ends and joints lie on the arc. Requires: !edge.straight(), error_mm > 0. Source of the bound 2/27
/// sin^6(t/4) / cos^2(t/4) of the radius, for a Bezier of sweep t: M. Goldapp, Approximation of circular arcs
/// by cubic polynomials, Computer Aided Geometric Design 8 (1991).
std::vector<Bezier> beziers_of(const Edge& edge, double error_mm = curve_error_mm);

}  // namespace spile
