// Will the panels go in: the chance that an edge meets the boat or reaches over a lid, for every panel of a measured space.
#pragma once

#include "core/job/run_job.h"

namespace spile {

/// Fills `fits` and says of every panel whose worst edge is likelier than 1 in 100 to meet the boat (or to reach over the
/// line of a lid or door) which edge that is and
/// the clearance that would do ("edge-may-touch"). Edges that were taped to the boat and give up a clearance are judged;
/// joints, free and finished edges are not. Requires: surveys and panels of the job.
void fit_panels(const Job& job, Derived& derived);

}  // namespace spile
