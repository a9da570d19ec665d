// Where flaps meet: notches at outside corners, slits at inside ones.
#pragma once

#include "core/edging/turning.h"

namespace spile {

/// A corner of the net outline at which a flap ends.
struct FoldCorner {
    std::size_t vertex = 0;  ///< of the net outline: between edges vertex - 1 and vertex
    Vec2 at;
    Vec2 along_before, along_after;      ///< unit, from the corner along either edge
    Vec2 outside_before, outside_after;  ///< unit, square to them, away from the panel
    double angle_rad = 0;                ///< inside the panel
    bool inside = false;                 ///< more than half a turn inside the panel
    bool sharp = false;                  ///< under 60 degrees
    bool before_turned = false, after_turned = false;
};

/// Corners where a flap must be parted: two turned edges whose flaps would not lie flat within the facet as one, or a turned
/// edge and another.
std::vector<FoldCorner> fold_corners(const TurningLines& lines);

/// Notches and slits at the corners; under and over by the strips' steps. Adds to `out`.
void cut_corners(const TurningLines& lines, const std::vector<FoldCorner>& corners, Turning& out,
                 Reporter& report);

}  // namespace spile
