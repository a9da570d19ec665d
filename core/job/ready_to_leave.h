// The ready-to-leave list: what a space still lacks before anyone goes home.
#pragma once

#include "core/job/run_job.h"

namespace spile {

/// Adds to `missing` of every survey what measuring alone cannot know: what the edges meet, studs, lids and how high they
/// stand, the thickness of the goods. Then takes out every line that the space answers ("leaving"), each with a note
/// "left-open" that stands on the papers. Requires: surveys and panels of the job.
void ready_to_leave(const Job& job, Derived& derived);

}  // namespace spile
