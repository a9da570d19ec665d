// Jobs and their history. A job is its document (docs/job-format.md) and every document it ever was.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "shop/store.h"

namespace spile::shop {

/// In the order of the work; `not_taken` may follow any of the first three.
enum class JobState { enquiry, quoted, ordered, in_work, fitted, paid, not_taken };

const char* state_word(JobState state);  ///< "enquiry", "in work", "not taken"
std::optional<JobState> state_of(const std::string& word);

/// What lists show: all but the document.
struct JobHead {
    Id id = 0;
    Id customer = 0, boat = 0;
    JobState state = JobState::enquiry;
    std::string promised;                           ///< "2026-05-01", or empty
    int rev = 0;                                    ///< of the newest document; the first is 1
    std::string title, boat_words, customer_words;  ///< as the newest document says
    Id repeat_of = 0;                               ///< the job it was started from
    int repeat_of_rev = 0;
    bool unchecked = false;  ///< a copy for a sister boat whose check sizes have not agreed yet
    int as_fitted_rev = 0;   ///< the revision that was corrected aboard: the next pattern; 0: none
    Seconds created = 0, changed = 0;
};

struct NewJob {
    std::string document;  ///< JSON text of a job; it may still have faults
    Id customer = 0, boat = 0;
    JobState state = JobState::enquiry;
    std::string promised;
    std::string by;  ///< who
};

/// One small operation between two revisions, as core/job writes it.
struct Edit {
    std::string op_id;  ///< made by the editor, once per job: a repeated send is found by it
    std::string op;     ///< JSON text, kept as given
};

struct NewRevision {
    Id job = 0;
    int base_rev = 0;      ///< the revision that was edited
    std::string document;  ///< the whole new document
    std::vector<Edit> edits;
    std::string by, why;  ///< who; "edit", "undo", "restored 12", ...
};

struct RevisionHead {
    int rev = 0;
    Seconds at = 0;
    std::string by, why;
    std::size_t bytes = 0;  ///< of the document
    std::size_t edits = 0;
};

struct Revision : RevisionHead {
    std::string document;  ///< exactly the bytes that were given
};

struct KeptEdit : Edit {
    int rev = 0;  ///< the revision it made
};

struct JobQuery {
    std::string text;  ///< every word must occur in title, boat (name, make, model, hull number) or customer
    std::optional<JobState> state;
    Id customer = 0, boat = 0;
    std::size_t limit = 50;  ///< at most 1000
    std::size_t skip = 0;
    bool as_fitted = false;  ///< only those with a pattern as fitted
};

/// Documents are at most this long, like job files.
inline constexpr std::size_t kLargestDocument_bytes = 4'000'000;

/// On bad input: "not-a-job" when the text is no JSON object with the key "spile"; "date-refused"; "not-there" for an
/// unknown customer or boat; "boat-of-another" for a boat of another customer.
Result<JobHead> add_job(Store& store, const NewJob& job);

/// The next revision, if nobody else made one since `base_rev`.
/// On bad input: "job-changed-since" with the numbers "base" and "newest": read both revisions (and edits_since) to
/// merge or to show; "edit-known" with the number "made" when an op_id has been used before for this job: that edit is
/// already done; "not-a-job".
Result<JobHead> append_revision(Store& store, const NewRevision& revision);

/// `rev` 0: the newest. On bad input: "not-there"; "shop-damaged" when the text read is not the text that was written.
Result<Revision> read_revision(Store& store, Id job, int rev = 0);

/// Newest first, those before `before` (0: from the newest).
Result<std::vector<RevisionHead>> list_revisions(Store& store, Id job, std::size_t limit = 100,
                                                 int before = 0);

/// All edits after a revision, in their order: what the other editor did.
Result<std::vector<KeptEdit>> edits_since(Store& store, Id job, int rev);

/// The revision that an edit made; no value inside when it is not known.
Result<std::optional<int>> find_edit(Store& store, Id job, const std::string& op_id);

/// An old revision becomes the newest once more; nothing in between is lost. `base_rev` as in append_revision.
Result<JobHead> restore_revision(Store& store, Id job, int rev, int base_rev, const std::string& by);

Result<JobHead> job_head(Store& store, Id job);

/// Latest changed first.
Result<std::vector<JobHead>> find_jobs(Store& store, const JobQuery& query);
/// How many there are without limit and skip.
Result<std::size_t> count_jobs(Store& store, const JobQuery& query);

/// Everything about a job that is not in its document. Absent: left as it is.
struct JobChange {
    std::optional<JobState> state;
    std::optional<std::string> promised;
    std::optional<Id> customer, boat;
    std::string by;
};
/// On bad input: "state-refused" for a step that the work does not take (paid before fitted), "not-paid-yet" for paid while
/// money is owed, "not-there", "date-refused", "boat-of-another".
Result<JobHead> change_job(Store& store, Id job, const JobChange& change);

/// What the work aboard changed becomes the newest revision and the pattern of the next set for this boat.
/// On bad input: "state-refused" before the work, and those of append_revision.
Result<JobHead> mark_as_fitted(Store& store, Id job, int base_rev, const std::string& document,
                               const std::string& by);

struct StateChange {
    Seconds at = 0;
    std::string by;
    JobState from = JobState::enquiry, to = JobState::enquiry;
};
Result<std::vector<StateChange>> list_states(Store& store, Id job);

struct Note {
    Id id = 0;
    Seconds at = 0;
    std::string by, text;
};
Result<Note> add_note(Store& store, Id job, const std::string& text, const std::string& by);
Result<std::vector<Note>> list_notes(Store& store, Id job);

}  // namespace spile::shop
