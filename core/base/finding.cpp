#include "core/base/finding.h"

#include <algorithm>
#include <iterator>

namespace spile {

const char* severity_name(Severity severity) {
    switch (severity) {
        case Severity::note:
            return "note";
        case Severity::look:
            return "look";
        case Severity::stop:
            return "stop";
    }
    return "note";
}

bool has_stop(const std::vector<Finding>& findings) {
    return std::any_of(findings.begin(), findings.end(),
                       [](const Finding& f) { return f.severity == Severity::stop; });
}

void sort_worst_first(std::vector<Finding>& findings) {
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Finding& a, const Finding& b) { return a.severity > b.severity; });
}

void append(std::vector<Finding>& findings, std::vector<Finding> more) {
    findings.insert(findings.end(), std::make_move_iterator(more.begin()),
                    std::make_move_iterator(more.end()));
}

}  // namespace spile
