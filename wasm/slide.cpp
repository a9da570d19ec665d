// How far a piece may go towards where it is dragged.
#include "wasm/slide.h"

#include <cmath>

#include "core/layout/check/check.h"
#include "core/layout/check/nearest.h"
#include "wasm/show.h"
#include "wasm/worked.h"

namespace spile::surface {
namespace {

/// Halving stops at this: finer than a knife.
constexpr std::int64_t near_um = 50;

struct Slide {
    const std::vector<LayoutPiece>& pieces;
    const Goods& goods;
    const LengthStyle& style;
    Layout layout;
    std::size_t moved;  ///< index of the placement

    bool legal_at(std::int64_t x, std::int64_t y) {
        layout.placements[moved].x_um = x;
        layout.placements[moved].y_um = y;
        measure_layout(pieces, goods, layout);
        return check_layout(pieces, goods, layout, style).empty();
    }
    /// From a legal place as far along the straight way to `to` as halving finds legal; there is no gap that it leaps.
    void go(std::int64_t& x, std::int64_t& y, std::int64_t to_x, std::int64_t to_y) {
        if (legal_at(to_x, to_y)) {
            x = to_x;
            y = to_y;
            return;
        }
        while (std::llabs(to_x - x) > near_um || std::llabs(to_y - y) > near_um) {
            const std::int64_t mid_x = x + (to_x - x) / 2, mid_y = y + (to_y - y) / 2;
            if (legal_at(mid_x, mid_y)) {
                x = mid_x;
                y = mid_y;
            } else {
                to_x = mid_x;
                to_y = mid_y;
            }
        }
    }
};

}  // namespace

Json slide_piece(Request& r) {
    const std::optional<Layout> layout = r.layout("layout");
    const std::string piece = r.text("piece");
    const double x = r.number("x_um"), y = r.number("y_um");
    const Worked* worked = pieces_of(r);
    if (!worked || !r.good()) return r.refusal();
    constexpr double farthest_um = 1e9;
    std::size_t moved = 0;
    while (layout && moved < layout->placements.size() && layout->placements[moved].piece != piece) ++moved;
    if (!layout || moved >= layout->placements.size() || !(std::fabs(x) <= farthest_um) ||
        !(std::fabs(y) <= farthest_um))
        return refused({question_fault("The layout does not place " + piece + ", or the place is none.",
                                       "Give \"layout\", \"piece\", \"x_um\" and \"y_um\".")});
    const std::vector<LayoutPiece> pieces = layout_pieces(worked->job, worked->derived);
    const LengthStyle style = lengths_of(worked->job);
    Slide slide{pieces, worked->job.goods, style, on_kept_stretches(*layout, worked->job), moved};
    const Placement before = layout->placements[moved];
    const std::int64_t want_x = std::llround(x), want_y = std::llround(y);
    const bool wanted = slide.legal_at(want_x, want_y);
    const std::vector<Finding> findings = check_layout(pieces, worked->job.goods, slide.layout, style);
    std::int64_t at_x = want_x, at_y = want_y;
    if (!wanted && slide.legal_at(before.x_um, before.y_um)) {
        at_x = before.x_um;
        at_y = before.y_um;
        slide.go(at_x, at_y, want_x, want_y);
        slide.go(at_x, at_y, want_x, at_y);  // along what stopped it
        slide.go(at_x, at_y, at_x, want_y);
        // Beyond what stops it there may be room that is nearer to where it was dragged.
        const auto away = [&](std::int64_t x_um, std::int64_t y_um) {
            const double dx = static_cast<double>(x_um - want_x), dy = static_cast<double>(y_um - want_y);
            return dx * dx + dy * dy;
        };
        slide.layout.placements[moved] = before;
        const std::optional<Placement> near =
            nearest_legal(pieces, worked->job.goods, slide.layout, moved, want_x, want_y);
        if (near && away(near->x_um, near->y_um) < away(at_x, at_y) &&
            slide.legal_at(near->x_um, near->y_um)) {
            at_x = near->x_um;
            at_y = near->y_um;
        }
    }
    return {{"ok", true}, {"legal", wanted}, {"x_um", at_x}, {"y_um", at_y}, {"findings", shown(findings)}};
}

}  // namespace spile::surface
