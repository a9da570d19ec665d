// Clipping chains of lines and arcs to a rectangle: no file format is asked to do it.
#pragma once

#include <vector>

#include "core/geom/outline.h"

namespace spile::paper {

struct Clipped {
    std::vector<Outline> closed;  ///< outlines that lie wholly within
    std::vector<Path> open;

    bool empty() const { return closed.empty() && open.empty(); }
};

/// The part of a chain within a box, its sides included.
/// Guarantees:
/// 1. Arcs stay arcs about the same centre; what is kept lies on the chain within `noise_mm` of its coordinates.
/// 2. An end made by a cut has exactly the coordinate of the side that cut it, so that neighbouring boxes which
///    share a side get the same point.
/// 3. Stretches of no length (a chain that only touches a side) are dropped.
/// Requires: the box is not empty.
Clipped clip(const Outline& outline, const Box& box);
std::vector<Path> clip(const Path& path, const Box& box);

}  // namespace spile::paper
