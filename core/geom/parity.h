// Inside geom: the bare inside-or-outside count, without the test for `on`.
#pragma once

#include "core/geom/outline.h"
#include "core/geom/strips.h"

namespace spile {

/// True when a ray from p crosses the edge an odd number of times, by the rule of side_of.cpp.
bool crosses_ray(const Edge& e, Vec2 p);

/// Asked of many points: only edges as high as the point are looked at.
class Parity {
  public:
    Parity(const Outline& outline, double noise);

    /// True when p is inside the outline, of either sense; any answer within noise of it.
    bool odd(Vec2 p) const;

  private:
    std::vector<Edge> edges_;
    Strips rows_;
};

}  // namespace spile
