#include "core/job/unsettled.h"

#include <algorithm>

#include "core/job/edit.h"
#include "core/job/edit_faults.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/limits.h"
#include "core/job/said.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

/// Fields of the job that are only words on paper.
bool only_words(const Unsettled& u) {
    static constexpr const char* words[] = {"title", "boat", "customer", "notes", "paper"};
    return u.target.empty() &&
           std::any_of(std::begin(words), std::end(words), [&u](const char* w) { return u.field == w; });
}

/// The points of a reading, as findings about readings name them; the id of one that cannot be read.
std::string reading_subject(const Job& job, const std::string& space, const std::string& id) {
    for (const SpaceInput& s : job.spaces) {
        for (const Reading& r : s.readings) {
            if (s.id != space || r.id != id) continue;
            if (const Tie* tie = std::get_if<Tie>(&r.what)) return space + "/" + tie->from + " " + tie->to;
        }
    }
    return space + "/" + id;
}

Subject subject_of(const Job& job, const std::vector<std::string>& steps) {
    const std::size_t n = steps.size();
    if (n == 0) return {"job", ""};
    if (steps[0] == "goods" || steps[0] == "kept_layout") return {"goods", ""};
    if (n >= 4 && steps[2] == "ties") return {"tie", reading_subject(job, steps[1], steps[3])};
    if (n >= 2 && steps[0] == "spaces") return {"space", steps[1]};
    if (n >= 4 && steps[2] == "edges") return {"edge", steps[1] + "/" + steps[3]};
    if (n >= 4 && steps[2] == "openings") return {"opening", steps[1] + "/" + steps[3]};
    if (n >= 2 && steps[0] == "panels") return {"panel", steps[1]};
    return {"job", ""};
}

std::string place_words(const Unsettled& u, const std::vector<std::string>& steps) {
    std::string thing = "the job";
    if (steps.size() == 1) thing = in_quotes(steps[0]);
    if (steps.size() >= 2)
        thing = in_quotes(steps[steps.size() - 1]) + " in " + in_quotes(steps[steps.size() - 2]);
    if (u.field.empty()) return thing;
    if (u.field == "@order") return "the order of " + thing;
    return in_quotes(u.field) + " of " + thing;
}

}  // namespace

std::vector<Finding> unsettled_findings(const Job& job) {
    std::vector<Finding> findings;
    for (const Unsettled& u : job.unsettled) {
        const std::vector<std::string> steps = steps_of(u.target).value_or(std::vector<std::string>{});
        Finding f;
        f.code = "said-twice";
        f.severity = only_words(u) ? Severity::look : Severity::stop;
        f.subject = subject_of(job, steps);
        const std::string other =
            u.other ? "the other wrote " + value_words(*u.other) : std::string("the other took it out");
        f.says = "Two changes met at " + place_words(u, steps) + ": one stands in the job, " + other +
                 (u.was ? "; before it was " + value_words(*u.was) + "." : ".");
        f.to_do = "Choose which of the two is right.";
        f.where = u.where;
        findings.push_back(std::move(f));
    }
    return findings;
}

void JobReader::read_unsettled(Section& root) {
    const auto list = root.list("unsettled", limits::unsettled);
    if (!list) return;
    const auto value = [this](Section& section, const char* key, std::optional<JsonValue>& out) {
        const auto at = section.find(key);
        if (!at) return true;
        if ((*at)->is(Kind::text)) {
            if (Result<JsonValue> parsed = parse_json((*at)->text)) {
                out = std::move(*parsed);
                return true;
            }
        }
        section.stop("wrong-type", *at, in_quotes(key) + " of something said twice is no JSON in a text.",
                     "Spile writes it; delete the whole entry if it cannot be mended.");
        return false;
    };
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section section(faults_, at, unsettled_keys, {"job", ""});
        if (!at->is(Kind::object)) continue;
        Unsettled u;
        u.where = at.where();
        bool good = section.need("id", "\"id\": \"u1\"") && section.text("id", u.id, TextRule::id);
        good = section.need("target", "\"target\": \"/spaces/cockpit/ties/t2\"") &&
               section.text("target", u.target, TextRule::line) && good;
        good = section.need("field", "\"field\": \"line\"") &&
               section.text("field", u.field, TextRule::line) && good;
        good = value(section, "was", u.was) && good;
        good = value(section, "other", u.other) && good;
        if (good) job_.unsettled.push_back(std::move(u));
    }
}

Result<std::vector<Edit>> settle_edits(const JsonValue& said, const std::string& id, bool take_other) {
    using Edits = Result<std::vector<Edit>>;
    const Result<Job> job = job_from_said(said);
    const JsonValue* list = said.find("unsettled");
    const auto is_it = [&id](const Unsettled& u) { return u.id == id; };
    if (!job || !list || std::none_of(job->unsettled.begin(), job->unsettled.end(), is_it))
        return Edits::refuse(edit_stop("edit-target", "Nothing is unsettled under " + in_quotes(id) + ".",
                                       "Somebody may have settled it: look at the job again."));
    const Unsettled& u = *std::find_if(job->unsettled.begin(), job->unsettled.end(), is_it);

    JsonValue chosen = said;
    JsonValue& all = *chosen.find("unsettled");
    const std::vector<std::string> names = entry_names(all, Holds::by_id);
    all.items.erase(all.items.begin() + (std::find(names.begin(), names.end(), id) - names.begin()));
    if (take_other) {
        Edit take;
        take.target = u.target;
        take.field = u.field;
        take.was = value_at(said, u.target, u.field);
        take.shall = u.other;
        // What stands now may itself be gone.
        if (take.was || take.shall) {
            Result<JsonValue> taken = apply_edits(settled_form(std::move(chosen)), {std::move(take)});
            if (!taken) return {std::nullopt, std::move(taken.findings)};
            chosen = std::move(*taken);
        }
    }
    return Edits::ok(edits_between(said, settled_form(std::move(chosen))));
}

}  // namespace spile
