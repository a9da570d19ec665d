// How far a pattern is out where two panels meet.
#pragma once

#include <string>
#include <vector>

#include "core/job/run_job.h"

namespace spile {

struct PatternJoint {
    std::string first, second;  ///< panels
    std::string at;             ///< "joint spine", "edge A B"
    bool known = true;          ///< false: cut from two lengths of goods, or turned: nothing can be said
    Vec2 out_mm;  ///< of the second against the first, along and across the goods; 0 when carried
};

/// Every joint of two panels of one space: a stored joint line both end at, or an edge that both call a joint. In the order of
/// the panels. Empty without goods that repeat, or without a layout.
std::vector<PatternJoint> pattern_at_joints(const Job& job, const Derived& derived);

/// "At joint spine of panels 1 and 2 the pattern is out by 1 in along and 0 in across."
std::string pattern_words(const PatternJoint& joint, const LengthStyle& lengths);

}  // namespace spile
