// Which side of a line a point lies on, where the sizes alone leave it open: the walk settles it. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/equations.h"
#include "core/measure/say.h"

namespace spile::survey {

/// Chooses among the mirror images that fit the readings equally well the one whose walk is counter-clockwise, does not
/// cross itself, holds the other points inside and has the fewest inward corners. Says what stays in doubt and where
/// the walk contradicts the sizes.
/// `rivals`: other shapes known to fit as well. Requires: places adjusted in `datum`. Guarantees: places that fit the readings as well, no longer in any datum.
void settle_sides(const Network& network, const Datum& datum, const std::vector<bool>& takes_part,
                  const std::vector<Places>& rivals, Places& places, const Say& say);

}  // namespace spile::survey
