// Findings: everything a person must know, as data.
#pragma once

#include <string>
#include <vector>

namespace spile {

enum class Severity {
    note,  ///< good to know
    look,  ///< a person must decide
    stop,  ///< cutting is unsafe; blocks cutting papers unless overridden by name with a reason
};

/// What a finding is about, so that a drawing can show it.
struct Subject {
    std::string kind;  ///< "job", "space", "tie", "point", "panel", "edge", "corner", "opening", "stud",
                       ///< "piece", "goods"
    std::string
        id;  ///< its id within the job, e.g. "cockpit", "F B", "3", "3/A B"; empty when there is only one

    bool operator==(const Subject&) const = default;
};

/// A number of a finding, in the unit named; `name` is a word a person reads ("reads", "limit", "largest
/// possible").
struct Quantity {
    std::string name;
    double value = 0;
    std::string unit;  ///< "mm", "in", "deg", "mm2", "" for a count or ratio
};

struct Finding {
    std::string code;  ///< stable, lower case with dashes, e.g. "tie-to-itself"; overrides go by it
    Severity severity = Severity::note;
    Subject subject;
    std::vector<Quantity> numbers;
    std::string says;   ///< one plain sentence naming the thing, its value and the limit
    std::string to_do;  ///< what to do about it, in the imperative
    std::string where;  ///< for a fault of the document: "line 12, /spaces/0/ties/3"; else empty
};

const char* severity_name(Severity severity);

/// True when any finding is a stop.
bool has_stop(const std::vector<Finding>& findings);

/// Worst first; equal severities keep their order.
void sort_worst_first(std::vector<Finding>& findings);

/// Appends `more` to `findings`.
void append(std::vector<Finding>& findings, std::vector<Finding> more);

}  // namespace spile
