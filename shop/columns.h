// Pieces by their boxes in columns across the goods, and a length that no layout goes below: what is known without a search.
// Inside of shop/.
#pragma once

#include <optional>
#include <vector>

#include "core/layout/layout.h"

namespace spile::shop {

/// Columns one behind another along the goods, in each of them pieces one beside another, the longest first; of the turns
/// allowed those that make it shortest of a few orders. Measured and proved; nothing where it does not fit or is not legal (a
/// pattern, a flaw, a pin, an offcut that lacks something of its box).
std::optional<Layout> in_columns(const std::vector<LayoutPiece>& pieces, const Goods& goods);

/// How long pieces are at least on goods of one width. Of pieces so wide that k of them at most lie beside one another (chords of
/// more than the k+1st part of the room, the gaps counted in), there are k rows, and some row is as long as any sharing of
/// them among k machines makes the busiest.
/// Source: intervals of which no point lies in more than k fall into k rows (interval graphs are perfect); bounds of the
/// makespan on parallel machines (R. L. Graham 1969, from memory).
class Rows {
  public:
    Rows(const std::vector<LayoutPiece>& pieces, const Goods& goods);

    /// No layout of these of the pieces, by their places, is shorter.
    double least_mm(const std::vector<std::size_t>& which) const;

  private:
    /// At most k side by side: either pieces grown by half a gap do not meet along the goods (`between`), or they do not across.
    struct Side {
        std::size_t most;
        double between;
        std::vector<double> length_mm;  ///< by piece; 0: too narrow somewhere in every turn
    };
    std::vector<Side> sides_;
    double ends_mm_;
};

}  // namespace spile::shop
