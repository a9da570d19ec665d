// What was said twice, in words. Inside of core/job.
#pragma once

#include <vector>

#include "core/job/document.h"

namespace spile {

/// One finding for each: a stop where the answer can move a line or change what is cut, else a `look`.
std::vector<Finding> unsettled_findings(const Job& job);

}  // namespace spile
