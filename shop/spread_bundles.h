// What of a set stays on one length, and what may be swapped. Inside of shop/.
#pragma once

#include <vector>

#include "core/layout/layout.h"

namespace spile::shop {

/// With more pieces than this the largest of a space (then of the job) stay together on one length.
inline constexpr std::size_t kMostApart = 8;

/// What stays on one length: the pieces of one carried pattern, or one piece, or those gathered.
struct Bundle {
    std::vector<LayoutPiece> pieces;
    std::size_t unit = 0;  ///< bundles of a unit are of one lot
    std::size_t kind = 0;  ///< bundles of a kind are of the same outline
};

/// At most kMostApart bundles: units whole, the largest units as one where there are too many, then the smallest pieces split
/// off the largest bundle one by one. Requires: !pieces.empty().
std::vector<Bundle> bundles_of(const std::vector<LayoutPiece>& pieces, const Goods& goods);

bool in_pattern(const LayoutPiece& piece, const Goods& goods);

}  // namespace spile::shop
