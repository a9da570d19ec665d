// The job document: what a person said, and nothing that can be recomputed. docs/job-format.md is its description.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/base/result.h"
#include "core/job/json_with_lines.h"
#include "core/layout/layout.h"
#include "core/measure/survey.h"
#include "core/paper/paper_settings.h"
#include "core/shape/panel.h"
#include "core/takeoff/takeoff.h"

namespace spile {

inline constexpr int job_version = 1;  ///< of the format, the key "spile"

enum class MarkOn { back, face };
enum class Paper { a4, letter };

/// "This stop may pass, because ...": by code, subject and the fingerprint of the inputs it was judged on.
struct Override {
    std::string code;
    std::string subject;  ///< Subject::id
    std::string
        fingerprint;  ///< subject_fingerprint() when it was given; empty in a hand-written file means any
    std::string reason;
    std::string where;  ///< place in the document
};

/// Two people, or two screens, changed the same thing: `other` is what the document does not say.
struct Unsettled {
    std::string id;
    std::string target, field;            ///< of an Edit
    std::optional<JsonValue> was, other;  ///< absent: was not there, was taken out
    std::string where;                    ///< place in the document
};

/// A job, read: every choice resolved. `said` is the document it was read from; it alone is written, edited and merged,
/// and everything else here is derived from it by `job_from_said`. Never change one without the other.
struct Job {
    JsonValue said;  ///< as typed, except that every reading has its id

    int version = job_version;
    std::string title;  ///< "Cockpit sole"
    std::string boat;   ///< "open launch, 24 ft"
    std::string customer;
    std::string notes;
    Unit units = Unit::inch;        ///< of plain numbers outside the spaces, and of what is printed
    Paper paper = Paper::letter;    ///< of tickets and marking sheets
    std::optional<MarkOn> mark_on;  ///< required as soon as there are panels
    bool has_goods = false;  ///< false: `goods` holds defaults that nobody chose, and nothing is laid out
    Goods goods;
    double movement = 0;  ///< share by which the goods grow over the temperatures they meet; 0: not known
    bool pattern_carried = true;  ///< where the goods have a repeat: panels of one space read as one cloth
    FinishSettings finish;
    Clearances clearances;
    TakeoffSettings takeoff;
    PaperSettings papers;
    std::vector<SpaceInput> spaces;
    std::vector<PanelInput> panels;  ///< those without a fault
    std::size_t panels_said = 0;     ///< how many the document names
    std::vector<Override> overrides;
    std::optional<Layout>
        kept_layout;  ///< placements and rounds, accepted by a person; the rest is for run_job to work out
    std::string kept_fingerprint;  ///< of the inputs that layout was made from; empty: written by hand

    std::vector<Unsettled> unsettled;

    std::vector<Finding> faults;  ///< of the document; run_job passes them on, so that none can be cut past
};

/// Reads a job document (JSON; comments allowed; duplicate keys refused).
/// Guarantees: (1) every fault is a finding with line and path, value and limit; (2) what has no fault is there beside
/// what has; (3) Result::findings and Job::faults are the same; (4) readings without an id get the first free "t1",
/// "t2", ... in their order.
/// On bad input: `value` absent when a stop was found that leaves nothing to work on (not JSON, not a job, another
/// version).
Result<Job> read_job(const std::string& text);

/// The same from a document already parsed, edited or merged.
Result<Job> job_from_said(JsonValue said);

/// The document as text: keys in the order of docs/job-format.md, comments gone, everything said kept as typed, unknown
/// keys too.
/// Guarantees: (1) read_job of it gives the same job, places in the file apart; (2) writing that again gives the same
/// bytes.
std::string write_job(const Job& job);
std::string write_said(const JsonValue& said);

/// Lengths as the job's papers and findings say them.
LengthStyle lengths_of(const Job& job);

}  // namespace spile
