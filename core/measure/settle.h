// From a network to its adjusted places: the best of several starts. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/equations.h"

namespace spile::survey {

struct Settled {
    Datum datum;  ///< a pair of points well inside the net, or the square lines
    Places places;
    std::vector<Places>
        rivals;  ///< other shapes, not mere mirror images of the whole, that fit about as well
    double robust_sum = 0;
};

/// A shape whose squared misfit is this much larger is ruled out: 1000 to 1.
constexpr double kRuledOut = 13.8;
/// Shapes that differ by less than this in every distance are one: it makes no difference to a panel.
constexpr double kOneShape_mm = 6;

/// Largest difference between two sets of places in the distance of any two points that take part, and that pair.
struct Difference {
    int p = -1, q = -1;
    double mm = 0;
};
Difference difference(const Places& one, const Places& other, const std::vector<bool>& takes_part = {});

/// Requires: at least one observation. Guarantees: a place for every point, found or not.
Settled settle(const Network& network);

/// Least squares in which single wrong readings lose their weight (iterated, weights of Geman and McClure).
Adjusted adjust_robustly(const Network& network, const Datum& datum, const Places& start,
                         const std::vector<bool>& takes_part = {});

/// Sum of robust() over the observations whose points take part.
double robust_sum(const Network& network, const Places& places, const std::vector<bool>& takes_part = {});

}  // namespace spile::survey
