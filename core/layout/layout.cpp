#include "core/layout/layout.h"

#include <cmath>
#include <map>

#include "core/geom/measure_of.h"

namespace spile {

double used_length_mm(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                      const std::vector<Placement>& placements) {
    std::map<std::string, double> far_side;
    for (const LayoutPiece& piece : pieces)
        if (!piece.outline.outer.empty()) far_side.emplace(piece.id, box_of(piece.outline).max.x);
    double used = 0;
    for (const Placement& p : placements) {
        const auto found = far_side.find(p.piece);
        if (found != far_side.end()) used = std::fmax(used, found->second + p.move_mm().x + goods.edge_gap());
    }
    return used;
}

double bought_length_mm(const Goods& goods, double used_mm) {
    if (goods.step_mm <= 0) return used_mm;
    return std::ceil((used_mm - kPlacementRounding_mm) / goods.step_mm) * goods.step_mm;
}

Vec2 pattern_out_mm(const Repeat& repeat, Vec2 off_mm) {
    // What is left of `v` after taking whole `step`s, between half a step to either side.
    const auto left = [](double v, double step) { return v - std::round(v / step) * step; };
    const double rows = repeat.across_mm > 0 ? std::round(off_mm.y / repeat.across_mm) : 0;
    Vec2 out;
    if (repeat.across_mm > 0) out.y = off_mm.y - rows * repeat.across_mm;
    if (repeat.along_mm > 0) out.x = left(off_mm.x - rows * repeat.drop_mm, repeat.along_mm);
    return out;
}

int repeats_across(const Goods& goods) {
    if (goods.repeat.across_mm <= 0) return 0;
    return static_cast<int>(
        std::floor((goods.usable_width_mm + kPlacementRounding_mm) / goods.repeat.across_mm));
}

void measure_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods, Layout& layout) {
    layout.used_mm = used_length_mm(pieces, goods, layout.placements);
    layout.bought_mm = bought_length_mm(goods, layout.used_mm);
    double area = 0;
    for (const LayoutPiece& piece : pieces) area += area_mm2(piece.outline);
    const double taken = goods.usable_width_mm * layout.used_mm;
    layout.goods_share = taken > 0 ? area / taken : 0;
}

}  // namespace spile
