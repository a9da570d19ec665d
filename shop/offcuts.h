// What a layout leaves of the roll, and what fits on it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/geom/outline.h"
#include "core/layout/layout.h"

namespace spile::shop {

struct OffcutRule {
    double least_mm =
        300;  ///< an offcut holds a square of this side everywhere; common practice, the shop's to set
    double flatten_mm = 0.25;  ///< how far a flattened arc may stand off the arc
};

/// What is left of the stretch [0, used] x [0, usable width] of the roll when pieces, fillers and the knife room round them are
/// gone, largest first. Slivers narrower than the rule are cut off.
/// Guarantees: (1) no offcut comes nearer to a piece than the gap less `flatten_mm`; (2) they do not overlap.
std::vector<Outline> offcuts_of(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                const Layout& layout, const OffcutRule& rule = {});

/// The same of an offcut that was cut: what the placements leave of it, `gap_mm` round each piece. Placements and what is
/// left in the offcut's own space.
std::vector<Outline> left_of(const Outline& offcut, const std::vector<LayoutPiece>& pieces,
                             const std::vector<Placement>& placements, double gap_mm,
                             const OffcutRule& rule = {});

/// A place where `piece`, only moved, lies inside `offcut` with `gap_mm` all round; nothing when none was found. Places are
/// tried `step_mm` apart and each one is proved, so a hit is always true and a tight fit may be missed.
std::optional<Vec2> fits_on(const Outline& piece, const Outline& offcut, double gap_mm, double step_mm = 20);

/// Places for all the pieces on an offcut, largest first, each proved by fits_on in what the others leave: `gap_mm` between
/// pieces, `edge_gap_mm` to the edge of the offcut. Nothing when one finds no place; a tight fit may be missed.
std::optional<std::vector<Placement>> nest_on(const std::vector<LayoutPiece>& pieces, const Outline& offcut,
                                              double gap_mm, double edge_gap_mm);

/// The largest rectangle along and across the goods that lies in an outline, on a grid of about `step_mm` (at most 1000
/// cells each way): the piece most jobs could still be cut from. What is thinner than the grid is not seen.
double largest_rectangle_mm2(const Outline& outline, double step_mm = 25);

/// Outlines as text: [[x, y, bulge], ...] in millimetres, shortest decimals that read back the same.
std::string outline_text(const Outline& outline);
/// On bad input: nothing.
std::optional<Outline> read_outline(const std::string& text);

}  // namespace spile::shop
