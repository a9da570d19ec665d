#include "core/job/pattern_room.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// Where the pattern may start for one piece: `length_mm` on from `start_mm`, and the same whole repeats further.
struct Starts {
    double start_mm = 0, length_mm = 0;
};

bool allows(const Starts& starts, double at_mm, double repeat_mm) {
    const double on = at_mm - starts.start_mm + kPlacementRounding_mm;
    return on - std::floor(on / repeat_mm) * repeat_mm <= starts.length_mm + 2 * kPlacementRounding_mm;
}

}  // namespace

bool pattern_has_room(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    const double repeat_mm = goods.repeat.across_mm;
    if (!(repeat_mm > 0)) return true;
    std::map<std::string, std::vector<Starts>> cloths;
    for (const LayoutPiece& piece : pieces) {
        if (piece.cloth.empty()) continue;
        const Box box = box_of(piece.outline);
        const double room = goods.usable_width_mm - 2 * goods.edge_gap() - box.height();
        if (room < -kPlacementRounding_mm) return false;
        cloths[piece.cloth].push_back(
            {goods.edge_gap() - box.min.y - piece.in_cloth_mm.y, std::fmax(0, room)});
    }
    // Where all of them meet, one of them begins. (Clang 14, which makes the core for the browser, lets no lambda take a
    // name of a structured binding.)
    for (const auto& cloth : cloths) {
        const std::vector<Starts>& all = cloth.second;
        if (std::none_of(all.begin(), all.end(), [&](const Starts& first) {
                return std::all_of(all.begin(), all.end(), [&](const Starts& other) {
                    return allows(other, first.start_mm, repeat_mm);
                });
            }))
            return false;
    }
    return true;
}

}  // namespace spile
