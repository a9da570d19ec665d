// Finding a layout.
#pragma once

#include <vector>

#include "core/base/run_context.h"
#include "core/geom/tolerance.h"
#include "core/layout/layout.h"

namespace spile {

struct SolveOptions {
    int rounds = 40;     ///< orders tried after the first
    double seconds = 0;  ///< when > 0: stop at the first whole round after this long instead
    Resolution resolution;
};

/// A short layout of all pieces with their direction locked.
/// On bad input: a stop for each piece wider than the usable width less the gaps, naming both numbers.
Result<Layout> solve_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods, const SolveOptions& options,
                            const RunContext& run);

}  // namespace spile
