// Which side of a line a point lies on, where the sizes alone leave it open: the walk settles it. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/equations.h"
#include "core/measure/say.h"

namespace spile::survey {

/// Chooses among the mirror images that fit the readings equally well the one whose walk is counter-clockwise, does not
/// cross itself, holds the other points inside and has the fewest inward corners. Says what stays in doubt and where
/// the walk contradicts the sizes.
/// Requires: places adjusted. Guarantees: places adjusted, in the datum given (mirrored where free).
void settle_sides(const Network& network, const Datum& datum, const std::vector<bool>& takes_part,
                  Places& places, const Say& say);

}  // namespace spile::survey
