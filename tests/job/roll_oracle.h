// A second opinion on where pieces lie on the roll: its own flattening, moves and distances, and Clipper's set operations. Nothing
// of core/geom, core/layout/check or the solver takes part.
#pragma once

#include <string>
#include <vector>

#include "core/layout/layout.h"

namespace spile::testing {

/// Everything of that layout that breaks a rule of the roll, in words; empty when nothing does. On one length of the goods, or on
/// the offcut they are.
std::vector<std::string> faults_on_the_roll(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                            const Layout& layout);

}  // namespace spile::testing
