// Fillers beside the panels of a layout in hand. Inside of server/.
#pragma once

#include <vector>

#include "core/job/run_job.h"

namespace spile::server {

/// Where the job's fillers find room beside these placements, one length of the goods; none when the placements may not be cut.
std::vector<Placement> fillers_of(Job job, std::vector<Placement> placements);

}  // namespace spile::server
