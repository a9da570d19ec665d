// No-fit polygons: where one shape may not lie relative to another.
#pragma once

#include "core/layout/solve/poly.h"

namespace spile::lay {

/// A shape to place, as material: one counter-clockwise outline and clockwise holes.
struct Shape {
    Poly outer;
    Polys holes;
    IBox box;  ///< of outer
    bool convex = false;
};
Shape make_shape(Poly outer, Polys holes = {});

/// The no-fit polygon: all p for which `moving`, moved by p, overlaps `fixed` (interiors meet). Outlines of the forbidden
/// surface counter-clockwise, its holes (where `moving` fits into a bay or a hole of the other) clockwise.
/// Contact is on the boundary. Places with no room to move (exact fits) have no area and are not part of the result: shrink
/// the shapes by a little first to see them.
/// Method: the convolution of the two outlines, whose winding number counts how often they overlap (Guibas, Ramshaw and
/// Stolfi 1983); two convex shapes merge their edges by slope. Cost: of the order of the number of convolution edges, a
/// few times the vertices of both, to be united.
Polys no_fit(const Shape& fixed, const Shape& moving);

}  // namespace spile::lay
