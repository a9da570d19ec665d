// Where a piece that cannot lie at a place may lie next to it.
#pragma once

#include <cstddef>
#include <optional>

#include "core/layout/layout.h"

namespace spile {

/// How far about the wanted place is looked, where no pattern is carried.
inline constexpr double kNearestReach_mm = 600;

/// A legal placement of `layout.placements[moved]` near (x_um, y_um), all others lying still: on its stretch, turned as it is, and, of a
/// carried pattern, whole repeats from where it lies. Looked for on rings about the place, then drawn in as near as it goes; a gap
/// smaller than the rings are apart may be missed. Nothing where none is found.
/// Requires: a legal layout whose placements name pieces. Guarantees: the layout with it passes check_layout.
std::optional<Placement> nearest_legal(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                       const Layout& layout, std::size_t moved, std::int64_t x_um,
                                       std::int64_t y_um);

}  // namespace spile
