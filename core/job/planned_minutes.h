// How long each step on the ticket takes: what the job says, else what a quote counts for the same work.
#pragma once

#include "core/job/run_job.h"
#include "core/takeoff/work_times.h"

namespace spile {

/// Minutes by WorkStep. What the job plans itself (`papers.minutes`) stands; the rest is the work of the takeoff at `times`,
/// each operation to the hundredth as a quote counts it and given to the step it belongs to.
/// Guarantees: where the job plans nothing itself, the sum is that of the quote's labour at these times without
/// measuring ("space"), visits and travelling.
std::array<StepMinutes, work_steps> planned_minutes(const Job& job, const Derived& derived,
                                                    const WorkTimes& times);

}  // namespace spile
