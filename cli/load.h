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

/// The text of a file; `what` it should be, "a price list". On bad input: a stop "file-not-read" that says why.
Result<std::string> file_text(const std::string& path, const std::string& what);

/// The same; when it cannot be read, says why on stderr and returns nothing.
std::optional<std::string> load_text(const std::string& path, const std::string& what);

/// Writes a file that is not there yet. On bad input: a stop "file-there" or "file-not-written".
Result<std::string> write_new_file(const std::string& path, const std::string& bytes);

/// With as many threads as the machine has; they never change the layout.
LayoutSolver solver_for(const Job& job, SolveOptions options = {});

}  // namespace spile::cli
