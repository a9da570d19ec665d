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

void measure_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods, Layout& layout) {
    layout.used_mm = used_length_mm(pieces, goods, layout.placements);
    layout.bought_mm = bought_length_mm(goods, layout.used_mm);
    double area = 0;
    for (const LayoutPiece& piece : pieces) area += area_mm2(piece.outline);
    const double taken = goods.usable_width_mm * layout.used_mm;
    layout.goods_share = taken > 0 ? area / taken : 0;
}

}  // namespace spile
