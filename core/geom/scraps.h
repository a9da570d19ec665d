// What a distance per edge may leave over beside the part that is wanted.
#pragma once

#include <algorithm>
#include <cmath>
#include <vector>

#include "core/geom/measure_of.h"

namespace spile {

/// Where a moved edge ends square beside one that hardly moves, `offset_each` may leave a crumb in the corner: a part of
/// its own, no larger than the square of the distance moved. Removes the parts whose area is at most 2 `reach_mm`^2, unless that would
/// leave none.
inline void drop_scraps(std::vector<Outline>& parts, double reach_mm) {
    double largest = 0;
    for (const Outline& part : parts) largest = std::fmax(largest, std::fabs(area_mm2(part)));
    const double scrap = 2 * reach_mm * reach_mm;
    if (largest <= scrap) return;
    parts.erase(std::remove_if(parts.begin(), parts.end(),
                               [&](const Outline& part) { return std::fabs(area_mm2(part)) <= scrap; }),
                parts.end());
}

}  // namespace spile
