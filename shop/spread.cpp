#include "shop/spread.h"

#include <algorithm>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "shop/worked.h"

namespace spile::shop {
namespace {

using Pieces = std::vector<LayoutPiece>;

double area_of(const Pieces& pieces) {
    double area = 0;
    for (const LayoutPiece& piece : pieces) area += area_mm2(piece.outline);
    return area;
}

/// What goes together: the pieces of one carried pattern, or one piece. Largest first.
std::vector<Pieces> groups_of(const Pieces& pieces, const Goods& goods) {
    std::vector<Pieces> groups;
    for (const LayoutPiece& piece : pieces) {
        const bool in_pattern = goods.repeat.any() && !piece.cloth.empty();
        const auto same = std::find_if(groups.begin(), groups.end(), [&](const Pieces& group) {
            return in_pattern && group[0].cloth == piece.cloth;
        });
        if (same == groups.end())
            groups.push_back({piece});
        else
            same->push_back(piece);
    }
    std::stable_sort(groups.begin(), groups.end(),
                     [](const Pieces& a, const Pieces& b) { return area_of(a) > area_of(b); });
    return groups;
}

Pieces all_of(const std::vector<Pieces>& groups) {
    Pieces all;
    for (const Pieces& group : groups) all.insert(all.end(), group.begin(), group.end());
    return all;
}

/// The pieces on one length, which is there whole: nothing is gained by less of it, and the solver ends as soon as they fit.
std::optional<Layout> fits(const Pieces& pieces, const Goods& goods, const LayoutSolver& solver) {
    const double there =
        goods.outline.empty() ? goods.length_mm * goods.usable_width_mm : area_mm2(goods.outline);
    if (there > 0 && area_of(pieces) > there) return std::nullopt;
    Goods as_one_step = goods;
    as_one_step.step_mm = goods.length_mm;
    return proved_layout(pieces, as_one_step, solver);
}

/// The same as short as it goes, so that much of a roll stays whole.
std::optional<Layout> shortest(const Pieces& pieces, const Goods& goods, const LayoutSolver& solver,
                               Layout fitting) {
    if (!goods.outline.empty()) return fitting;
    std::optional<Layout> found = proved_layout(pieces, goods, solver);
    return found ? std::move(found) : std::optional<Layout>(std::move(fitting));
}

}  // namespace

std::optional<Layout> spread(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                             const std::vector<Stretch>& lengths, const LayoutSolver& solver) {
    Layout out;
    std::vector<Pieces> left = groups_of(pieces, goods);
    for (const Stretch& length : lengths) {
        if (left.empty()) break;
        Layout one;
        one.stretches = {length};
        const Goods own = goods_on(goods, one, 0);
        std::vector<Pieces> on_it, waiting;
        std::optional<Layout> best = fits(all_of(left), own, solver);
        if (best) {
            on_it = left;
        } else {
            for (Pieces& group : left) {
                on_it.push_back(group);
                if (std::optional<Layout> more = fits(all_of(on_it), own, solver)) {
                    best = std::move(more);
                } else {
                    on_it.pop_back();
                    waiting.push_back(std::move(group));
                }
            }
        }
        if (!best) {
            left = std::move(waiting);
            continue;
        }
        best = shortest(all_of(on_it), own, solver, std::move(*best));
        for (Placement p : best->placements) {
            p.stretch = static_cast<int>(out.stretches.size());
            out.placements.push_back(std::move(p));
        }
        out.rounds = std::max(out.rounds, best->rounds);
        out.stretches.push_back(length);
        left = std::move(waiting);
    }
    if (!left.empty()) return std::nullopt;
    // In the order of the pieces, as every layout is.
    std::vector<Placement> ordered;
    for (const LayoutPiece& piece : pieces)
        for (const Placement& p : out.placements)
            if (p.piece == piece.id) ordered.push_back(p);
    out.placements = std::move(ordered);
    measure_layout(pieces, goods, out);
    if (!check_layout(pieces, goods, out).empty()) return std::nullopt;
    return out;
}

}  // namespace spile::shop
