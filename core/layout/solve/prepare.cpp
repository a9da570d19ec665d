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

/// Pieces are grown by half the gap, and so keep that much from it.
void add_obstacle(Prepared& out, Poly poly, IPoint at) {
    Problem& problem = out.problem;
    const int shape = static_cast<int>(problem.shapes.size());
    problem.shapes.push_back(make_shape(std::move(poly)));
    problem.boxes.push_back(problem.shapes.back().box);
    out.turns_of_shape.push_back(0);
    Problem::Item& item = problem.items.emplace_back();
    item.kind = shape;
    item.shapes = {shape};
    item.fixed = item.flaw = true;
    out.fixed.push_back({shape, at});
}

/// A flaw is an item nobody moves; a very long one several, so that products of its size fit (poly.h).
void add_flaws(const Goods& goods, Prepared& out) {
    constexpr std::int64_t most = std::int64_t{1} << 28;
    for (const Flaw& flaw : goods.flaws) {
        if (!(flaw.at_mm.width() > 0 && flaw.at_mm.height() > 0)) continue;
        const IPoint at = to_units(flaw.at_mm.min - out.origin_mm);
        const IPoint size = to_units(flaw.at_mm.max - flaw.at_mm.min);
        for (std::int64_t from = 0; from < size.x; from += most) {
            const IPoint part{std::min(most, size.x - from), size.y};
            add_obstacle(out, {{0, 0}, {part.x, 0}, part, {0, part.y}}, at + IPoint{from, 0});
        }
    }
}

/// Where pieces grown by half the gap may lie on an offcut: a polygon in strip space. Empty: nowhere.
Poly room_on_offcut(const Goods& goods, Resolution resolution, Prepared& out) {
    const double inset = std::fmax(goods.edge_gap() - goods.gap_mm / 2, 0);
    const std::vector<Outline> parts =
        inset > 0 ? offset(goods.outline, -inset) : std::vector<Outline>{goods.outline};
    const auto largest = std::max_element(parts.begin(), parts.end(), [](const Outline& a, const Outline& b) {
        return area_mm2(a) < area_mm2(b);
    });
    if (largest == parts.end()) return {};
    const double box_inset = goods.edge_gap() - inset;
    const Box box = box_of(*largest);
    out.origin_mm = box.min + Vec2{box_inset, box_inset};
    const IPoint far = to_units(box.max - Vec2{box_inset, box_inset} - out.origin_mm);
    out.problem.width = std::max<std::int64_t>(far.y, 0);
    out.longest = std::max<std::int64_t>(far.x, 1);
    return polygon_of(translation(-1 * out.origin_mm)(*largest), resolution, Cover::within);
}

/// What an offcut lacks of the box of its room, cut in two across the middle so that nothing has a hole.
void add_what_lacks(const Poly& room, Prepared& out) {
    if (room.empty()) return;
    const IBox box = box_of(room);
    const std::int64_t middle = (box.min_x + box.max_x) / 2;
    for (const auto& [from, to] : {std::pair{box.min_x, middle}, std::pair{middle, box.max_x}})
        for (Poly& lack :
             difference({{from, box.min_y}, {to, box.min_y}, {to, box.max_y}, {from, box.max_y}}, room)) {
            lack = cleaned(lack);
            if (area_of(lack) > 0) add_obstacle(out, std::move(lack), {});
        }
}

/// The same outline, from its box and wherever it begins. A piece with holes is taken to look like none of its turns.
bool looks_alike(const Region& a, const Region& b) {
    const std::size_t n = a.outer.size();
    if (n != b.outer.size() || !a.holes.empty() || !b.holes.empty()) return false;
    const Vec2 off = box_of(b.outer).min - box_of(a.outer).min;
    for (std::size_t begin = 0; begin < n; ++begin) {
        std::size_t same = 0;
        while (same < n) {
            const Vertex &u = a.outer.vertices[same], &v = b.outer.vertices[(begin + same) % n];
            if (!(to_units(u.p + off) == to_units(v.p)) || u.bulge != v.bulge) break;
            ++same;
        }
        if (same == n) return true;
    }
    return false;
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

Prepared prepare(const std::vector<LayoutPiece>& pieces, const Goods& goods, Resolution resolution,
                 const std::function<bool()>& stop) {
    Prepared out;
    Problem& problem = out.problem;
    const double edge = goods.edge_gap();
    out.origin_mm = {edge, edge};
    std::map<std::string, int> cloths;
    problem.width = std::llround((goods.usable_width_mm - 2 * edge) * kUnitsPerMm);
    const Poly room = goods.outline.empty() ? Poly{} : room_on_offcut(goods, resolution, out);
    const auto same_as = [&](std::size_t i) {
        const Region& outline = pieces[i].outline;
        const auto same = std::find_if(pieces.begin(), pieces.begin() + i, [&](const LayoutPiece& p) {
            return p.outline.outer == outline.outer && p.outline.holes == outline.holes;
        });
        return static_cast<std::size_t>(same - pieces.begin());
    };
    const auto shape_for = [&](std::size_t first, int turns) {
        int& shape = out.shape_of_piece[first][turns];
        if (shape >= 0) return shape;
        const Region outline = quarter_turns(turns)(pieces[first].outline);
        Shape whole = shape_of(outline, goods.gap_mm / 2, resolution, Cover::whole);
        // Smaller by the slack; what a shrink breaks off a piece this thin would be lost, so then it stays whole.
        Polys outer = shrunk(whole.outer, problem.slack_units);
        if (outer.size() == 1) whole.outer = std::move(outer[0]);
        const Box box = box_of(outline);
        const IPoint low = to_units(box.min), high = to_units(box.max);
        shape = static_cast<int>(problem.shapes.size());
        problem.shapes.push_back(make_shape(std::move(whole.outer), std::move(whole.holes)));
        problem.boxes.push_back({low.x, low.y, high.x, high.y});
        out.turns_of_shape.push_back(turns);
        return shape;
    };
    std::vector<int> alike(pieces.size(), -1);  // not known yet
    const auto alike_half_round = [&](std::size_t first) {
        if (alike[first] < 0)
            alike[first] =
                looks_alike(pieces[first].outline, quarter_turns(2)(pieces[first].outline)) ? 1 : 0;
        return alike[first] == 1;
    };
    for (std::size_t i = 0; i < pieces.size() && !(stop && stop()); ++i) {
        out.shape_of_piece.push_back({-1, -1, -1, -1});
        const std::size_t first = same_as(i);
        const std::optional<Placement>& pin = pieces[i].pin;
        const bool in_pattern = goods.repeat.any() && !pieces[i].cloth.empty();
        Problem::Item item;
        item.kind = shape_for(first, 0);
        if (pin) {
            item.fixed = true;
            item.shapes = {shape_for(first, pin->turns & 3)};
        } else {
            for (int turns = 0; turns < 4; ++turns) {
                if (!turn_allowed(pieces[i].any_way ? Turning::quarter : goods.turning, turns, in_pattern))
                    continue;
                // Of a rectangle half a turn is no other way to lie.
                if (turns >= 2 && alike_half_round(first)) continue;
                const int shape = shape_for(first, turns);
                if (turns == 0 || problem.boxes[shape].height() <= problem.width)
                    item.shapes.push_back(shape);
            }
            // As it stands it may be too wide where a turn is not.
            if (item.shapes.size() > 1 && problem.boxes[item.shapes[0]].height() > problem.width)
                item.shapes.erase(item.shapes.begin());
        }
        out.shape_of_piece[i] = out.shape_of_piece[first];
        out.fixed.push_back({item.shapes[0], {}});
        if (pin) out.fixed.back().at = to_units(pin->move_mm() - out.origin_mm);
        if (in_pattern) {
            item.cloth = cloths.emplace(pieces[i].cloth, static_cast<int>(cloths.size())).first->second;
            item.in_cloth = to_units(pieces[i].in_cloth_mm);
        }
        problem.items.push_back(std::move(item));
        problem.area += area_mm2(pieces[i].outline) * kUnitsPerMm * kUnitsPerMm;
    }
    add_flaws(goods, out);
    add_what_lacks(room, out);
    for (const Problem::Item& item : problem.items) out.is_fixed.push_back(item.fixed ? 1 : 0);
    const auto whole = [](double mm) { return std::llround(mm * kUnitsPerMm); };
    problem.lattice = {whole(goods.repeat.along_mm), whole(goods.repeat.across_mm),
                       whole(goods.repeat.drop_mm)};
    return out;
}

std::vector<Placement> placements_of(const std::vector<LayoutPiece>& pieces, const Prepared& prepared,
                                     const Spots& spots) {
    std::vector<Placement> placements;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const auto um = [&](double origin_mm, std::int64_t units) {
            return std::llround(origin_mm * 1000 + static_cast<double>(units) / kUnitsPerMicrometre);
        };
        placements.push_back({pieces[i].id, um(prepared.origin_mm.x, spots[i].at.x),
                              um(prepared.origin_mm.y, spots[i].at.y),
                              prepared.turns_of_shape[static_cast<std::size_t>(spots[i].shape)], 0});
    }
    return placements;
}

}  // namespace spile::lay
