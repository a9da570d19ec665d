// How far a tape reading may be off.
#pragma once

#include "core/measure/survey.h"

namespace spile {

/// Maximum permissible error of a tape for a length, mm: a + b L, L in metres rounded up to the next whole metre, plus c
/// when one end is a surface or hook. Source: Directive 2014/32/EU Annex X (MI-008). Requires: length_mm >= 0.
double permissible_error_mm(TapeClass tape_class, bool hook, double length_mm);

/// Standard deviation of one taped distance, mm: the permissible error as a rectangular law (over sqrt 3, GUM 4.3.7, from
/// memory), the reading step likewise (over sqrt 12) and the placing of the two ends together, added as variances.
double distance_sd_mm(const TapeSettings& tape, double length_mm);

}  // namespace spile
