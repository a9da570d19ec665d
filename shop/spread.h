// A set laid out over several lengths of goods. Inside of shop/.
#pragma once

#include <optional>
#include <vector>

#include "core/job/run_job.h"
#include "core/layout/layout.h"

namespace spile::shop {

/// The pieces on these lengths, one after another: on each as much as goes, the largest first, and all that is left as soon
/// as it fits. Only the lengths that are used stand in the result, in their order; nothing when pieces are left over.
/// Guarantees: (1) what is returned has passed check_layout; (2) pieces that carry one pattern lie on one length.
/// The order decides, and a tight fit may be missed: the caller tries several. Cost: the solver once for every piece and
/// length that is tried; where it fits it ends early.
std::optional<Layout> spread(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                             const std::vector<Stretch>& lengths, const LayoutSolver& solver);

}  // namespace spile::shop
