// The job document: what a person said, and nothing that can be recomputed. docs/job-format.md is its description.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/base/result.h"
#include "core/layout/layout.h"
#include "core/measure/survey.h"
#include "core/shape/panel.h"
#include "core/takeoff/takeoff.h"

namespace spile {

enum class MarkOn { back, face };

/// "This stop may pass, because ...": by code, subject and the fingerprint of the inputs it was judged on.
struct Override {
    std::string code;
    std::string subject;      ///< Subject::id
    std::string fingerprint;  ///< of the finding's numbers as printed; empty in a hand-written file means any
    std::string reason;
};

struct Job {
    int version = 1;
    std::string title;     ///< "Cockpit sole"
    std::string boat;      ///< "open launch, 24 ft"
    std::string customer;
    std::string notes;
    Unit units = Unit::inch;  ///< of plain numbers outside the spaces, and of what is printed
    std::optional<MarkOn> mark_on;  ///< required as soon as there are panels
    Goods goods;
    FinishSettings finish;
    Clearances clearances;
    TakeoffSettings takeoff;
    std::vector<SpaceInput> spaces;
    std::vector<PanelInput> panels;
    std::vector<Override> overrides;
    std::optional<Layout> kept_layout;  ///< placements accepted by a person
    std::string kept_fingerprint;       ///< of the inputs that layout was made from
};

/// Reads a job document (JSON; comments allowed; duplicate keys refused).
/// On bad input: every fault is a finding with line and path, value and limit; `value` absent when a stop was found
/// that leaves nothing to work on (not JSON, not a job, newer version).
Result<Job> read_job(const std::string& text);

}  // namespace spile
