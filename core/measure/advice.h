// Which ties to take next: for a shape that stands, those that improve its weakest check or its worst point most.
// Internal to measuring.
#pragma once

#include <string>
#include <vector>

#include "core/measure/quality.h"
#include "core/measure/say.h"

namespace spile::survey {

/// A slip that shows only from here on could spoil a panel: the size at which one is asked to be seen (1/2 in).
constexpr double kWellChecked_mm = 12.7;
/// A point less sure than this leaves no clearance to a wall (3/16 in, common practice).
constexpr double kWeak_mm = 25.4 * 3 / 16;

/// A doubt beyond this is no number worth saying: readings bent by a slip can leave a point held by next to nothing.
constexpr double kHardly_mm = 1000;

/// "F is sure only to about 1/4 in", "F is hardly held at all".
std::string how_sure(const std::string& name, double sd_mm, const Say& say);

/// Standard deviation along the worst direction.
double largest_sd(const Cov2& c);

/// Up to three ties, each taken as made before the next is chosen, best first: while some reading would not show a slip of
/// kWellChecked_mm, the tie at one of its points that lets the smallest slip of that reading show; then, while some point
/// is less sure than kWeak_mm, the tie that makes it surest. Pairs already taped are not offered.
/// Requires: a fixed shape of at most kMostDense points. `covariance`: as Survey::covariance_mm2, by the points that take
/// part, ascending. Cost: readings x points per tie.
std::vector<std::string> next_ties(const Quality& quality, const Places& places, const TapeSettings& tape,
                                   std::vector<double> covariance, const Say& say);

}  // namespace spile::survey
