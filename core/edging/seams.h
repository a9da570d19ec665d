// Stitch lines and the length of binding.
#pragma once

#include "core/base/reporter.h"
#include "core/edging/piece.h"

namespace spile {

struct OuterSeams {
    std::vector<Seam> seams;  ///< boat space
    double binding_mm = 0;    ///< of the outside edge, overlaps included
};

/// Stitch lines along the bound and turned edges of the outside, `stitch_from_edge` inside the net line. A
/// binding runs round corners in one; it starts in the middle of a straight edge: the least seen, then the
/// longest. A turned edge is sewn from one square corner to the next.
OuterSeams outer_seams(const Panel& panel, const FinishSettings& settings, Reporter& report);

}  // namespace spile
