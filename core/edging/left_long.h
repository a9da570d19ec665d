// Corners beside an edge that is left long.
#pragma once

#include "core/shape/panel.h"

namespace spile {

/// The panel as it is cut: outside corners of the net line that were rounded beside an edge left long are square again, at the
/// corner of `net_line.unrounded`. The goods that are left reach past the rounding; it is cut once the edge has been trimmed.
/// Inside corners stay round: there the goods that are left lie over the rounding. All else as in `panel`.
Panel as_cut(const Panel& panel);

}  // namespace spile
