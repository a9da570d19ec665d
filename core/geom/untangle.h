// The ground that a closed walk goes round, where the walk crosses itself.
#pragma once

#include <vector>

#include "core/geom/outline.h"

namespace spile {

/// Outlines around all ground that a closed walk goes round counter-clockwise at least once. A stretch that doubles back, or
/// turns the wrong way round (an edge moved past its neighbours), bounds nothing and is gone.
/// Guarantees: counter-clockwise outlines for the ground, clockwise ones for what it encloses without covering; edges
/// are stretches of the walk's, with their tags; a walk without fault comes back as it is.
/// On bad input: empty when the walk has fewer than two edges, or numbers that are not finite.
std::vector<Outline> untangled(const Outline& walk);

}  // namespace spile
