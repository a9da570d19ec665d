// Curved edges of a space: chord and rise, and curves through measured points. Internal to measuring.
#pragma once

#include "core/geom/tolerance.h"
#include "core/measure/network.h"
#include "core/measure/say.h"

namespace spile::survey {

/// How far the arcs of a fair curve may lie from it: no knife cuts finer.
inline constexpr Resolution fair_resolution{0.1};

/// The curves of all `rise` and `through` lines whose points are placed.
/// A rise is an arc, in two halves when it is more than half a circle. One point on the way gives the arc through it;
/// several give the fair curve through them (core/geom/fair.h), each held against the line through the others: a hump ("curve-hump")
/// or a point that stands off it ("curve-point-off") is said.
std::vector<SurveyCurve> curves_of(const SpaceInput& space, const std::map<std::string, SurveyPoint>& points,
                                   const Say& say);

}  // namespace spile::survey
