// Is this layout legal? Exact, on the true arcs, gap included; shares no algorithm with the solver.
#pragma once

#include <vector>

#include "core/layout/layout.h"

namespace spile {

/// All that is wrong with a layout: pieces missing or twice, two pieces nearer than the gap or one inside another,
/// outside the usable width, before the cut end, beyond the length. Each a stop naming the pieces, the distance and the
/// gap. Empty: the layout is legal.
/// Tolerance: noise of the coordinates only; a planted overlap of 0.01 mm is refused.
std::vector<Finding> check_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods, const Layout& layout);

}  // namespace spile
