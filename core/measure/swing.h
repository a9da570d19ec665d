// What the readings leave free to swing, and the ties that would pin it. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/equations.h"

namespace spile::survey {

/// A point whose standard deviation along some direction is larger than this is not fixed at all.
constexpr double kSwings_mm = 100;

struct Pin {
    int point;         ///< that can swing
    int to;            ///< tie it to this one; -1 when no single tie would pin it
    bool more_needed;  ///< after this tie the point can still swing
};

struct Swing {
    std::vector<bool> loose;  ///< by point
    std::vector<Pin>
        pins;  ///< ties that together fix everything, in the order to make them; at most `most_pins`
    bool any() const;
};

/// Requires: places adjusted in `datum`, whose points hold together.
Swing find_swing(const Network& network, const Datum& datum, const Places& places, std::size_t most_pins);

}  // namespace spile::survey
