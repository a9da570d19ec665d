// A proof that no layout of a handful of pieces is shorter: every arrangement tried, by relative places of pairs.
#pragma once

#include <functional>
#include <vector>

#include "core/layout/layout.h"

namespace spile::lay {

/// More pieces than this are not tried.
inline constexpr std::size_t kMostProved = 6;

struct ProofBudget {
    long nodes = 60'000;         ///< of the tree over all attempts: a second or a few
    std::function<bool()> stop;  ///< true: given up; may be empty
};

/// Is it proved that no legal layout takes `length_mm` or less? False says nothing.
/// Method: polygons inside the true shapes (grown by half the gap less what the checker lets pass) are cut into convex parts.
/// Two parts that do not overlap are parted by one of the edges of their no-fit polygon, a linear condition on the places;
/// where a linear program with the conditions chosen so far lets two parts overlap, one branch is opened for every edge. A
/// branch ends when its program has no solution. That is believed only when the multipliers of the simplex tableau, put
/// to the conditions as they were written, leave a contradiction larger than a millionth of a millimetre.
/// Sources: branching over the edges of no-fit polygons, Fischetti and Luzzi 2009; Farkas' lemma for the certificate.
/// Requires: no outline of an offcut. Pins, flaws and patterns are left out, which only lowers what can be proved.
bool no_layout_within(const std::vector<LayoutPiece>& pieces, const Goods& goods, double length_mm,
                      ProofBudget& budget);

}  // namespace spile::lay
