// Of layouts of one length the one with more straight cuts across: a row comes off the roll and is cut up on the table.
#pragma once

#include "core/layout/solve/prepare.h"

namespace spile::lay {

/// How many lines straight across the strip have pieces on both sides and the gap between them.
int straight_cuts(const Problem& problem, const Spots& spots, double gap_mm);

/// The same pieces in rows, every row parted from the next by a straight cut, where that makes more such cuts and is no longer; else
/// `spots`. Rows are filled by first fit and by best fit, the longest pieces first, boxes side by side from the near selvedge.
/// Requires: nothing fixed, no flaws, no cloths. "No longer": to a micrometre, to which places are rounded.
Spots in_rows(const Prepared& prepared, const Spots& spots, double gap_mm);

}  // namespace spile::lay
