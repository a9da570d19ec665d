// spile shop job: jobs, their states, every document they ever were, notes and files.
#include "cli/load.h"
#include "cli/shop_call.h"
#include "core/base/text.h"
#include "core/job/edit.h"

namespace spile::cli {
namespace {

/// The document of a job file in settled form. What cannot be read as a job at all is refused.
Result<std::string> document_from(const std::string& path) {
    const Result<std::string> text = file_text(path, "a job");
    if (!text) return text;
    const Result<Job> job = read_job(*text);
    if (!job) return {std::nullopt, job.findings};
    return Result<std::string>::ok(write_said(settled_form(job->said)));
}

/// The newest revision, or the one that the change was made on.
int base_of(const Call& call, const shop::JobHead& head) {
    return static_cast<int>(call.whole("on", head.rev));
}

Result<Said> job_add(const Call& call) {
    const Result<std::string> document = document_from(call.text("FILE"));
    if (!document) return {std::nullopt, document.findings};
    shop::NewJob job;
    job.document = *document;
    job.customer = call.whole("customer");
    job.boat = call.whole("boat");
    job.promised = call.text("promised");
    job.by = call.by;
    return say(shop::add_job(*call.store, job));
}

Result<Said> job_find(const Call& call) {
    shop::JobQuery query;
    query.text = call.text("TEXT");
    query.customer = call.whole("customer");
    query.boat = call.whole("boat");
    query.as_fitted = call.has("as-fitted");
    query.limit = static_cast<std::size_t>(call.whole("limit", 50));
    query.skip = static_cast<std::size_t>(call.whole("skip"));
    if (call.has("state")) {
        query.state = shop::state_of(call.text("state"));
        if (!query.state)
            return Result<Said>::refuse(
                refusal("not-understood", "There is no state \"" + call.text("state") + "\".",
                        "They are: enquiry, quoted, ordered, in work, fitted, paid, not taken."));
    }
    const Result<std::size_t> count = shop::count_jobs(*call.store, query);
    Result<Said> said = say(shop::find_jobs(*call.store, query), "jobs");
    if (said && count) said->json["count"] = *count;
    return said;
}

Result<Said> job_show(const Call& call) {
    const shop::Id id = call.whole("JOB");
    shop::Store& store = *call.store;
    Result<Said> said = say(shop::job_head(store, id));
    if (!said) return said;
    const int decimals = shop::book_currency(store).decimals;
    const auto account = shop::account_of(store, id);
    const auto papers = shop::list_papers(store, id);
    const auto payments = shop::list_payments(store, id);
    const auto states = shop::list_states(store, id);
    const auto notes = shop::list_notes(store, id);
    const auto files = shop::list_attachments(store, id);
    const auto layouts = shop::list_layouts(store, id);
    if (!account || !papers || !payments || !states || !notes || !files || !layouts)
        return Result<Said>::refuse(refusal("shop-busy", "The job cannot be read whole.", "Try again."));
    said->json["account"] = shop::shown(*account, decimals);
    said->json["states"] = shop::shown(*states);
    said->json["notes"] = shop::shown(*notes);
    Json sent = Json::array(), paid = Json::array();
    for (const shop::PaperHead& p : *papers) sent.push_back(shop::shown(p, decimals));
    for (const shop::Payment& p : *payments) paid.push_back(shop::shown(p, decimals));
    said->json["papers"] = sent;
    said->json["payments"] = paid;
    said->json["layouts"] = shop::shown(*layouts);
    said->json["files"] = shop::shown(*files);
    return said;
}

Result<Said> job_state(const Call& call) {
    shop::JobChange change;
    change.by = call.by;
    change.state = shop::state_of(call.text("STATE"));
    if (!change.state)
        return Result<Said>::refuse(
            refusal("not-understood", "There is no state \"" + call.text("STATE") + "\".",
                    "They are: enquiry, quoted, ordered, in work, fitted, paid, not taken."));
    return say(shop::change_job(*call.store, call.whole("JOB"), change));
}

Result<Said> job_change(const Call& call) {
    shop::JobChange change;
    change.by = call.by;
    change.promised = call.maybe("promised");
    if (call.has("customer")) change.customer = call.whole("customer");
    if (call.has("boat")) change.boat = call.whole("boat");
    return say(shop::change_job(*call.store, call.whole("JOB"), change));
}

Result<Said> job_print(const Call& call) {
    Result<shop::Revision> revision =
        shop::read_revision(*call.store, call.whole("JOB"), static_cast<int>(call.whole("rev")));
    if (!revision) return {std::nullopt, std::move(revision.findings)};
    Said said{shop::shown(static_cast<const shop::RevisionHead&>(*revision)), revision->document, true};
    said.json["job"] = revision->document;
    return Result<Said>::ok(std::move(said));
}

constexpr std::size_t kMostShown = 20;

/// One note for each value that differs. `who`: "Meanwhile", "Yours".
void show_changes(const std::string& who, const std::string& from, const std::string& to,
                  std::vector<Finding>& findings) {
    Result<JsonValue> was = parse_json(from), is = parse_json(to);
    if (!was || !is) return;
    const auto value = [](const std::optional<JsonValue>& v) { return v ? write_said(*v) : "nothing"; };
    std::vector<std::string> lines;
    for (const Edit& edit : edits_between(settled_form(std::move(*was)), settled_form(std::move(*is))))
        lines.push_back(who + ": " + (edit.target.empty() ? "" : edit.target + ", ") + edit.field + " was " +
                        value(edit.was) + ", became " + value(edit.shall) + ".");
    for (std::size_t i = 0; i < std::min(lines.size(), kMostShown); ++i)
        findings.push_back({"changed-meanwhile", Severity::note, {"job", ""}, {}, lines[i], "", ""});
    if (lines.size() > kMostShown)
        findings.push_back(
            {"changed-meanwhile",
             Severity::note,
             {"job", ""},
             {},
             who + ": " + count_of(lines.size() - kMostShown, "more change", "more changes") + ".",
             "Compare the revisions.",
             ""});
}

/// Who is late sees both: what came in between and what was to be saved.
Result<shop::JobHead> shown_both(shop::Store& store, const shop::NewRevision& mine,
                                 Result<shop::JobHead> saved) {
    if (saved || saved.findings.empty() || saved.findings.front().code != "job-changed-since") return saved;
    const auto base = shop::read_revision(store, mine.job, mine.base_rev);
    const auto newest = shop::read_revision(store, mine.job);
    if (!base || !newest) return saved;
    show_changes("Meanwhile", base->document, newest->document, saved.findings);
    show_changes("Yours", base->document, mine.document, saved.findings);
    return saved;
}

Result<Said> job_save(const Call& call) {
    const Result<std::string> document = document_from(call.text("FILE"));
    if (!document) return {std::nullopt, document.findings};
    const Result<shop::JobHead> head = shop::job_head(*call.store, call.whole("JOB"));
    if (!head) return say(head);
    shop::NewRevision revision;
    revision.job = head->id;
    revision.base_rev = base_of(call, *head);
    revision.document = *document;
    revision.by = call.by;
    revision.why = call.text("why", "saved from a file");
    return say(shown_both(*call.store, revision, shop::append_revision(*call.store, revision)));
}

Result<Said> job_history(const Call& call) {
    return say(shop::list_revisions(*call.store, call.whole("JOB"),
                                    static_cast<std::size_t>(call.whole("limit", 100)),
                                    static_cast<int>(call.whole("before"))),
               "revisions");
}

Result<Said> job_compare(const Call& call) {
    std::vector<JsonValue> said;
    for (const char* which : {"REV", "OTHER-REV"}) {
        const auto revision =
            shop::read_revision(*call.store, call.whole("JOB"), static_cast<int>(call.whole(which)));
        if (!revision) return {std::nullopt, revision.findings};
        Result<JsonValue> parsed = parse_json(revision->document);
        if (!parsed) return {std::nullopt, std::move(parsed.findings)};
        said.push_back(settled_form(std::move(*parsed)));
    }
    Json changes = Json::array();
    const auto value = [](const std::optional<JsonValue>& v) {
        return v ? Json::parse(write_said(*v), nullptr, false) : Json();
    };
    for (const Edit& edit : edits_between(said[0], said[1]))
        changes.push_back({{"target", edit.target},
                           {"field", edit.field},
                           {"was", value(edit.was)},
                           {"became", value(edit.shall)}});
    return Result<Said>::ok({Json{{"changes", changes}}});
}

Result<Said> job_restore(const Call& call) {
    const Result<shop::JobHead> head = shop::job_head(*call.store, call.whole("JOB"));
    if (!head) return say(head);
    return say(shop::restore_revision(*call.store, head->id, static_cast<int>(call.whole("REV")),
                                      base_of(call, *head), call.by));
}

Result<Said> job_note(const Call& call) {
    return say(shop::add_note(*call.store, call.whole("JOB"), call.text("TEXT"), call.by));
}

Result<Said> job_fitted(const Call& call) {
    const shop::Id id = call.whole("JOB");
    const Result<shop::JobHead> head = shop::job_head(*call.store, id);
    if (!head) return say(head);
    Result<std::string> document;
    if (call.has("FILE")) {
        document = document_from(call.text("FILE"));
    } else {
        Result<shop::Revision> newest = shop::read_revision(*call.store, id);
        if (!newest) return {std::nullopt, std::move(newest.findings)};
        document = Result<std::string>::ok(newest->document);
    }
    if (!document) return {std::nullopt, document.findings};
    return say(shop::mark_as_fitted(*call.store, id, base_of(call, *head), *document, call.by));
}

Result<Said> file_add(const Call& call) {
    const std::string path = call.text("FILE");
    const Result<std::string> bytes = file_text(path, "a file to keep");
    if (!bytes) return {std::nullopt, bytes.findings};
    const std::string name = path.substr(path.find_last_of('/') + 1);
    return say(shop::add_attachment(*call.store, call.whole("JOB"), name,
                                    call.text("kind", "application/octet-stream"), *bytes, call.by));
}

Result<Said> file_get(const Call& call) {
    const Result<std::string> bytes = shop::read_attachment(*call.store, call.whole("FILE-ID"));
    if (!bytes) return {std::nullopt, bytes.findings};
    const Result<std::string> written = write_new_file(call.text("to"), *bytes);
    if (!written) return {std::nullopt, written.findings};
    return Result<Said>::ok({Json{{"file", call.text("to")}, {"bytes", bytes->size()}}});
}

Result<Said> file_remove(const Call& call) {
    const shop::Id id = call.whole("FILE-ID");
    const Result<shop::Done> done = shop::remove_attachment(*call.store, id);
    if (!done) return {std::nullopt, done.findings};
    return Result<Said>::ok({Json{{"removed", "file"}, {"id", id}}});
}

}  // namespace

std::vector<Verb> job_verbs() {
    return {
        {"job add FILE [--customer CUSTOMER] [--boat BOAT] [--promised DAY]",
         "Takes a job file into the book.", job_add},
        {"job find [TEXT] [--state STATE] [--customer CUSTOMER] [--boat BOAT] [--as-fitted] [--limit COUNT] "
         "[--skip COUNT]",
         "By title, boat, make, model, hull number or customer; the latest changed first.", job_find},
        {"job show JOB", "State, money, papers, layouts, notes and files.", job_show},
        {"job state JOB STATE", "enquiry, quoted, ordered, \"in work\", fitted, paid, \"not taken\".",
         job_state},
        {"job change JOB [--promised DAY] [--customer CUSTOMER] [--boat BOAT]",
         "The day promised, and whose it is.", job_change},
        {"job print JOB [--rev REV]", "The document, as a job file.", job_print},
        {"job save JOB FILE [--on REV] [--why TEXT]",
         "A changed job file becomes the next revision. --on: the revision it was made from; who is late is "
         "told.",
         job_save},
        {"job history JOB [--limit COUNT] [--before REV]", "Every revision, who made it and why.",
         job_history},
        {"job compare JOB REV OTHER-REV", "What changed between two revisions.", job_compare},
        {"job restore JOB REV [--on REV]", "An old revision becomes the newest again; nothing is lost.",
         job_restore},
        {"job note JOB TEXT", "A note, with the day and who wrote it.", job_note},
        {"job fitted JOB [FILE] [--on REV]",
         "As fitted aboard: the document, or FILE with what was put right, is the next pattern.", job_fitted},
        {"file add JOB FILE [--kind TEXT]", "Keeps a photograph or another file with the job.", file_add},
        {"file get FILE-ID --to FILE", "Writes it to a new file.", file_get},
        {"file remove FILE-ID", "Takes it out of the book.", file_remove},
    };
}

}  // namespace spile::cli
