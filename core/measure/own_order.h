// A network numbered by what was taped, not by when it was written or how the points are called. Internal to measuring.
#pragma once

#include "core/measure/network.h"

namespace spile::survey {

/// The same network in its own order. Points: the corners as the walk meets them, from the first of `bow` when that is a
/// corner; the two of `bow`; then the others, told apart by their readings and by the points those lead to (colour
/// refinement, Weisfeiler and Leman 1968, from memory). Observations: by kind, points, value and doubt; of two points that
/// can be exchanged the lower comes first (Observation::turned).
/// Guarantees: readings in any order, under any names, tied from either end, give the same numbers, so that everything
/// worked out from them is the same to the last bit. Points that nothing tells apart (a figure that is its own image) keep
/// the order in which they were written; so do those that kRefinements rounds do not tell apart.
/// Cost: readings x rounds, a few.
Network in_own_order(const Network& network);

}  // namespace spile::survey
