// The general packing library libnest2d behind plain types: its headers are C++17 at most.
#pragma once

#include <utility>
#include <vector>

namespace spile {

struct BinItem {
    int demand = 1;
    std::vector<std::pair<double, double>> corners;  ///< counter-clockwise
};

/// Does libnest2d lay all items into one bin of that size? It packs bins; it has no strips. All items may be turned alike.
bool fits_one_bin(const std::vector<BinItem>& items, const std::vector<int>& quarter_turns, double length,
                  double width);

}  // namespace spile
