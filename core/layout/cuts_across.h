// Where the goods come apart straight across: all that is placed lies wholly on one side of such a cut or the other.
#pragma once

#include <optional>
#include <vector>

#include "core/layout/layout.h"

namespace spile {

/// Room for one straight cut, along the roll from the cut end.
struct CutAcross {
    double from_mm = 0, to_mm = 0;
};

/// Of one stretch, in order from its cut end, only those with something on both sides; fillers count as pieces. Pieces that touch (within
/// kPlacementRounding_mm) leave no room. Placements that name no piece are passed over.
std::vector<CutAcross> cuts_across(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                   const Layout& layout, std::size_t stretch = 0);

/// Where to make it: the roundest figure that a tape shows in the middle half of its room, else the one nearest the middle; none where
/// no mark falls within. It prints exactly in that style.
std::optional<double> cut_place_mm(const CutAcross& cut, const LengthStyle& lengths);

/// The places of all that have one, in order.
std::vector<double> cut_places_mm(const std::vector<CutAcross>& cuts, const LengthStyle& lengths);

}  // namespace spile
