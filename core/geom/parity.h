// Inside geom: the bare inside-or-outside count, without the test for `on`.
#pragma once

#include "core/geom/outline.h"

namespace spile {

/// True when a ray from p crosses the edge an odd number of times, by the rule of side_of.cpp.
bool crosses_ray(const Edge& e, Vec2 p);

/// True when p is inside the outline, of either sense; any answer within noise of it.
bool odd_parity(const Outline& outline, Vec2 p);

}  // namespace spile
