// One way to make a stop.
#pragma once

#include "core/base/finding.h"

namespace spile {

/// A finding that stops: see Finding for what each of them says.
Finding stop_finding(std::string code, std::string says, std::string to_do, Subject subject,
                     std::vector<Quantity> numbers = {});

}  // namespace spile
