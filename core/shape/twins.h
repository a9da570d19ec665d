// Mirror twins: a panel made from the shape of another, port for starboard.
#pragma once

#include <optional>

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// The mirror twin of a finished panel: its lines rolled over about the line toward the bow (core/geom/transform.h), so that bow stays
/// bow. Its corners are named as those of the original with a dash, A' for A. It has no place in the boat: like a plain mat it
/// is not held against other panels. Unless it was checked it is assumed, which is said with the sizes to tape aboard.
Panel twin_of(const Panel& original, const PanelInput& in, Reporter& report);

}  // namespace spile
