// "24 x 36": two lengths in one text. Inside of core/job.
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "core/job/section.h"

namespace spile {

/// Reads "24 x 36" or "600 x 900 mm". A unit behind the second counts for both; two different units are a question.
/// On bad input: nothing, and a fault at `at` that says how it is written.
std::optional<std::pair<double, double>> read_two_lengths(Faults& faults, const Place& at,
                                                          const Subject& subject, const std::string& name,
                                                          const std::string& text, Unit unit,
                                                          LengthRule rule);

}  // namespace spile
