// Is this layout legal? Exact, on the true arcs, gap included; shares no algorithm with the solver.
#pragma once

#include <vector>

#include "core/base/length.h"
#include "core/layout/layout.h"

namespace spile {

/// All that is wrong with a layout: pieces missing or twice, two pieces nearer than the gap or one inside another,
/// on a flaw, out of the pattern of its cloth, not where it was pinned, turned as the goods forbid, over the edge of an offcut,
/// side by side aboard and of two lots, outside the usable width, before the cut end, beyond the length, a used length that is too short or a bought length
/// that is not whole steps. Each a stop naming the pieces, the distance and the limit. Empty: the layout is legal.
/// Fillers are proved like any piece, and lie within the length that is used.
/// Every stretch of goods is proved by itself. The gap is kept between pieces; to the selvedges and both cut ends `Goods::edge_gap()`. A hole of a piece is free
/// goods: another piece may lie in it, the gap kept.
/// Tolerance: noise of the coordinates and kPlacementRounding_mm.
/// Cost: pieces are compared by their boxes first, then edge by edge where boxes are near.
/// `lengths`: how findings say a length.
std::vector<Finding> check_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                  const Layout& layout, const LengthStyle& lengths = {});

}  // namespace spile
