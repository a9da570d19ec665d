// Which readings can move an outline?
#pragma once

#include <vector>

#include "core/job/document.h"

namespace spile {

/// The readings of a space without those that only place what hangs on the outlines: heights, and points that no outline names
/// (studs) and that no more than two sizes place, which can give way to nothing. Whatever such a size says, the other points stay.
/// Requires: `space` is one of the job's.
/// Guarantees: in their order; a line that places several points keeps the others.
std::vector<Reading> outline_readings(const Job& job, const SpaceInput& space);

}  // namespace spile
