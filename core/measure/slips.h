// Which readings are wrong: data snooping after Baarda, several at once. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/quality.h"

namespace spile::survey {

struct Slip {
    int observation = 0;
    double slip_mm = 0;  ///< estimated with every other slip taken out; positive reads long
    double sd_mm = 0;
    double w = 0;  ///< slip over its standard deviation
    std::vector<int>
        alike;  ///< observations that explain the misclosure about as well, at most three, likeliest first
};

struct SlipReport {
    bool closes = true;       ///< all readings together pass the global test
    bool explained = true;    ///< they do once the slips are taken out
    std::vector<Slip> slips;  ///< likeliest first
    Places without;           ///< adjusted without the slips; the places handed in when there are none
};

/// |w| above which a reading among `tests` is suspected: the family-wise level of kFalseAlarm, shared evenly.
double critical_w(std::size_t tests);

/// `settled`: the places settle() found, where the odd readings were silent; a slip as long as the space bends `all` too far
/// to start from. Requires: `all` adjusted with every reading that takes part, and fixed.
SlipReport find_slips(const SpaceInput& space, const Equations& equations, const Places& all,
                      const Places& settled);

}  // namespace spile::survey
