// Test helpers: pieces of goods.
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "core/geom/offset.h"
#include "core/geom/outline.h"
#include "core/layout/layout.h"
#include "core/layout/solve/random.h"

namespace spile {

/// Plain goods of that width, bought by the yard.
inline Goods goods_of(double width, double gap) {
    Goods goods;
    goods.width_mm = goods.usable_width_mm = width;
    goods.gap_mm = gap;
    return goods;
}

/// The same, bought by any length.
inline Goods goods_cut_anywhere(double width, double gap, Turning turning = Turning::one_way) {
    Goods goods = goods_of(width, gap);
    goods.step_mm = 0;
    goods.turning = turning;
    return goods;
}

inline LayoutPiece mat(std::string id, double along, double across) {
    return {std::move(id), {rectangle({0, 0}, {along, across}), {}}};
}

/// A panel as they come: four slanted sides, one bowed, corners rounded. Lower left of its box is not at the origin.
inline LayoutPiece panel(std::string id, double along, double across, lay::Random& random) {
    const auto slip = [&](double size) { return size * 0.25 * random.share(); };
    Outline outline = polygon({{slip(along), slip(across)},
                               {along - slip(along), slip(across)},
                               {along - slip(along), across - slip(across)},
                               {slip(along), across - slip(across)}});
    outline.vertices[random.below(4)].bulge = 0.3 * random.share() - 0.1;
    return {std::move(id), {fillet(outline, {{0, 30}, {1, 50}, {2, 30}, {3, 50}}, -1).outline, {}}};
}

/// A shop's set: `n` panels of 300 to 1200 mm.
inline std::vector<LayoutPiece> panels(int n, std::uint64_t seed) {
    lay::Random random(seed);
    std::vector<LayoutPiece> pieces;
    for (int i = 1; i <= n; ++i)
        pieces.push_back(
            panel(std::to_string(i), 300 + 900 * random.share(), 300 + 700 * random.share(), random));
    return pieces;
}

}  // namespace spile
