// Small saleable pieces in what a layout leaves beside the panels.
#pragma once

#include <vector>

#include "core/base/run_context.h"
#include "core/geom/tolerance.h"
#include "core/layout/layout.h"

namespace spile::lay {

/// As many of filler_pieces(goods) as find room, the largest first, each at the first free place from the cut end; what
/// finds none is left out. Turned as the goods, or its own freedom, allow.
/// Requires: a layout of these pieces on one length of the goods, no offcut.
/// Guarantees: the layout is as it was; with a cancel, those placed so far.
std::vector<Placement> place_fillers(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                     const Layout& layout, Resolution resolution, const RunContext& run);

}  // namespace spile::lay
