#include "core/layout/solve/fillers.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/layout/solve/bottom_left.h"
#include "core/layout/solve/prepare.h"

namespace spile::lay {
namespace {

bool fits_across(const Problem& problem, std::size_t item) {
    const std::vector<int>& shapes = problem.items[item].shapes;
    return std::any_of(shapes.begin(), shapes.end(), [&](int shape) {
        return problem.boxes[static_cast<std::size_t>(shape)].height() <= problem.width;
    });
}

}  // namespace

std::vector<Placement> place_fillers(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                     const Layout& layout, Resolution resolution, const RunContext& run) {
    std::vector<LayoutPiece> all;
    for (const Placement& p : layout.placements)
        for (const LayoutPiece& piece : pieces)
            if (piece.id == p.piece) {
                all.push_back(piece);
                all.back().pin = p;
                all.back().cloth.clear();
            }
    const std::size_t panels = all.size();
    const std::vector<LayoutPiece> fillers = filler_pieces(goods);
    all.insert(all.end(), fillers.begin(), fillers.end());

    const Prepared prepared = prepare(all, goods, resolution, [&] { return run.cancelled(); });
    if (run.cancelled()) return {};
    const FitTable table(prepared.problem);
    // Beyond what the panels take the roll stays whole.
    const std::int64_t end = std::llround((layout.used_mm - 2 * goods.edge_gap()) * kUnitsPerMm);
    Spots spots = prepared.fixed;
    std::vector<char> lies = prepared.is_fixed;
    std::vector<char> placed(all.size(), 0);
    int full_for = -1;  // no other of that kind finds a place
    for (std::size_t i = panels; i < all.size() && !run.cancelled(); ++i) {
        const int kind = prepared.problem.items[i].kind;
        if (kind == full_for || !fits_across(prepared.problem, i)) continue;
        const Spots tried =
            bottom_left(table, {static_cast<int>(i)}, spots, lies, [&] { return run.cancelled(); });
        if (tried.empty()) break;
        const Spot& spot = tried[i];
        if (spot.at.x + prepared.problem.boxes[static_cast<std::size_t>(spot.shape)].max_x > end) {
            full_for = kind;
            continue;
        }
        spots = tried;
        lies[i] = placed[i] = 1;
    }
    const std::vector<Placement> where = placements_of(all, prepared, spots);
    std::vector<Placement> out;
    for (std::size_t i = panels; i < all.size(); ++i)
        if (placed[i]) out.push_back(where[i]);
    return out;
}

}  // namespace spile::lay
