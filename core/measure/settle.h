// From a network to its adjusted places: the best of several starts. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/equations.h"

namespace spile::survey {

struct Settled {
    Datum datum;  ///< a pair of points well inside the net, or the square lines
    Places places;
    double sum = 0;
    double robust_sum = 0;
};

/// Requires: at least one observation. Guarantees: a place for every point, found or not.
Settled settle(const Network& network);

/// Least squares in which single wrong readings lose their weight (iterated, weights of Geman and McClure).
Adjusted adjust_robustly(const Network& network, const Datum& datum, const Places& start,
                         const std::vector<bool>& takes_part = {});

/// Sum of robust() over the observations whose points take part.
double robust_sum(const Network& network, const Places& places, const std::vector<bool>& takes_part = {});

}  // namespace spile::survey
