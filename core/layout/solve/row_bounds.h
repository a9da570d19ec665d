// What rectangles inside the pieces need of the goods: rows of those that lie side by side, and shares both ways.
#pragma once

#include <cstdint>
#include <functional>
#include <vector>

#include "core/layout/solve/inner_rectangles.h"

namespace spile::lay {

/// Rectangles inside a piece, a list for each way round it may lie; no list where it has no room across. They are choices: any one of
/// a list may stand for the piece.
struct InnerPiece {
    std::vector<std::vector<InnerRectangle>> ways;
};

/// Widths at which one piece more or less lies side by side across a room.
std::vector<std::int64_t> telling_widths(std::int64_t room);

struct RowBound {
    std::int64_t length = 0;         ///< units
    std::vector<std::size_t> which;  ///< the pieces that need it, in their order
    std::size_t abreast = 0;         ///< no more than so many of them lie side by side
    std::size_t rows = 0;            ///< so that they take so many
};

/// For every k the pieces of which no more than k lie side by side: of the k j + 1 longest some j + 1 lie behind one another, at the
/// least the shortest of them. Holds since stretches of which no k + 1 have a point in common fall into k rows.
RowBound by_rows(const std::vector<InnerPiece>& pieces, std::int64_t room);

/// The largest length up to which shares of lengths and widths (dual_feasible.h) add up to more than the goods, from a
/// finite set where shares of lengths jump; looked for above `least` only. `which`: the pieces that have a share.
RowBound by_shares(const std::vector<InnerPiece>& pieces, std::int64_t room, std::int64_t least,
                   const std::function<bool()>& stop);

}  // namespace spile::lay
