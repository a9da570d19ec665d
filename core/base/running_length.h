// Lengths as goods are ordered.
#pragma once

#include <string>

#include "core/base/length.h"

namespace spile {

/// A length of goods, binding or thread as it is ordered: from one yard on in running yards ("3 yd"), where lengths are
/// in mm from one metre on in metres ("2.5 m"), rounded up to the next hundredth so that it is never short; below as
/// `plain_length` with its unit. Requires: `mm` finite, >= 0. Source: NIST Handbook 44, appendix C (1 yd = 0.9144 m).
std::string running_length(double mm, const LengthStyle& style);

}  // namespace spile
