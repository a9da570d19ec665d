// Inside of takeoff: what applied pieces take off goods of their own.
#pragma once

#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/edging/piece.h"
#include "core/takeoff/takeoff.h"

namespace spile {

/// Length off a roll or tape of `width_mm` for rectangles of `along` by `across` mm (each no wider than the goods): equal ones
/// lie side by side as often as the width holds them, row behind row, sizes in their order. Not nested: offcuts are
/// not counted on.
struct CountOut {
    double length_mm = 0;
    std::vector<std::string> rows;  ///< "2 of 6 in x 6 in side by side, 6 in"
};
CountOut count_out(const std::vector<Vec2>& sizes_mm, double width_mm, const LengthStyle& lengths);

/// Adds their goods, adhesive and work. Goods of one name and width are one line; hook-and-loop is counted in pairs of halves.
void take_applied(const std::vector<AppliedPiece>& applied, const LengthStyle& lengths, Takeoff& takeoff);

}  // namespace spile
