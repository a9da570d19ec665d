// From pieces of goods to the packing problem: millimetres and arcs to units and polygons.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <vector>

#include "core/geom/tolerance.h"
#include "core/layout/layout.h"
#include "core/layout/solve/problem.h"

namespace spile::lay {

/// 1/16 um: every 1/64 in (396.875 um) and half of every gap typed in 1/32 in are whole units.
inline constexpr double kUnitsPerMm = 16000;
inline constexpr std::int64_t kUnitsPerMicrometre = 16;

enum class Cover {
    whole,   ///< the polygon contains the surface
    within,  ///< the surface contains the polygon
};

/// A polygon within `resolution` of an outline that has material on its left, on the stated side of it (up to the rounding
/// to units).
Poly polygon_of(const Outline& outline, Resolution resolution, Cover cover);

/// A piece with half the gap all round it, as polygons. Empty outer when nothing is left (within only).
Shape shape_of(const Region& outline, double grow_mm, Resolution resolution, Cover cover);

struct Prepared {
    Problem problem;  ///< strip space: origin at the cut end and near selvedge, edge gap inside
    std::vector<std::array<int, 4>> shape_of_piece;  ///< by quarter turns; -1 where none was needed
    std::vector<int> turns_of_shape;                 ///< of the pieces' shapes
    Spots fixed;  ///< by item (pieces, then flaws): where what is pinned lies
    std::vector<char> is_fixed;
    Vec2 origin_mm;            ///< of strip space in roll space
    std::int64_t longest = 0;  ///< the strip may not be longer, 0: any length
};

/// Items are the pieces in their order, then the flaws, then what an offcut lacks of its box. Pieces of equal outline share a shape. Requires: outlines that have area and are simple.
/// When `stop` answers true the rest of the pieces is missing.
Prepared prepare(const std::vector<LayoutPiece>& pieces, const Goods& goods, Resolution resolution,
                 const std::function<bool()>& stop = {});

/// Placements for spots, rounded to whole micrometres, the whole layout as near the cut end as it goes.
std::vector<Placement> placements_of(const std::vector<LayoutPiece>& pieces, const Prepared& prepared,
                                     const Spots& spots);

}  // namespace spile::lay
