// A printer that draws everything a little too small or too large, corrected.
#pragma once

#include "core/paper/sheets.h"

namespace spile::paper {

/// By how much to enlarge, so that what was printed at `rule_measured_mm` for 200 comes out true.
double print_scale(const PaperInput& in);

/// The page enlarged about its upper left corner: places, type, strokes and dashes; its paper stays what `paper` says.
/// Requires: by > 0.
Page enlarged(Page page, double by, const PaperSize& paper);

}  // namespace spile::paper
