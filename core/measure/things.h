// Round things, rounded corners and heights: what is taken at points rather than between them. Internal to measuring.
#pragma once

#include "core/measure/say.h"

namespace spile::survey {

/// Fills `round_things`, `rounded_corners` and `heights_mm` of a survey whose points are placed. A diameter that is not taped
/// follows from the rim (mean distance of its points from the middle). A rounding given by the points where it begins
/// and ends has the radius t tan(half the angle), t the mean of its two tangent lengths.
void things_of(const SpaceInput& space, const Say& say, Survey& survey);

}  // namespace spile::survey
