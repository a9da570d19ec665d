#include "core/job/decisions.h"

#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/job/fingerprint.h"
#include "core/job/json_faults.h"
#include "core/layout/check/check.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

Finding about_job(const char* code, Severity severity, std::string says, std::string to_do,
                  std::string where) {
    Finding f;
    f.code = code;
    f.severity = severity;
    f.subject = {"job", ""};
    f.says = std::move(says);
    f.to_do = std::move(to_do);
    f.where = std::move(where);
    return f;
}

bool names(const Override& o, const Finding& f) {
    return o.code == f.code && o.subject == f.subject.id;
}

std::string stop_words(const Override& o) {
    return in_quotes(o.code) + (o.subject.empty() ? std::string() : " about " + in_quotes(o.subject));
}

JsonValue said_stretches(const std::vector<Stretch>& stretches) {
    const auto um = [](double mm) { return JsonValue::of_whole(std::llround(mm * 1000)); };
    JsonValue list = JsonValue::list();
    for (const Stretch& stretch : stretches) {
        JsonValue one = JsonValue::object();
        one.set("name", JsonValue::of_text(stretch.name));
        if (!stretch.lot.empty()) one.set("lot", JsonValue::of_text(stretch.lot));
        if (stretch.length_mm > 0) one.set("length_um", um(stretch.length_mm));
        JsonValue outline = JsonValue::list();
        for (const Vertex& v : stretch.outline.vertices) {
            JsonValue corner = JsonValue::list();
            corner.items = {um(v.p.x), um(v.p.y)};
            if (v.bulge != 0) {
                JsonValue bulge = JsonValue::of_whole(0);
                bulge.number = v.bulge;
                bulge.text = shortest(v.bulge);
                corner.items.push_back(std::move(bulge));
            }
            outline.items.push_back(std::move(corner));
        }
        if (!outline.items.empty()) one.set("outline", std::move(outline));
        list.items.push_back(std::move(one));
    }
    return list;
}

}  // namespace

Result<Job> keep_layout(const Job& job, const Layout& layout) {
    JsonValue placements = JsonValue::list();
    for (const Placement& p : layout.placements) {
        JsonValue one = JsonValue::object();
        one.set("piece", JsonValue::of_text(p.piece));
        one.set("x_um", JsonValue::of_whole(p.x_um));
        one.set("y_um", JsonValue::of_whole(p.y_um));
        if (p.turns != 0) one.set("turns", JsonValue::of_whole(p.turns));
        if (p.stretch != 0) one.set("stretch", JsonValue::of_whole(p.stretch));
        placements.items.push_back(std::move(one));
    }
    JsonValue kept = JsonValue::object();
    kept.set("fingerprint", JsonValue::of_text(layout_fingerprint(job)));
    kept.set("rounds", JsonValue::of_whole(layout.rounds));
    if (!layout.stretches.empty()) kept.set("stretches", said_stretches(layout.stretches));
    kept.set("placements", std::move(placements));
    JsonValue said = job.said;
    said.set("kept_layout", std::move(kept));
    return job_from_said(std::move(said));
}

Result<Job> override_stop(const Job& job, const Finding& stop, const std::string& reason) {
    SPILE_CHECK(stop.severity == Severity::stop);
    JsonValue said = job.said;
    JsonValue* list = said.find("overrides");
    if (!list) list = &said.set("overrides", JsonValue::list());
    if (!list->is(Kind::list))
        return Result<Job>::refuse(about_job(
            "wrong-type", Severity::stop, "\"overrides\" is no list, so nothing can be added to it.",
            "Mend it in the file first.", where_text(list->line, "/overrides")));
    const auto same = [&stop](const JsonValue& o) {
        const JsonValue *code = o.find("code"), *subject = o.find("subject");
        return code && code->text == stop.code &&
               (subject ? subject->text : std::string()) == stop.subject.id;
    };
    list->items.erase(std::remove_if(list->items.begin(), list->items.end(), same), list->items.end());
    JsonValue one = JsonValue::object();
    one.set("code", JsonValue::of_text(stop.code));
    one.set("subject", JsonValue::of_text(stop.subject.id));
    one.set("fingerprint", JsonValue::of_text(subject_fingerprint(job, stop.subject)));
    one.set("reason", JsonValue::of_text(reason));
    list->items.push_back(std::move(one));
    return job_from_said(std::move(said));
}

void apply_overrides(const Job& job, Derived& derived) {
    enum class Met { nothing, fault, outdated, stop };
    std::vector<Met> met(job.overrides.size(), Met::nothing);
    std::vector<Finding> standing;
    for (Finding& f : derived.findings) {
        const Override* passing = nullptr;
        const bool of_file = std::any_of(job.faults.begin(), job.faults.end(), [&f](const Finding& fault) {
            return fault.code == f.code && fault.subject == f.subject && fault.where == f.where;
        });
        for (std::size_t i = 0; i < job.overrides.size() && f.severity == Severity::stop; ++i) {
            const Override& o = job.overrides[i];
            if (!names(o, f)) continue;
            if (of_file) {
                met[i] = std::max(met[i], Met::fault);
            } else if (!o.fingerprint.empty() && o.fingerprint != subject_fingerprint(job, f.subject)) {
                met[i] = std::max(met[i], Met::outdated);
            } else {
                met[i] = Met::stop;
                passing = &o;
            }
        }
        if (passing) {
            derived.overridden.push_back(std::move(f));
            derived.override_reasons.push_back(passing->reason);
        } else {
            standing.push_back(std::move(f));
        }
    }
    for (std::size_t i = 0; i < met.size(); ++i) {
        const Override& o = job.overrides[i];
        switch (met[i]) {
            case Met::stop:
                break;
            case Met::nothing:
                standing.push_back(
                    about_job("override-unused", Severity::note,
                              "The override of " + stop_words(o) + " answers no stop of this job.",
                              "Delete it, or correct its code and subject.", o.where));
                break;
            case Met::fault:
                standing.push_back(about_job(
                    "override-of-fault", Severity::look,
                    "The override of " + stop_words(o) + " cannot pass a fault of the file itself.",
                    "Mend the place in the file that the fault names, then delete the override.", o.where));
                break;
            case Met::outdated:
                standing.push_back(
                    about_job("override-outdated", Severity::look,
                              "The stop " + stop_words(o) + " was overridden (" + in_quotes(o.reason) +
                                  "), but sizes or choices it was judged on have changed since.",
                              "Look at the stop again; if it may still pass, override it anew.", o.where));
                break;
        }
    }
    derived.findings = std::move(standing);
}

std::optional<Layout> judge_kept_layout(const Job& job, const std::vector<LayoutPiece>& pieces,
                                        std::vector<Finding>& findings) {
    if (!job.kept_layout) return std::nullopt;
    Layout layout = *job.kept_layout;
    measure_layout(pieces, job.goods, layout);
    const std::vector<Finding> refusals = check_layout(pieces, job.goods, layout, lengths_of(job));
    if (!refusals.empty()) {
        std::string says = "The kept layout no longer fits and is not used: " + refusals.front().says;
        if (refusals.size() > 1)
            says += " " + count_of(refusals.size() - 1, "more reason", "more reasons") + " like it.";
        Finding stale = about_job("kept-layout-stale", Severity::look, std::move(says),
                                  "Lay the pieces out again and keep the new layout.", "/kept_layout");
        stale.numbers = refusals.front().numbers;
        findings.push_back(std::move(stale));
        return std::nullopt;
    }
    if (!layout_is_of(job, job.kept_fingerprint)) {
        findings.push_back(about_job(
            "kept-layout-changed", Severity::look,
            job.kept_fingerprint.empty() ? "The kept layout was written by hand; it is checked against the "
                                           "pieces as they are and is legal."
                                         : "Sizes or choices have changed since the layout was kept; it is "
                                           "checked against the pieces as they are and is "
                                           "still legal.",
            "Look at the roll once more and keep the layout again, or lay the pieces out anew.",
            "/kept_layout"));
    }
    return layout;
}

}  // namespace spile
