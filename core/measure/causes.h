// The usual causes of a slip, tested against the size it was found to have. Internal to measuring.
#pragma once

#include <string>
#include <vector>

#include "core/measure/equations.h"

namespace spile::survey {

/// How a reading may have come out wrong, and the reading as it would then be.
struct Cause {
    double shift_mm = 0;   ///< reads minus what it would have read: positive reads long, as spoken
    double weight = 0;     ///< how often it happens against the others; common practice, no source
    std::string words;     ///< "an inch was burned and not given back"
    std::string proposed;  ///< the whole line as it would be
};

/// A slip as a person sees it: an offset to the right that reads long has a value further to the right.
double spoken_slip_mm(const Observation& o, double slip_mm);

/// Everything that could have happened to one size of a reading, likeliest first; the places are not looked at.
/// Guarantees: every proposed line is read by parse_reading_line and gives the size less the shift.
std::vector<Cause> usual_causes(const SpaceInput& space, const Network& net, const Observation& o);

/// The likeliest cause of a slip within its doubt, or nothing. `without`: places adjusted without the slip, to tell a tie
/// that was taped between other points than written.
struct Guess {
    std::string words, proposed;  ///< empty when no cause fits
};
Guess guess_cause(const SpaceInput& space, const Network& net, const Observation& o, double slip_mm,
                  double sd_mm, const Places& without);

/// Logarithm of how often a slip of about this size happens, per mm, for weighing readings that explain a misclosure about
/// as well. Slips of a usual cause weigh more than those of any other size.
double log_frequency(const std::vector<Cause>& causes, double spoken_mm, double sd_mm);

}  // namespace spile::survey
