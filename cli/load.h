// A job from a file, and the solver that this program brings.
#pragma once

#include <optional>
#include <string>

#include "core/job/document.h"
#include "core/job/run_job.h"
#include "core/layout/solve/solve.h"

namespace spile::cli {

/// Reads a job file. When there is nothing to work on, says why on stderr and returns nothing.
std::optional<Job> load_job(const std::string& path);

/// With as many threads as the machine has; they never change the layout.
LayoutSolver solver_for(const Job& job, SolveOptions options = {});

}  // namespace spile::cli
