// Goods that grow in the sun against the clearance their edges were given.
#pragma once

#include "core/job/run_job.h"

namespace spile {

/// Says of every panel whose goods grow by more than an edge gives up which edge lacks most ("goods-move"). A panel lies
/// where it lies in the middle: half of what it grows across shows at each edge. Judged are edges that meet the boat, a lid
/// or a neighbour and were taped to them. Nothing is said unless the job gives the movement of its goods.
/// Requires: panels of the job.
void judge_movement(const Job& job, Derived& derived);

}  // namespace spile
