#include "wasm/surface.h"

#include "core/base/text.h"
#include "core/job/decisions.h"
#include "core/job/edit.h"
#include "core/job/fingerprint.h"
#include "core/job/json_faults.h"
#include "core/job/ready_to_leave.h"
#include "core/job/said.h"
#include "core/layout/check/check.h"
#include "core/measure/survey.h"
#include "export/svg/page_svg.h"
#include "wasm/propose.h"
#include "wasm/request.h"
#include "wasm/show.h"
#include "wasm/slide.h"
#include "wasm/worked.h"

namespace spile::surface {
namespace {

Json with_job(const JsonValue& said, Json answer) {
    answer["job"] = write_said(said);
    answer["said"] = shown(said);
    return answer;
}

/// The inverse is the other way round what lies between, so that it also takes back what settling the form changed.
Json edited(const JsonValue& before, const JsonValue& after, std::vector<Finding> findings) {
    return with_job(after, {{"ok", true},
                            {"edits", shown(edits_as_json(edits_between(before, after)))},
                            {"findings", shown(findings)}});
}

// ---- the document

Json open(Request& r) {
    const std::string text = r.text("text");
    if (!r.good()) return r.refusal();
    const Result<Job> job = read_job(text);
    if (!job) return refused(job.findings);
    return with_job(settled_form(job->said), {{"ok", true}, {"findings", shown(job.findings)}});
}

Json apply(Request& r) {
    const JsonValue said = said_of_job(r);
    const Result<std::vector<Edit>> edits = edits_from_json(r.value("edits"));
    if (!r.good()) return r.refusal();
    if (!edits) return refused(edits.findings);
    Result<JsonValue> after = apply_edits(said, *edits);
    if (!after) return refused(after.findings);
    return edited(said, *after, {});
}

Json between(Request& r) {
    const JsonValue from = r.said("from"), to = r.said("to");
    if (!r.good()) return r.refusal();
    return {{"ok", true}, {"edits", shown(edits_as_json(edits_between(from, to)))}};
}

Json merge(Request& r) {
    const JsonValue base = r.said("base"), ours = r.said("ours"), theirs = r.said("theirs");
    if (!r.good()) return r.refusal();
    const JsonValue merged = merge_said(base, ours, theirs);
    Json answer = {{"ok", true},
                   {"edits_of_ours", shown(edits_as_json(edits_between(ours, merged)))},
                   {"edits_of_theirs", shown(edits_as_json(edits_between(theirs, merged)))}};
    return with_job(merged, std::move(answer));
}

Json settle(Request& r) {
    const JsonValue said = r.said("job");
    const std::string id = r.text("id");
    const bool other = r.flag("take_other");
    if (!r.good()) return r.refusal();
    const Result<std::vector<Edit>> edits = settle_edits(said, id, other);
    if (!edits) return refused(edits.findings);
    const Result<JsonValue> after = apply_edits(said, *edits);
    if (!after) return refused(after.findings);
    return edited(said, *after, {});
}

Json free_id(Request& r) {
    const JsonValue said = said_of_job(r);
    const std::string list = r.text("list"), prefix = r.text("prefix"), salt = r.text("salt");
    if (!r.good()) return r.refusal();
    const std::size_t slash = list.rfind('/');
    const std::optional<JsonValue> there =
        slash == list.npos ? std::nullopt : value_at(said, list.substr(0, slash), list.substr(slash + 1));
    const std::vector<std::string> names = there && there->is(JsonValue::Kind::list)
                                               ? entry_names(*there, Holds::by_id)
                                               : std::vector<std::string>{};
    for (std::size_t n = names.size() + 1;; ++n) {
        const std::string id = prefix + std::to_string(n) + salt;
        if (std::find(names.begin(), names.end(), id) == names.end()) return {{"ok", true}, {"id", id}};
    }
}

// ---- what is derived from it

Json shown_spaces(const Job& job, const Derived& derived) {
    const LengthStyle style = lengths_of(job);
    return list_of(job.spaces, [&](const SpaceInput& space) {
        const auto survey = derived.surveys.find(space.id);
        return shown_space(space, survey == derived.surveys.end() ? nullptr : &survey->second, style);
    });
}

Json derive(Request& r) {
    const Worked* worked = worked_out(r);
    if (!worked) return r.refusal();
    const Job& job = worked->job;
    const Derived& derived = worked->derived;
    const LengthStyle style = lengths_of(job);
    Json overridden = Json::array();
    for (std::size_t i = 0; i < derived.overridden.size(); ++i)
        overridden.push_back(
            {{"finding", shown(derived.overridden[i])}, {"reason", derived.override_reasons[i]}});
    return {{"ok", true},
            {"units", unit_name(job.units)},
            {"mark_on_back", job.mark_on != MarkOn::face},
            {"may_cut", derived.may_cut()},
            {"layout_fingerprint", layout_fingerprint(job)},
            {"stages", shown_stages(job, derived)},
            {"findings", shown(derived.findings)},
            {"overridden", std::move(overridden)},
            {"spaces", shown_spaces(job, derived)},
            {"panels", shown_panels(job, derived, style)},
            {"match_marks", shown_match_marks(derived)},
            {"pieces", shown_pieces(derived, style)},
            {"roll", shown_roll(job, derived, style)},
            {"takeoff", shown_takeoff(derived, style)}};
}

/// The readings alone, with what is being typed among them: nothing else can change before it is entered.
Json measure_typed(Request& r) {
    const Worked* worked = pieces_of(r);
    const Result<std::vector<Edit>> edits = edits_from_json(r.value("edits"));
    if (!worked || !r.good()) return r.refusal();
    if (!edits) return refused(edits.findings);
    Result<JsonValue> after = apply_edits(settled_form(worked->job.said), *edits);
    if (!after) return refused(after.findings);
    const Result<Job> job = job_from_said(std::move(*after));
    if (!job) return refused(job.findings);
    Derived derived;
    for (const SpaceInput& space : job->spaces)
        if (Result<Survey> survey = measure(space, {})) derived.surveys.emplace(space.id, std::move(*survey));
    ready_to_leave(*job, derived);
    return {{"ok", true}, {"spaces", shown_spaces(*job, derived)}};
}

/// The layout that the job keeps, whether it still fits or not.
Layout said_layout(Request& r) {
    const std::optional<Job> job = r.job("job");
    return job ? job->kept_layout.value_or(Layout{}) : Layout{};
}

Json check(Request& r) {
    std::optional<Layout> layout = r.layout("layout");
    const Worked* worked = pieces_of(r);
    if (!worked || !r.good()) return r.refusal();
    const Job& job = worked->job;
    // The pieces may have been worked out with another layout: the text alone says what is kept.
    if (!layout)
        layout = said_layout(r);
    else if (!layout->stretches.empty())
        layout->stretches = said_layout(r).stretches;
    const std::vector<LayoutPiece> pieces = layout_pieces(job, worked->derived);
    measure_layout(pieces, job.goods, *layout);
    const LengthStyle style = lengths_of(job);
    const std::vector<Finding> findings = check_layout(pieces, job.goods, *layout, style);
    return {{"ok", true},
            {"legal", findings.empty()},
            {"used", length(layout->used_mm, style)},
            {"bought", length(to_order_mm(*layout), style)},
            {"goods_share", layout->goods_share},
            {"findings", shown(findings)}};
}

Json keep(Request& r) {
    const std::optional<Job> job = r.job("job");
    const std::optional<Layout> layout = r.layout("layout");
    if (!r.good()) return r.refusal();
    if (!layout) return refused({question_fault("\"layout\" is missing.", "Give the placements.")});
    const Result<Job> kept = keep_layout(*job, on_kept_stretches(*layout, *job));
    if (!kept) return refused(kept.findings);
    return edited(settled_form(job->said), settled_form(kept->said), kept.findings);
}

Json let_pass(Request& r) {
    const std::optional<Job> job = r.job("job");
    const std::string code = r.text("code"), subject = r.text("subject"), reason = r.text("reason");
    const Worked* worked = worked_out(r);
    if (!worked || !r.good()) return r.refusal();
    for (const Finding& f : worked->derived.findings) {
        if (f.severity != Severity::stop || f.code != code || f.subject.id != subject) continue;
        const Result<Job> passed = override_stop(*job, f, reason);
        if (!passed) return refused(passed.findings);
        if (trimmed(reason).empty()) return refused(passed.findings);
        return edited(settled_form(job->said), settled_form(passed->said), passed.findings);
    }
    return refused({question_fault(
        "No stop " + in_quotes(code) + " about " + in_quotes(subject) + " stands in this job.",
        "Name a stop by its code and its subject.")});
}

// ---- papers

/// Every sheet of a job whether something stops or not: a screen shows what will be printed; files to cut from are made by
/// the server, which holds them back.
std::vector<Sheet> sheets_of(const Job& job, const Derived& derived) {
    const PaperInput in = paper_input(job, derived);
    std::vector<Sheet> sheets;
    sheets.push_back(ticket(in));
    if (in.layout) sheets.push_back(roll_sheet(in));
    if (in.takeoff) sheets.push_back(materials_sheet(in));
    for (const Piece* piece : cut_from_goods(in)) sheets.push_back(marking_sheet(in, *piece));
    if (!derived.applied.empty()) sheets.push_back(applied_sheet(in));
    return sheets;
}

/// Drawn once for all pages of a job.
const std::vector<Sheet>& drawn_sheets(Worked& worked) {
    if (worked.sheets.empty()) worked.sheets = sheets_of(worked.job, worked.derived);
    return worked.sheets;
}

Json sheets(Request& r) {
    Worked* worked = worked_out(r);
    if (!worked) return r.refusal();
    return {{"ok", true},
            {"may_cut", worked->derived.may_cut()},
            {"sheets", list_of(drawn_sheets(*worked), [](const Sheet& s) {
                 return Json{{"stem", s.file_stem},
                             {"title", s.title},
                             {"purpose", s.purpose},
                             {"cutting", s.cutting},
                             {"pages", list_of(s.pages, [](const Page& p) {
                                  return Json{{"width_mm", p.width_mm}, {"height_mm", p.height_mm}};
                              })}};
             })}};
}

/// Where a code will be: the library that makes one is not in the browser, and no sheet shown there has one.
std::vector<Outline> place_of_code(const std::string&, Vec2 at_mm, double size_mm) {
    return {rectangle(at_mm, at_mm + Vec2{size_mm, size_mm})};
}

Json page(Request& r) {
    const std::string stem = r.text("stem");
    const double number = r.number("page");
    Worked* worked = worked_out(r);
    if (!worked || !r.good()) return r.refusal();
    for (const Sheet& sheet : drawn_sheets(*worked)) {
        if (sheet.file_stem != stem) continue;
        if (!(number >= 1 && number <= static_cast<double>(sheet.pages.size()))) break;
        return {
            {"ok", true},
            {"svg", page_svg(sheet.pages[static_cast<std::size_t>(number) - 1], sheet.title, place_of_code)}};
    }
    return refused(
        {question_fault("There is no page " + shortest(number) + " of a sheet " + in_quotes(stem) + ".",
                        "Ask \"sheets\" for what there is; pages count from 1.")});
}

// ---- lengths and readings as they are typed

Json read_length(Request& r) {
    const std::string typed = r.text("text");
    const LengthStyle style = r.style();
    if (!r.good()) return r.refusal();
    const Result<TypedLength> read = parse_length(typed, style.unit);
    if (!read) return refused(read.findings);
    return {{"ok", true}, {"length", length(read->mm(), style)}, {"units", unit_name(read->unit)}};
}

Json print_lengths(Request& r) {
    const LengthStyle style = r.style();
    const std::vector<double> all = r.numbers("mm");
    if (!r.good()) return r.refusal();
    return {{"ok", true},
            {"texts", list_of(all, [&style](double mm) { return Json(print_length(mm, style).text); })}};
}

Json read_reading(Request& r) {
    const std::string line = r.text("line");
    const LengthStyle style = r.style();
    if (!r.good()) return r.refusal();
    const Result<Reading> reading = parse_reading_line(line, style.unit);
    if (!reading) return refused(reading.findings);
    return {{"ok", true}, {"reading", shown_reading(*reading, style)}};
}

struct Question {
    const char* name;
    Json (*answer)(Request&);
};
constexpr Question questions[] = {{"open", open},
                                  {"apply", apply},
                                  {"between", between},
                                  {"merge", merge},
                                  {"settle", settle},
                                  {"free_id", free_id},
                                  {"derive", derive},
                                  {"measure_typed", measure_typed},
                                  {"check_layout", check},
                                  {"slide_piece", slide_piece},
                                  {"keep_layout", keep},
                                  {"let_pass", let_pass},
                                  {"propose_joints", propose_joints},
                                  {"sheets", sheets},
                                  {"page", page},
                                  {"read_length", read_length},
                                  {"print_lengths", print_lengths},
                                  {"read_reading", read_reading}};

}  // namespace

std::string answer(std::string_view request) {
    Result<JsonValue> asked = parse_json(request, question_limits);
    if (!asked || !asked.findings.empty()) return as_text(refused(asked.findings));
    Request r(std::move(*asked));
    const std::string name = r.text("do");
    if (!r.good()) return as_text(r.refusal());
    for (const Question& q : questions) {
        if (name == q.name) return as_text(q.answer(r));
    }
    return as_text(refused({question_fault("Nothing is called " + in_quotes(name) + " here.",
                                           "docs/surface.schema.json lists what can be asked.")}));
}

}  // namespace spile::surface
