// The document as a whole: its version, its head, its units, and the order in which its sections are read.
#include <cmath>

#include "core/base/text.h"
#include "core/job/edit_faults.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr Choice<MarkOn> mark_words[] = {{"back", MarkOn::back}, {"face", MarkOn::face}};
constexpr Choice<Paper> paper_words[] = {{"A4", Paper::a4}, {"Letter", Paper::letter}};

/// Every reading that has none gets the first free id "t1", "t2", ... of its space.
void give_readings_ids(JsonValue& ties) {
    std::set<std::string> taken;
    for (const JsonValue& tie : ties.items) {
        const JsonValue* id = tie.find("id");
        if (id && id->is(Kind::text)) taken.insert(id->text);
    }
    std::size_t next = 1;
    for (JsonValue& tie : ties.items) {
        const bool bare = tie.is(Kind::text);
        if (!bare && !(tie.is(Kind::object) && tie.find("line") && !tie.find("id"))) continue;
        std::string id;
        do id = "t" + std::to_string(next++);
        while (taken.count(id) > 0);
        JsonValue said = JsonValue::object();
        said.line = tie.line;
        said.set("id", JsonValue::of_text(id)).line = tie.line;
        if (bare) {
            said.set("line", std::move(tie));
        } else {
            said.keys.insert(said.keys.end(), tie.keys.begin(), tie.keys.end());
            said.items.insert(said.items.end(), std::make_move_iterator(tie.items.begin()),
                              std::make_move_iterator(tie.items.end()));
        }
        tie = std::move(said);
    }
}

}  // namespace

void give_readings_ids_everywhere(JsonValue& said) {
    JsonValue* spaces = said.find("spaces");
    if (!spaces || !spaces->is(Kind::list)) return;
    for (JsonValue& space : spaces->items) {
        JsonValue* ties = space.find("ties");
        if (ties && ties->is(Kind::list) && ties->items.size() <= limits::readings) give_readings_ids(*ties);
    }
}

bool JobReader::read_version(Section& root) {
    const auto at = root.need("spile", "\"spile\": 1, the version of the format, as the first key");
    if (!at) return false;
    const double version = (*at)->number;
    if (!(*at)->is(Kind::number) || version != std::floor(version) || version < 1) {
        root.stop("bad-version", *at, "The version of the format is a whole number from 1.",
                  in_a_file("\"spile\": " + std::to_string(job_version)));
        return false;
    }
    if (version > job_version) {
        root.stop("newer-version", *at,
                  "The file is of version " + (*at)->text +
                      " of the format; this Spile reads up to version " + std::to_string(job_version) + ".",
                  "Open it with a newer Spile.",
                  {{"version", version, ""}, {"limit", static_cast<double>(job_version), ""}});
        return false;
    }
    job_.version = static_cast<int>(version);
    return true;
}

void JobReader::read_units(Section& root) {
    if (root.has("units")) {
        root.choice("units", job_.units, unit_words);
        return;
    }
    // Spaces that all name the same unit speak for the job.
    std::set<std::string> of_spaces;
    const JsonValue* spaces = root.place()->find("spaces");
    if (spaces && spaces->is(Kind::list)) {
        for (const JsonValue& space : spaces->items) {
            const JsonValue* units = space.find("units");
            of_spaces.insert(units && units->is(Kind::text) ? units->text : "");
        }
    }
    if (of_spaces.size() == 1) {
        for (const Choice<Unit>& c : unit_words) {
            if (*of_spaces.begin() != c.word) continue;
            job_.units = c.value;
            return;
        }
    }
    root.stop("missing-key", root.place(),
              "Nothing says whether a plain number is inches or millimetres.",
              "Say which. " + in_a_file("\"units\": \"in\" or \"units\": \"mm\" at the top"));
}

void JobReader::read_head(Section& root) {
    root.text("title", job_.title, TextRule::line);
    root.text("boat", job_.boat, TextRule::line);
    root.text("customer", job_.customer, TextRule::line);
    root.text("notes", job_.notes, TextRule::notes);
    read_units(root);
    job_.paper = job_.units == Unit::inch ? Paper::letter : Paper::a4;
    root.choice("paper", job_.paper, paper_words);
    MarkOn side{};
    if (root.choice("mark_on", side, mark_words)) job_.mark_on = side;
}

Result<Job> JobReader::read() {
    give_readings_ids_everywhere(job_.said);
    const Place document(job_.said);
    Result<Job> result;
    Section root(faults_, document, job_keys, {"job", ""});
    if (!document->is(Kind::object) || !read_version(root)) {
        result.findings = faults_.take();
        return result;
    }
    read_head(root);
    read_goods(root);
    read_finish(root);
    read_clearances(root);
    read_sewing(root);
    read_papers(root);
    read_defaults(root);
    read_spaces(root);
    read_panels(root);
    read_overrides(root);
    read_kept_layout(root);
    read_unsettled(root);
    if (!job_.mark_on && !root.has("mark_on") && job_.panels_said > 0) {
        root.stop("mark-side-missing", root.place(),
                  "Nothing says on which side of the goods the pieces are marked; the wrong side mirrors "
                  "every one of them.",
                  "Say which side is chalked: the back, mirrored, or the face. " +
                      in_a_file("\"mark_on\": \"back\" or \"mark_on\": \"face\""));
    }
    result.findings = faults_.take();
    job_.faults = result.findings;
    result.value = std::move(job_);
    return result;
}

Result<Job> job_from_said(JsonValue said) {
    return JobReader(std::move(said)).read();
}

Result<Job> read_job(const std::string& text) {
    Result<JsonValue> parsed = parse_json(text);
    if (!parsed) return {std::nullopt, std::move(parsed.findings)};
    Result<Job> job = job_from_said(std::move(*parsed));
    append(parsed.findings, std::move(job.findings));
    job.findings = std::move(parsed.findings);
    if (job) job->faults = job.findings;
    return job;
}

LengthStyle lengths_of(const Job& job) {
    LengthStyle style;
    style.unit = job.units;
    return style;
}

}  // namespace spile
