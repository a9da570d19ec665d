// What a person decides after seeing results: a stop that may pass, a layout that is kept.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/job/document.h"
#include "core/job/run_job.h"

namespace spile {

/// The job with this layout kept, together with the fingerprint of what it was made from.
/// Requires: `layout` was made from this job.
Result<Job> keep_layout(const Job& job, const Layout& layout);

/// The job with this stop overridden, for as long as what it was judged on does not change. An older override of the same
/// code and subject is replaced.
/// Requires: a stop of run_job about this job, not one of Job::faults, which are mended in the file.
/// On bad input: a reason that is empty or cannot be printed is a fault of the job returned.
Result<Job> override_stop(const Job& job, const Finding& stop, const std::string& reason);

/// Moves overridden stops from `derived.findings` to `derived.overridden`. An override whose inputs have changed since
/// leaves its stop standing and says so; one that answers nothing is noted.
void apply_overrides(const Job& job, Derived& derived);

/// The kept layout, measured and judged against the pieces as they are: current; changed but proved still legal (a
/// `look`); or stale: nothing is returned and a `look` gives the checker's reasons.
std::optional<Layout> judge_kept_layout(const Job& job, const std::vector<LayoutPiece>& pieces,
                                        std::vector<Finding>& findings);

}  // namespace spile
