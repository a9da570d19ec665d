// Pieces that no layout can place, whatever else lies on the goods: for the solver, and for whoever has none.
#pragma once

#include <vector>

#include "core/layout/layout.h"

namespace spile {

/// A stop for each piece that has no area, is wider than the usable width less the gaps ("layout-too-wide") or longer than
/// the goods there are ("layout-too-long") in every turn they allow, naming both numbers. `style`: how a length is said.
std::vector<Finding> pieces_too_large(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                      const LengthStyle& style = {});

}  // namespace spile
