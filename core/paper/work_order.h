// The order of work of a job, as the ticket has it ticked.
#pragma once

#include <string>
#include <vector>

#include "core/paper/sheets.h"

namespace spile::paper {

struct WorkLine {
    WorkStep step;
    std::string words;  ///< with `strong` stretches
};

/// In the order of the hand, each caution beside its step. Requires: in.pieces.
std::vector<WorkLine> work_in_order(const PaperInput& in);

}  // namespace spile::paper
