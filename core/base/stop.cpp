#include "core/base/stop.h"

#include <utility>

namespace spile {

Finding stop_finding(std::string code, std::string says, std::string to_do, Subject subject,
                     std::vector<Quantity> numbers) {
    return {std::move(code),
            Severity::stop,
            std::move(subject),
            std::move(numbers),
            std::move(says),
            std::move(to_do),
            ""};
}

}  // namespace spile
