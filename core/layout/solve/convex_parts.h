// A polygon cut into convex parts.
#pragma once

#include "core/layout/solve/poly.h"

namespace spile::lay {

/// Convex parts whose union lies in the polygon; it is the polygon but for corners flatter than `flat_units`, which are cut
/// off to have few edges. Requires: simple, counter-clockwise, cleaned. Method: ears cut off, then put together again
/// where that stays convex (Hertel and Mehlhorn 1983). Cost: cube of the vertices.
Polys convex_parts(const Poly& poly, double flat_units);

}  // namespace spile::lay
