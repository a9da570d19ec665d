#include "shop/jobs.h"

#include <algorithm>
#include <iterator>

#include "core/job/json_with_lines.h"
#include "shop/account.h"
#include "shop/history.h"
#include "shop/job_rows.h"
#include "shop/rows.h"
#include "shop/show.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr const char* kStateWords[] = {"enquiry", "quoted", "ordered",  "in work",
                                       "fitted",  "paid",   "not taken"};

Subject job_subject(Id job) {
    return {"job", std::to_string(job)};
}

/// What lists show of a document.
struct Words {
    std::string title, boat, customer;
};

Words words_of(const std::string& document) {
    if (document.size() > kLargestDocument_bytes)
        refuse("not-a-job", "The document is larger than 4 MB; that is no job.", "Look at what was sent.");
    const Result<JsonValue> read = parse_json(document);
    if (!read) throw Refusal{read.findings.front()};
    if (!read->is(JsonValue::Kind::object) || !read->find("spile"))
        refuse("not-a-job", "The document is no job: it has no key \"spile\".",
               "Begin it with \"spile\": 1, as docs/job-format.md says.");
    const auto word = [&](const char* key) {
        const JsonValue* value = read->find(key);
        return value && value->is(JsonValue::Kind::text) ? value->text.substr(0, 2000) : std::string();
    };
    return {word("title"), word("boat"), word("customer")};
}

void set_words(Database& database, Id job, const Words& words) {
    Statement(database, "UPDATE job SET title=?, boat_words=?, customer_words=? WHERE id=?")
        .with(words.title, words.boat, words.customer, job)
        .run();
    refresh_job_search(database, job);
}

void set_document(Database& database, Id job, const std::string& document) {
    Statement(
        database,
        "INSERT INTO job_document VALUES(?,?) ON CONFLICT(job) DO UPDATE SET document=excluded.document")
        .with(job, document)
        .run();
}

std::string newest_document(Database& database, Id job) {
    Statement row(database, "SELECT document FROM job_document WHERE job=?");
    if (!row.with(job).next()) need_row(database, "job", "job", job);
    return row.text(0);
}

void check_edits(Database& database, Id job, const std::vector<Edit>& edits) {
    Statement known(database, "SELECT rev FROM job_edit WHERE job=? AND op_id=?");
    for (const Edit& edit : edits) {
        check_text(edit.op_id, "the id of an edit");
        if (edit.op_id.empty())
            refuse("edit-refused", "An edit has no op_id.", "Give each edit an id of its own.",
                   job_subject(job));
        const Result<JsonValue> op = parse_json(edit.op);
        if (!op) throw Refusal{op.findings.front()};
        known.again();
        if (known.with(job, edit.op_id).next())
            refuse("edit-known",
                   "Edit " + edit.op_id + " is already part of revision " + std::to_string(known.whole(0)) +
                       " of job " + std::to_string(job) + ".",
                   "It is done; read the newest revision.", job_subject(job),
                   {{"made", static_cast<double>(known.whole(0)), ""}});
    }
}

JobHead head_from(const Statement& row) {
    JobHead head;
    head.id = row.whole(0);
    head.customer = row.whole(1);
    head.boat = row.whole(2);
    head.state = static_cast<JobState>(row.whole(3));
    head.promised = row.text(4);
    head.rev = static_cast<int>(row.whole(5));
    head.title = row.text(6);
    head.boat_words = row.text(7);
    head.customer_words = row.text(8);
    head.repeat_of = row.whole(9);
    head.repeat_of_rev = static_cast<int>(row.whole(10));
    head.unchecked = row.whole(11) != 0;
    head.as_fitted_rev = static_cast<int>(row.whole(12));
    head.created = row.whole(13);
    head.changed = row.whole(14);
    return head;
}

constexpr const char* kHeadColumns =
    "id, coalesce(customer,0), coalesce(boat,0), state, promised, rev, title, boat_words, customer_words,"
    " coalesce(repeat_of,0), repeat_of_rev, unchecked, as_fitted_rev, created, changed";

/// WHERE of a query and its values, the words first.
struct Where {
    std::string sql = " WHERE 1";
    std::vector<std::string> values;
};

Where where_of(const JobQuery& query) {
    Where where;
    SearchWords words = search_words(query.text);
    where.values = std::move(words.patterns);
    const auto add = [&](const char* column, std::int64_t value) {
        where.sql += std::string(" AND ") + column + "=" + std::to_string(value);
    };
    where.sql += words.sql;
    if (query.state) add("state", static_cast<std::int64_t>(*query.state));
    if (query.customer) add("customer", query.customer);
    if (query.boat) add("boat", query.boat);
    if (query.as_fitted) where.sql += " AND as_fitted_rev>0";
    return where;
}

/// Steps of the work: forward by any number, back by one when somebody was too quick, not taken from before the work.
bool may_follow(JobState was, JobState becomes) {
    const int a = static_cast<int>(was), b = static_cast<int>(becomes);
    if (becomes == JobState::not_taken) return was <= JobState::ordered || was == JobState::not_taken;
    if (was == JobState::not_taken) return becomes <= JobState::quoted;
    if (becomes == JobState::paid) return was >= JobState::fitted;
    return b >= a - 1;
}

}  // namespace

const char* state_word(JobState state) {
    return kStateWords[static_cast<std::size_t>(state)];
}

std::optional<JobState> state_of(const std::string& word) {
    for (std::size_t i = 0; i < std::size(kStateWords); ++i)
        if (word == kStateWords[i]) return static_cast<JobState>(i);
    return std::nullopt;
}

JobHead read_head(Database& database, Id job) {
    Statement row(database, (std::string("SELECT ") + kHeadColumns + " FROM job WHERE id=?").c_str());
    if (!row.with(job).next()) need_row(database, "job", "job", job);
    return head_from(row);
}

void set_state(Database& database, const JobHead& head, JobState becomes, const std::string& by,
               int decimals) {
    if (!may_follow(head.state, becomes))
        refuse("state-refused",
               "Job " + std::to_string(head.id) + " is \"" + state_word(head.state) + "\"; \"" +
                   state_word(becomes) + "\" does not follow that.",
               "Take the steps of the work in their order.", job_subject(head.id));
    if (becomes == JobState::paid) {
        const Account account = read_account(database, head.id);
        if (account.owed() > 0)
            refuse("not-paid-yet",
                   "Job " + std::to_string(head.id) + " is not paid: " +
                       money_text(account.owed(), {account.currency, decimals}) + " are still to come.",
                   "Write down the payment first, or take the invoice back with a credit note.",
                   job_subject(head.id), {{"owed", static_cast<double>(account.owed()), ""}});
    }
    Statement(database, "INSERT INTO job_state VALUES(NULL,?,?,?,?,?)")
        .with(head.id, database.now(), by, static_cast<int>(head.state), static_cast<int>(becomes))
        .run();
    Statement(database, "UPDATE job SET state=?, changed=? WHERE id=?")
        .with(static_cast<int>(becomes), database.now(), head.id)
        .run();
}

Id insert_job(Database& database, const NewJob& job) {
    const Words words = words_of(job.document);
    check_text(job.by, "the name of who did it");
    check_date(job.promised);
    check_owner(database, job.customer, job.boat);
    const Seconds now = database.now();
    Statement(database, "INSERT INTO job VALUES(NULL,?,?,?,?,1,'','','',NULL,0,0,0,?,?,'')")
        .with(or_none(job.customer), or_none(job.boat), static_cast<int>(job.state), job.promised, now, now)
        .run();
    const Id id = database.last_id();
    set_document(database, id, job.document);
    write_revision(database, id, 1, "", job.document, job.by, "new", {});
    set_words(database, id, words);
    return id;
}

JobHead insert_revision(Database& database, const NewRevision& revision) {
    const JobHead head = read_head(database, revision.job);
    const Words words = words_of(revision.document);
    check_text(revision.by, "the name of who did it");
    check_text(revision.why, "the reason of a revision");
    check_edits(database, revision.job, revision.edits);
    if (head.rev != revision.base_rev)
        refuse("job-changed-since",
               "Job " + std::to_string(head.id) + " has revision " + std::to_string(head.rev) +
                   " by now; this change was made on revision " + std::to_string(revision.base_rev) + ".",
               "Look at both and make the change on the newest one.", job_subject(head.id),
               {{"base", static_cast<double>(revision.base_rev), ""},
                {"newest", static_cast<double>(head.rev), ""}});
    const std::string before = newest_document(database, head.id);
    write_revision(database, head.id, head.rev + 1, before, revision.document, revision.by, revision.why,
                   revision.edits);
    set_document(database, head.id, revision.document);
    Statement(database, "UPDATE job SET rev=rev+1, changed=? WHERE id=?").with(database.now(), head.id).run();
    set_words(database, head.id, words);
    return read_head(database, head.id);
}

Result<JobHead> add_job(Store& store, const NewJob& job) {
    return writing(store, [&](Database& database) { return read_head(database, insert_job(database, job)); });
}

Result<JobHead> append_revision(Store& store, const NewRevision& revision) {
    return writing(store, [&](Database& database) { return insert_revision(database, revision); });
}

Result<Revision> read_revision(Store& store, Id job, int rev) {
    return reading(store, [&](Database& database) {
        const JobHead head = read_head(database, job);
        return read_kept_revision(database, job, rev ? rev : head.rev);
    });
}

Result<std::vector<RevisionHead>> list_revisions(Store& store, Id job, std::size_t limit, int before) {
    return reading(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        Statement rows(database,
                       "SELECT rev, at, by, why, bytes, (SELECT count(*) FROM job_edit WHERE job_edit.job="
                       "job_revision.job AND job_edit.rev=job_revision.rev) FROM job_revision WHERE job=?"
                       " AND (?=0 OR rev<?) ORDER BY rev DESC LIMIT ?");
        rows.with(job, before, before, limit);
        std::vector<RevisionHead> list;
        while (rows.next())
            list.push_back({static_cast<int>(rows.whole(0)), rows.whole(1), rows.text(2), rows.text(3),
                            static_cast<std::size_t>(rows.whole(4)),
                            static_cast<std::size_t>(rows.whole(5))});
        return list;
    });
}

Result<std::vector<KeptEdit>> edits_since(Store& store, Id job, int rev) {
    return reading(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        Statement rows(database,
                       "SELECT op_id, op, rev FROM job_edit WHERE job=? AND rev>? ORDER BY rev, seq");
        rows.with(job, rev);
        std::vector<KeptEdit> list;
        while (rows.next()) list.push_back({{rows.text(0), rows.text(1)}, static_cast<int>(rows.whole(2))});
        return list;
    });
}

Result<std::optional<int>> find_edit(Store& store, Id job, const std::string& op_id) {
    return reading(store, [&](Database& database) {
        Statement row(database, "SELECT rev FROM job_edit WHERE job=? AND op_id=?");
        return row.with(job, op_id).next() ? std::optional<int>(static_cast<int>(row.whole(0)))
                                           : std::nullopt;
    });
}

Result<JobHead> restore_revision(Store& store, Id job, int rev, int base_rev, const std::string& by) {
    return writing(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        const Revision old = read_kept_revision(database, job, rev);
        return insert_revision(database,
                               {job, base_rev, old.document, {}, by, "restored " + std::to_string(rev)});
    });
}

Result<JobHead> job_head(Store& store, Id job) {
    return reading(store, [&](Database& database) { return read_head(database, job); });
}

Result<std::vector<JobHead>> find_jobs(Store& store, const JobQuery& query) {
    return reading(store, [&](Database& database) {
        const Where where = where_of(query);
        Statement rows(database, (std::string("SELECT ") + kHeadColumns + " FROM job" + where.sql +
                                  " ORDER BY changed DESC, id DESC LIMIT " +
                                  std::to_string(std::min<std::size_t>(query.limit, 1000)) + " OFFSET " +
                                  std::to_string(std::min<std::size_t>(query.skip, 1'000'000'000)))
                                     .c_str());
        rows.with_list(where.values);
        std::vector<JobHead> list;
        while (rows.next()) list.push_back(head_from(rows));
        return list;
    });
}

Result<std::size_t> count_jobs(Store& store, const JobQuery& query) {
    return reading(store, [&](Database& database) {
        const Where where = where_of(query);
        Statement row(database, ("SELECT count(*) FROM job" + where.sql).c_str());
        row.with_list(where.values);
        row.next();
        return static_cast<std::size_t>(row.whole(0));
    });
}

Result<JobHead> change_job(Store& store, Id job, const JobChange& change) {
    const int decimals = change.state == JobState::paid ? book_currency(store).decimals : 2;
    return writing(store, [&](Database& database) {
        JobHead head = read_head(database, job);
        check_text(change.by, "the name of who did it");
        if (change.promised) {
            check_date(*change.promised);
            head.promised = *change.promised;
        }
        if (change.customer) head.customer = *change.customer;
        if (change.boat) head.boat = *change.boat;
        check_owner(database, head.customer, head.boat);
        if (change.state && *change.state != head.state) {
            set_state(database, head, *change.state, change.by, decimals);
            head.state = *change.state;
        }
        Statement(database, "UPDATE job SET customer=?, boat=?, state=?, promised=?, changed=? WHERE id=?")
            .with(or_none(head.customer), or_none(head.boat), static_cast<int>(head.state), head.promised,
                  database.now(), job)
            .run();
        refresh_job_search(database, job);
        return read_head(database, job);
    });
}

Result<JobHead> mark_as_fitted(Store& store, Id job, int base_rev, const std::string& document,
                               const std::string& by) {
    return writing(store, [&](Database& database) {
        const JobHead before = read_head(database, job);
        if (before.state < JobState::in_work || before.state == JobState::not_taken)
            refuse("state-refused",
                   "Job " + std::to_string(job) + " is \"" + state_word(before.state) +
                       "\": nothing of it has been tried aboard.",
                   "Say first that it is in work.", job_subject(job));
        const JobHead head = insert_revision(database, {job, base_rev, document, {}, by, "as fitted"});
        Statement(database, "UPDATE job SET as_fitted_rev=? WHERE id=?").with(head.rev, job).run();
        return read_head(database, job);
    });
}

Result<std::vector<StateChange>> list_states(Store& store, Id job) {
    return reading(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        Statement rows(database, "SELECT at, by, was, became FROM job_state WHERE job=? ORDER BY id");
        rows.with(job);
        std::vector<StateChange> list;
        while (rows.next())
            list.push_back({rows.whole(0), rows.text(1), static_cast<JobState>(rows.whole(2)),
                            static_cast<JobState>(rows.whole(3))});
        return list;
    });
}

Result<Note> add_note(Store& store, Id job, const std::string& text, const std::string& by) {
    return writing(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        check_text(text, "the note", kNotes_characters, true);
        check_text(by, "the name of who did it");
        Statement(database, "INSERT INTO job_note VALUES(NULL,?,?,?,?)")
            .with(job, database.now(), by, text)
            .run();
        return Note{database.last_id(), database.now(), by, text};
    });
}

Result<std::vector<Note>> list_notes(Store& store, Id job) {
    return reading(store, [&](Database& database) {
        need_row(database, "job", "job", job);
        Statement rows(database, "SELECT id, at, by, text FROM job_note WHERE job=? ORDER BY id");
        rows.with(job);
        std::vector<Note> list;
        while (rows.next()) list.push_back({rows.whole(0), rows.whole(1), rows.text(2), rows.text(3)});
        return list;
    });
}

}  // namespace spile::shop
