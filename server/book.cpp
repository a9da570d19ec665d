#include "server/book.h"

#include "core/job/edit_faults.h"

namespace spile::server {
namespace {

constexpr std::size_t most_at_hand = 64;

template <class T>
Result<T> passed_on(std::vector<Finding> findings) {
    return {std::nullopt, std::move(findings)};
}

}  // namespace

Result<std::unique_ptr<Book>> Book::open(const std::string& path, News& news) {
    shop::OpenOptions options;
    options.create = true;
    Result<shop::Store> store = shop::Store::open(path, options);
    if (!store) return passed_on<std::unique_ptr<Book>>(std::move(store.findings));
    return Result<std::unique_ptr<Book>>::ok(std::unique_ptr<Book>(new Book(std::move(*store), news)));
}

Result<shop::JobHead> Book::add(const std::string& text, const std::string& who) {
    const Result<Job> job = read_job(text);
    if (!job) return passed_on<shop::JobHead>(job.findings);
    shop::NewJob fresh;
    fresh.document = write_said(settled_form(job->said));
    fresh.by = who;
    Result<shop::JobHead> head = with([&](shop::Store& store) { return shop::add_job(store, fresh); });
    if (head) news_.tell({0, "job", {{"id", head->id}}});
    return head;
}

Result<JsonValue> Book::said_of(shop::Id job, int rev) {
    const auto at = at_hand_.find(job);
    if (at != at_hand_.end() && at->second.rev == rev) return Result<JsonValue>::ok(at->second.said);
    const Result<shop::Revision> revision = shop::read_revision(store_, job, rev);
    if (!revision) return passed_on<JsonValue>(revision.findings);
    Result<JsonValue> parsed = parse_json(revision->document);
    if (!parsed) return passed_on<JsonValue>(std::move(parsed.findings));
    return Result<JsonValue>::ok(settled_form(std::move(*parsed)));
}

std::optional<Result<Edited>> Book::done_before(shop::Id job, const std::string& op_id) {
    const Result<std::optional<int>> known = shop::find_edit(store_, job, op_id);
    if (!known) return passed_on<Edited>(known.findings);
    if (!*known) return std::nullopt;
    Result<shop::JobHead> head = shop::job_head(store_, job);
    if (!head) return passed_on<Edited>(std::move(head.findings));
    const Result<JsonValue> now = said_of(job, head->rev);
    if (!now) return passed_on<Edited>(now.findings);
    Edited edited;
    edited.head = std::move(*head);
    edited.made = **known;
    edited.document = write_said(*now);
    edited.again = true;
    edited.merged = true;
    return Result<Edited>::ok(std::move(edited));
}

Result<Edited> Book::append(shop::Id job, const Action& action, const JsonValue& ours, bool merged,
                            const JsonValue& merged_said, int newest, const std::string& who) {
    Edited edited;
    edited.document = write_said(merged_said);
    edited.merged = merged;
    if (merged) edited.more = edits_between(ours, merged_said);
    if (edited.document.size() > shop::kLargestDocument_bytes)
        return Result<Edited>::refuse(edit_stop("file-too-large",
                                                "The job would be larger than " +
                                                    std::to_string(shop::kLargestDocument_bytes / 1'000'000) +
                                                    " MB.",
                                                "Split it into two jobs."));
    shop::NewRevision revision;
    revision.job = job;
    revision.base_rev = newest;
    revision.document = edited.document;
    revision.edits = {{action.op_id, flat_json(edits_as_json(action.edits))}};
    revision.by = who;
    revision.why = action.why;
    Result<shop::JobHead> head = shop::append_revision(store_, revision);
    if (!head) return passed_on<Edited>(std::move(head.findings));
    edited.head = std::move(*head);
    edited.made = edited.head.rev;
    if (at_hand_.size() >= most_at_hand && at_hand_.count(job) == 0) at_hand_.erase(at_hand_.begin());
    at_hand_[job] = {edited.made, merged_said};
    news_.tell(
        {job, "revision", {{"rev", edited.made}, {"op_id", action.op_id}, {"by", who}, {"why", action.why}}});
    return Result<Edited>::ok(std::move(edited));
}

Result<Edited> Book::edit(shop::Id job, const Action& action, const std::string& who) {
    const std::lock_guard lock(mutex_);
    if (std::optional<Result<Edited>> before = done_before(job, action.op_id)) return std::move(*before);
    const Result<shop::JobHead> head = shop::job_head(store_, job);
    if (!head) return passed_on<Edited>(head.findings);
    if (action.base_rev > head->rev)
        return Result<Edited>::refuse(edit_stop("job-changed-since",
                                                "The edit is of revision " + std::to_string(action.base_rev) +
                                                    ", but the newest is " + std::to_string(head->rev) + ".",
                                                "Read the job again.",
                                                {{"base", static_cast<double>(action.base_rev), ""},
                                                 {"newest", static_cast<double>(head->rev), ""}}));
    const Result<JsonValue> base = said_of(job, action.base_rev);
    if (!base) return passed_on<Edited>(base.findings);
    const Result<JsonValue> ours = apply_edits(*base, action.edits);
    if (!ours) return passed_on<Edited>(ours.findings);
    if (action.base_rev == head->rev) return append(job, action, *ours, false, *ours, head->rev, who);
    const Result<JsonValue> now = said_of(job, head->rev);
    if (!now) return passed_on<Edited>(now.findings);
    return append(job, action, *ours, true, merge_said(*base, *ours, *now), head->rev, who);
}

Result<Edited> Book::undo(shop::Id job, int rev, const std::string& op_id, const std::string& who) {
    const std::lock_guard lock(mutex_);
    if (std::optional<Result<Edited>> before = done_before(job, op_id)) return std::move(*before);
    const Result<shop::JobHead> head = shop::job_head(store_, job);
    if (!head) return passed_on<Edited>(head.findings);
    if (rev < 2 || rev > head->rev)
        return Result<Edited>::refuse(edit_stop("not-there",
                                                "Revision " + std::to_string(rev) +
                                                    " changed nothing that could be "
                                                    "taken back; they run from 2 to " +
                                                    std::to_string(head->rev) + ".",
                                                "Name one of these."));
    const Result<JsonValue> after = said_of(job, rev), before = said_of(job, rev - 1),
                            now = said_of(job, head->rev);
    for (const Result<JsonValue>* r : {&after, &before, &now}) {
        if (!*r) return passed_on<Edited>(r->findings);
    }
    const JsonValue merged = merge_said(*after, *before, *now);
    Action action;
    action.op_id = op_id;
    action.why = "undo " + std::to_string(rev);
    action.edits = edits_between(*now, merged);
    return append(job, action, *now, true, merged, head->rev, who);
}

}  // namespace spile::server
