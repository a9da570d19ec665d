// Random jobs to lay out: panels of one sole with bowed sides, openings, slits and round corners, mats, and goods of every kind.
#pragma once

#include <string>

namespace spile::testing {

/// A job document in millimetres. The same seed gives the same text.
std::string random_roll_job(unsigned seed);

}  // namespace spile::testing
