// How a piece is cut up into full-size tiles.
#pragma once

#include <string>
#include <vector>

#include "core/paper/sheets.h"
#include "core/paper/view.h"

namespace spile::paper {

/// Tiles in rows from the top (A, B, ...) and columns from the left (1, 2, ...), in the space of the side that is marked.
/// Guarantees:
/// 1. Neighbours overlap by `overlap_mm`; a register cross of one stands at the same point in the other.
/// 2. Every point of every cut line lies on a tile; tiles without a line are left out, but for those that join the others:
///    all tiles hang together by their sides.
struct TilePlan {
    struct Tile {
        std::size_t row = 0, column = 0;
        std::string label;          ///< "B3"
        Box box;                    ///< what it shows, mm of the side
        std::vector<Vec2> crosses;  ///< register marks, same space
    };
    double overlap_mm = 10;
    std::size_t rows = 0, columns = 0;
    Box area;                    ///< of the page, where the drawing stands
    double long_rule_mm = 200;   ///< down the page
    double short_rule_mm = 150;  ///< across it
    std::vector<Tile> tiles;
};

/// Requires: the page is larger than its margins and strips.
TilePlan plan_tiles(const PaperInput& in, const PieceView& view, const PaperSize& size);

}  // namespace spile::paper
