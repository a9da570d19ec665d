// Whether pieces of one cloth fit across goods whose pattern they carry.
#pragma once

#include <vector>

#include "core/layout/layout.h"

namespace spile {

/// Places across the roll of pieces of one cloth differ from their places in it by whole repeats (a half drop moves the
/// pattern along, which is free). True when there is a start of the pattern across at which each of them, alone, lies within the
/// usable width less the edge gaps; always without a repeat across.
bool pattern_has_room(const std::vector<LayoutPiece>& pieces, const Goods& goods);

}  // namespace spile
