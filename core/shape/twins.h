// Mirror twins: a panel made from the shape of another, port for starboard.
#pragma once

#include <optional>

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// The line between the two hands, through `at` and toward `toward`.
struct TwinLine {
    Vec2 at, toward;  ///< unit
};

/// The mirror twin of a finished panel: its lines rolled over about a line toward the bow (core/geom/transform.h), so that bow stays
/// bow. Its corners and match marks are named as those of the original with a dash, A' for A. Without `about` it has no place in the
/// boat: like a plain mat it is not held against other panels, which is said where it has joints. Unless it was checked it is
/// assumed, which is said with the sizes to tape aboard.
Panel twin_of(const Panel& original, const PanelInput& in, const std::optional<TwinLine>& about,
              Reporter& report);

}  // namespace spile
