// Repeat orders: a new job from one that was fitted, and the few sizes that say whether the boat is still the same.
#pragma once

#include <string>
#include <vector>

#include "core/job/run_job.h"
#include "shop/jobs.h"

namespace spile::shop {

struct NewRepeat {
    Id job = 0;    ///< whose pattern as fitted is taken
    Id goods = 0;  ///< of the book; 0: the goods it had
    Id customer = 0, boat = 0;
    bool sister = false;  ///< for another boat of the model: nothing is cut before its check sizes agree
    std::string promised, by;
};

/// A new enquiry whose document is the pattern as fitted, without its layout. A copy for a sister boat is `unchecked`, and so is
/// every repeat for a boat other than the one it was made for.
/// On bad input: "not-fitted" when the job has no pattern as fitted, "not-there", "boat-of-another", "date-refused".
Result<JobHead> start_repeat(Store& store, const NewRepeat& repeat);

/// A size to take aboard again.
struct CheckSize {
    std::string space, from, to;
    double expected_mm = 0;
    double sd_mm = 0;     ///< of the difference to a new reading: the pattern's doubt and the tape's
    double limit_mm = 0;  ///< kCheckLimit of these
};

/// 0.1 % two-sided of a normal: as a single size is judged elsewhere in the program (3.2905, from memory).
inline constexpr double kCheckLimit = 3.2905;

/// Of every space, the longest taped size in each of four directions: along the boat, across, and both ways between, so that
/// length, width and squareness are all seen. Only sizes that somebody taped before can be taped again.
/// On bad input: the findings of a space that cannot be worked out.
Result<std::vector<CheckSize>> check_sizes(const Job& job);

struct CheckedSize {
    CheckSize size;
    std::string typed;  ///< empty: not taken yet
    double reads_mm = 0;
    bool agrees = false;
};
struct Checked {
    std::vector<CheckedSize> sizes;
    bool all_agree = false;
    JobHead job;
};

/// Judges sizes taken aboard, lines such as "A C 111 1/4", against the pattern. When each of the check sizes is given and agrees
/// within its doubt, the job counts as checked from then on; a note keeps what was measured.
/// On bad input: "reading-..." for a line that cannot be read, "no-check-size" for one that is not asked for. A size that
/// differs is a look "check-size-differs" beside the value, one not taken a note "check-size-missing"; the job stays as it is.
Result<Checked> check_repeat(Store& store, Id job, const std::vector<std::string>& lines,
                             const std::string& by);

}  // namespace spile::shop
