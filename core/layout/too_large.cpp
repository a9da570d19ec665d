#include "core/layout/too_large.h"

#include "core/geom/measure_of.h"

namespace spile {
namespace {

std::string said(double mm, LengthStyle style) {
    style.with_unit = true;
    return plain_length(mm, style);
}

/// Of what the edges leave.
std::string left(double mm, double room, const LengthStyle& style) {
    return mm > 0 ? said(mm, style) : "nothing: " + said(room, style) + " is kept free at either edge";
}

}  // namespace

std::vector<Finding> pieces_too_large(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                      const LengthStyle& style) {
    std::vector<Finding> faults;
    const double room = goods.edge_gap();
    const double across = goods.usable_width_mm - 2 * room;
    const double along = goods.length_mm - 2 * room;
    for (const LayoutPiece& piece : pieces) {
        const auto stop = [&](const char* code, std::vector<Quantity> numbers, std::string says,
                              std::string to_do) {
            faults.push_back({code,
                              Severity::stop,
                              {"piece", piece.id},
                              std::move(numbers),
                              std::move(says),
                              std::move(to_do),
                              ""});
        };
        const Box box = piece.outline.outer.empty() ? Box{{0, 0}, {0, 0}} : box_of(piece.outline);
        if (piece.outline.outer.size() < 2 || !(area_mm2(piece.outline.outer) > 0)) {
            stop("layout-no-area", {}, "Piece " + piece.id + " has no area.",
                 "Check the corners of its panel, and that its finish leaves something of it.");
            continue;
        }
        // As it stands or, where the goods allow it, turned; half a turn changes no size.
        const bool in_pattern = goods.repeat.any() && !piece.cloth.empty();
        const auto fits = [&](double width, double height) {
            return height <= across + kPlacementRounding_mm &&
                   (goods.length_mm <= 0 || width <= along + kPlacementRounding_mm);
        };
        if (turn_allowed(goods.turning, 1, in_pattern) && fits(box.height(), box.width())) continue;
        if (box.height() > across + kPlacementRounding_mm)
            stop("layout-too-wide",
                 {{"width", box.height(), "mm"},
                  {"room", across, "mm"},
                  {"usable width", goods.usable_width_mm, "mm"}},
                 "Piece " + piece.id + " is " + said(box.height(), style) +
                     " wide across the direction of the goods; their usable width of " +
                     said(goods.usable_width_mm, style) + " leaves " + left(across, room, style) + ".",
                 "Make the panel in two with a joint along the direction, or take wider goods.");
        if (goods.length_mm > 0 && box.width() > along + kPlacementRounding_mm)
            stop("layout-too-long",
                 {{"length", box.width(), "mm"},
                  {"room", along, "mm"},
                  {"length of the goods", goods.length_mm, "mm"}},
                 "Piece " + piece.id + " is " + said(box.width(), style) + " long; the " +
                     said(goods.length_mm, style) + " of goods leave " + left(along, room, style) + ".",
                 "Take longer goods, or make the panel in two.");
    }
    return faults;
}

}  // namespace spile
