// Of layouts that take the same goods the one whose places are easily found with a tape.
#pragma once

#include <functional>

#include "core/layout/solve/prepare.h"

namespace spile::lay {

/// Moves items by some steps at most so that the lower left of their boxes lies on whole steps from the cut end and from the near
/// selvedge, where there is room for it; each way by itself where there is none for both.
/// Requires: `spots` legal within `length`; a step of one unit at least; a table that keeps its pairs. Guarantees: legal within
/// `length`; what is fixed or carries a pattern stays. `stop` ends it with what it has by then.
Spots on_whole_places(const FitTable& table, const Prepared& prepared, Spots spots, std::int64_t length,
                      std::int64_t step, const std::function<bool()>& stop);

/// How many ways (two of each item that may move) lie on whole steps.
int whole_places(const Prepared& prepared, const Spots& spots, std::int64_t step);

}  // namespace spile::lay
