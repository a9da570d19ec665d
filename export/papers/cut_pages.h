// The drawing for machines as pages at true size, for a plotter that is fed PDF.
#pragma once

#include "core/paper/display_list.h"
#include "export/lines/machine_drawing.h"

namespace spile {

/// Pages at 1:1, the drawing 15 mm from their edges, a rule of 100 mm under it; a drawing that is longer goes on where the page
/// before it ended, so that pages laid end to end are the whole. `longest_mm`: of a page; the drawing is seen as it is,
/// nothing is mirrored. Lines differ by their dashes: solid CUT THROUGH, long dashes BACKING ONLY, short dashes stitches.
Sheet cut_pages(const MachineDrawing& drawing, double longest_mm);

}  // namespace spile
