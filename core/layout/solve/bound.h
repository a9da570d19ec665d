// No layout can be shorter than this, and why.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/layout/layout.h"

namespace spile::lay {

struct Bound {
    double length_mm = 0;
    std::string reason;  ///< a clause in plain words: "pieces 2 and 5 cannot lie side by side"
};

/// The largest of: the longest piece; the area with its gaps; pieces so tall across the goods that little else fits beside
/// them; pieces of which no two fit side by side, in their best order; rows of pieces of which only so many fit side by side, and shares of
/// rectangles inside the pieces (row_bounds.h), with up to 40 different ones. Each holds for every legal layout, computed on
/// polygons inside the true shapes and lowered by 0.01 mm. Cost: milliseconds for a dozen pieces.
/// Source of the third: dual feasible functions as for rectangles (Fekete and Schepers 2004), applied to the widths of the
/// pieces along every line across the goods.
/// `stop` answering true ends the search for a better bound early.
Bound bound_of(const std::vector<LayoutPiece>& pieces, const Goods& goods, const std::function<bool()>& stop);

}  // namespace spile::lay
