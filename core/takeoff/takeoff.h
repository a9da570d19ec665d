// What a job takes: quantities, each with how it came about.
#pragma once

#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "core/layout/layout.h"

namespace spile {

struct QuantityLine {
    std::string what;      ///< "woven vinyl, sand", "binding", "thread"
    double amount = 0;     ///< in `unit`
    std::string unit;      ///< "mm", "mm2", "" for a count
    double to_buy = 0;     ///< same unit, with overlap, waste and rounding up to what is sold
    std::string because;   ///< one sentence: how it came about
};

struct Takeoff {
    std::vector<QuantityLine> materials;
    std::vector<QuantityLine> work;  ///< feet of binding, feet of turning, corners, holes, snaps
};

struct TakeoffSettings {
    double thread_stitches_per_mm = 6 / 25.4;
    double sewn_thickness_mm = 0;   ///< compressed, under the needle; 0: taken from the goods
    double thread_waste = 0.15;     ///< share added
};

Takeoff take_off(const std::vector<Piece>& pieces, const Goods& goods, const Layout& layout,
                 const TakeoffSettings& settings);

}  // namespace spile
