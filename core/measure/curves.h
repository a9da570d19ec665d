// Curved edges of a space: chord and rise, and curves through measured points. Internal to measuring.
#pragma once

#include "core/measure/network.h"
#include "core/measure/say.h"

namespace spile::survey {

/// The curves of all `rise` and `through` lines whose points are placed.
/// A rise is an arc, in two halves when it is more than half a circle. One point on the way gives the arc through it;
/// several give a smooth chain of biarcs whose direction at each point is that of the circle through it and its
/// neighbours.
std::vector<SurveyCurve> curves_of(const SpaceInput& space, const std::map<std::string, SurveyPoint>& points,
                                   const Say& say);

/// Two arcs from a to b that leave along `start`, arrive along `end` and meet smoothly; one edge where one is enough.
/// Requires: unit directions, a and b apart. From K. Bolton, Biarc curves (1975), equal tangent lengths (from memory).
std::vector<Edge> biarc(Vec2 a, Vec2 start, Vec2 b, Vec2 end);

}  // namespace spile::survey
