#include "core/layout/solve/prepare.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "core/geom/measure_of.h"
#include "core/geom/offset.h"

namespace spile::lay {
namespace {

IPoint to_units(Vec2 p) {
    return {std::llround(p.x * kUnitsPerMm), std::llround(p.y * kUnitsPerMm)};
}

/// A flaw is an item nobody moves. Pieces are grown by half the gap, and so keep that much from it.
void add_flaws(const Goods& goods, Prepared& out) {
    Problem& problem = out.problem;
    for (const Flaw& flaw : goods.flaws) {
        if (!(flaw.at_mm.width() > 0 && flaw.at_mm.height() > 0)) continue;
        const IPoint low = to_units(flaw.at_mm.min - Vec2{out.edge_mm, out.edge_mm});
        const IPoint size = to_units(flaw.at_mm.max - flaw.at_mm.min);
        const int shape = static_cast<int>(problem.shapes.size());
        problem.shapes.push_back(make_shape({{0, 0}, {size.x, 0}, size, {0, size.y}}));
        problem.boxes.push_back(problem.shapes.back().box);
        Problem::Item& item = problem.items.emplace_back();
        item.kind = shape;
        item.shapes = {shape};
        item.fixed = item.flaw = true;
        out.fixed.push_back({shape, low});
    }
}

}  // namespace

Poly polygon_of(const Outline& outline, Resolution resolution, Cover cover) {
    // Outward of the outline the other way round is inward of this one.
    const bool whole = cover == Cover::whole;
    Poly poly;
    for (Vec2 p : flatten(whole ? outline : reversed(outline), resolution, true)) poly.push_back(to_units(p));
    if (!whole) std::reverse(poly.begin(), poly.end());
    return cleaned(poly);
}

Shape shape_of(const Region& outline, double grow_mm, Resolution resolution, Cover cover) {
    OffsetOptions round;
    round.join = Join::round;
    Poly outer;
    Polys holes;
    const auto take = [&](const Outline& loop) {
        const std::vector<Outline> grown =
            grow_mm > 0 ? offset(loop, grow_mm, round) : std::vector<Outline>{loop};
        for (const Outline& part : grown) {
            Poly poly = polygon_of(part, resolution, cover);
            if (poly.empty()) continue;
            const double area = area_of(poly);
            if (area < 0)
                holes.push_back(std::move(poly));
            else if (area > area_of(outer))
                outer = std::move(poly);
        }
    };
    take(outline.outer);
    for (const Outline& hole : outline.holes) take(hole);
    return make_shape(std::move(outer), std::move(holes));
}

Prepared prepare(const std::vector<LayoutPiece>& pieces, const Goods& goods, Resolution resolution) {
    Prepared out;
    Problem& problem = out.problem;
    out.edge_mm = goods.edge_gap();
    std::map<std::string, int> cloths;
    problem.width = std::llround((goods.usable_width_mm - 2 * out.edge_mm) * kUnitsPerMm);
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Region& outline = pieces[i].outline;
        const auto same = std::find_if(pieces.begin(), pieces.begin() + i, [&](const LayoutPiece& p) {
            return p.outline.outer == outline.outer && p.outline.holes == outline.holes;
        });
        if (same != pieces.begin() + i) {
            out.shape_of_piece.push_back(out.shape_of_piece[same - pieces.begin()]);
        } else {
            Shape whole = shape_of(outline, goods.gap_mm / 2, resolution, Cover::whole);
            // Smaller by the slack; what a shrink breaks off a piece this thin would be lost, so then it stays whole.
            Polys outer = shrunk(whole.outer, problem.slack_units);
            if (outer.size() == 1) whole.outer = std::move(outer[0]);
            const Box box = box_of(outline);
            const IPoint low = to_units(box.min), high = to_units(box.max);
            out.shape_of_piece.push_back(static_cast<int>(problem.shapes.size()));
            problem.shapes.push_back(make_shape(std::move(whole.outer), std::move(whole.holes)));
            problem.boxes.push_back({low.x, low.y, high.x, high.y});
        }
        const int shape = out.shape_of_piece.back();
        Problem::Item& item = problem.items.emplace_back();
        item.kind = shape;
        item.shapes = {shape};
        out.fixed.push_back({shape, {}});
        if (const std::optional<Placement>& pin = pieces[i].pin) {
            item.fixed = true;
            out.fixed.back().at = to_units(pin->move_mm() - Vec2{out.edge_mm, out.edge_mm});
        }
        if (goods.repeat.any() && !pieces[i].cloth.empty()) {
            item.cloth = cloths.emplace(pieces[i].cloth, static_cast<int>(cloths.size())).first->second;
            item.in_cloth = to_units(pieces[i].in_cloth_mm);
        }
        problem.area += area_mm2(outline) * kUnitsPerMm * kUnitsPerMm;
    }
    add_flaws(goods, out);
    for (const Problem::Item& item : problem.items) out.is_fixed.push_back(item.fixed ? 1 : 0);
    const auto whole = [](double mm) { return std::llround(mm * kUnitsPerMm); };
    problem.lattice = {whole(goods.repeat.along_mm), whole(goods.repeat.across_mm),
                       whole(goods.repeat.drop_mm)};
    return out;
}

std::vector<Placement> placements_of(const std::vector<LayoutPiece>& pieces, const Prepared& prepared,
                                     const Spots& spots) {
    std::vector<Placement> placements;
    const auto edge_um = prepared.edge_mm * 1000;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const auto um = [&](std::int64_t units) {
            return std::llround(edge_um + static_cast<double>(units) / kUnitsPerMicrometre);
        };
        placements.push_back({pieces[i].id, um(spots[i].at.x), um(spots[i].at.y)});
    }
    return placements;
}

}  // namespace spile::lay
