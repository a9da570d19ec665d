// Rectangles along and across the goods that lie inside a shape.
#pragma once

#include <cstdint>
#include <vector>

#include "core/layout/solve/no_fit.h"

namespace spile::lay {

struct InnerRectangle {
    std::int64_t along = 0, across = 0;  ///< units

    bool operator==(const InnerRectangle&) const = default;
};

/// For each of the widths across the longest rectangle found of that width that the shape contains; those with none are left
/// out, and so is what another one contains. Widest last. Of a convex shape it is the longest to a thousandth; of another it
/// may be missed where neither a side along the goods nor one of a few heights bounds it.
std::vector<InnerRectangle> inner_rectangles(const Shape& shape, std::vector<std::int64_t> widths);

}  // namespace spile::lay
