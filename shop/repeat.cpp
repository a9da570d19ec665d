#include "shop/repeat.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/base/text.h"
#include "core/job/edit.h"
#include "core/measure/tape.h"
#include "shop/history.h"
#include "shop/job_rows.h"
#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

/// The pattern with the goods of the new order and without what was settled for the old one.
std::string repeated_document(Database& database, const std::string& pattern, Id goods) {
    Result<JsonValue> said = parse_json(pattern);
    if (!said) throw Refusal{said.findings.front()};
    said->erase("kept_layout");
    if (goods) {
        Statement row(database, "SELECT document FROM goods WHERE id=?");
        if (!row.with(goods).next()) need_row(database, "goods", "goods", goods);
        Result<JsonValue> group = parse_json(row.text(0));
        if (!group) throw Refusal{group.findings.front()};
        Statement name(database, "SELECT name FROM goods WHERE id=?");
        name.with(goods).next();
        group->set("name", JsonValue::of_text(name.text(0)));
        said->set("goods", std::move(*group));
    } else if (JsonValue* group = said->find("goods")) {
        group->erase("lot");  // the next set comes from another roll
    }
    return write_said(settled_form(std::move(*said)));
}

/// Variance of the distance between two points along the line that joins them, mm2.
double distance_variance(const Survey& survey, const std::string& from, const std::string& to) {
    const auto a = survey.points.find(from), b = survey.points.find(to);
    const Vec2 d = b->second.boat_mm - a->second.boat_mm;
    const double length = std::sqrt(d.x * d.x + d.y * d.y);
    const Vec2 u{d.x / length, d.y / length};
    const auto along = [&](const Cov2& c) {
        return u.x * u.x * c.xx + 2 * u.x * u.y * c.xy + u.y * u.y * c.yy;
    };
    double variance = along(a->second.cov_mm2) + along(b->second.cov_mm2);
    if (survey.covariance_mm2.empty()) return variance;
    const std::size_t n = 2 * survey.points.size();
    const auto i = 2 * static_cast<std::size_t>(std::distance(survey.points.begin(), a));
    const auto j = 2 * static_cast<std::size_t>(std::distance(survey.points.begin(), b));
    const auto cov = [&](std::size_t row, std::size_t column) {
        return survey.covariance_mm2[row * n + column];
    };
    variance -= 2 * (u.x * u.x * cov(i, j) + u.x * u.y * (cov(i, j + 1) + cov(i + 1, j)) +
                     u.y * u.y * cov(i + 1, j + 1));
    return std::max(variance, 0.0);
}

/// Along, across, and the two ways between: by the half of a quarter turn the size lies in.
std::size_t direction_of(Vec2 d) {
    if (d.x < 0) d = {-d.x, -d.y};
    constexpr double kTan = 0.41421356237309503;  // of 22.5 degrees: sqrt 2 less 1
    if (std::fabs(d.y) <= kTan * d.x) return 0;
    if (d.x <= kTan * std::fabs(d.y)) return 1;
    return d.y > 0 ? 2 : 3;
}

void sizes_of(const SpaceInput& space, const Survey& survey, std::vector<CheckSize>& sizes) {
    std::array<CheckSize, 4> longest;
    for (const TieReport& tie : survey.ties) {
        if (!tie.part.empty() || tie.points.size() != 2) continue;
        const auto a = survey.points.find(tie.points[0]), b = survey.points.find(tie.points[1]);
        if (a == survey.points.end() || b == survey.points.end()) continue;
        const Vec2 d = b->second.boat_mm - a->second.boat_mm;
        const double length = std::sqrt(d.x * d.x + d.y * d.y);
        CheckSize& best = longest[direction_of(d)];
        if (length <= best.expected_mm) continue;
        const double tape = distance_sd_mm(space.tape, length);
        best = {space.id, tie.points[0], tie.points[1], length, 0, 0};
        best.sd_mm = std::sqrt(distance_variance(survey, best.from, best.to) + tape * tape);
        best.limit_mm = kCheckLimit * best.sd_mm;
    }
    for (CheckSize& size : longest)
        if (size.expected_mm > 0) sizes.push_back(std::move(size));
}

std::string size_name(const CheckSize& size) {
    return size.from + " " + size.to;
}

Finding about(const CheckSize& size, const char* code, Severity severity, std::string says,
              std::string to_do) {
    Finding f = stop(code, std::move(says), std::move(to_do), {"tie", size_name(size)});
    f.severity = severity;
    return f;
}

/// The lines put beside the sizes they are of.
Result<std::vector<CheckedSize>> beside(const Job& job, const std::vector<CheckSize>& sizes,
                                        const std::vector<std::string>& lines) {
    Result<std::vector<CheckedSize>> out;
    std::vector<CheckedSize> checked;
    for (const CheckSize& size : sizes) checked.push_back({size, "", 0, false});
    for (const std::string& line : lines) {
        const Unit unit = job.spaces.empty() ? job.units : job.spaces.front().unit;
        Result<Reading> reading = parse_reading_line(line, unit);
        append(out.findings, std::move(reading.findings));
        if (!reading) continue;
        const Tie* tie = std::get_if<Tie>(&reading->what);
        const auto at = std::find_if(checked.begin(), checked.end(), [&](const CheckedSize& c) {
            return tie && ((c.size.from == tie->from && c.size.to == tie->to) ||
                           (c.size.from == tie->to && c.size.to == tie->from));
        });
        if (at == checked.end()) {
            std::vector<std::string> names;
            for (const CheckSize& size : sizes) names.push_back(size_name(size));
            out.findings.push_back(stop("no-check-size",
                                        "\"" + line.substr(0, 60) + "\" is none of the check sizes.",
                                        "They are: " + list_words(names) + ".", {"tie", line.substr(0, 60)}));
            continue;
        }
        at->typed = line;
        at->reads_mm = tie->distance.mm();
        at->agrees = std::fabs(at->reads_mm - at->size.expected_mm) <= at->size.limit_mm;
    }
    if (!has_stop(out.findings)) out.value = std::move(checked);
    return out;
}

}  // namespace

Result<JobHead> start_repeat(Store& store, const NewRepeat& repeat) {
    return writing(store, [&](Database& database) {
        const JobHead old = read_head(database, repeat.job);
        if (old.as_fitted_rev == 0)
            refuse("not-fitted",
                   "Job " + std::to_string(old.id) +
                       " has no pattern as fitted; nobody has said that it fitted.",
                   "Say so with \"job fitted\" when it did, or choose another job.",
                   {"job", std::to_string(old.id)});
        const Revision pattern = read_kept_revision(database, old.id, old.as_fitted_rev);
        NewJob job;
        job.document = repeated_document(database, pattern.document, repeat.goods);
        job.customer = repeat.customer ? repeat.customer : (repeat.boat || repeat.sister ? 0 : old.customer);
        job.boat = repeat.boat ? repeat.boat : (repeat.sister ? 0 : old.boat);
        job.promised = repeat.promised;
        job.by = repeat.by;
        const Id id = insert_job(database, job);
        const bool other_boat = repeat.sister || (repeat.boat && repeat.boat != old.boat);
        Statement(database, "UPDATE job SET repeat_of=?, repeat_of_rev=?, unchecked=? WHERE id=?")
            .with(old.id, old.as_fitted_rev, other_boat ? 1 : 0, id)
            .run();
        return read_head(database, id);
    });
}

Result<std::vector<CheckSize>> check_sizes(const Job& job) {
    std::vector<CheckSize> sizes;
    std::vector<Finding> findings;
    for (const SpaceInput& space : job.spaces) {
        const Result<Survey> survey = measure(space, {});
        if (survey && survey->fixed) {
            sizes_of(space, *survey, sizes);
            continue;
        }
        append(findings, survey.findings);
    }
    if (has_stop(findings)) return {std::nullopt, std::move(findings)};
    return Result<std::vector<CheckSize>>::ok(std::move(sizes));
}

Result<Checked> check_repeat(Store& store, Id id, const std::vector<std::string>& lines,
                             const std::string& by) {
    const Result<Revision> revision = read_revision(store, id);
    if (!revision) return {std::nullopt, revision.findings};
    const Result<Job> job = read_job(revision->document);
    if (!job) return {std::nullopt, job.findings};
    const Result<std::vector<CheckSize>> sizes = check_sizes(*job);
    if (!sizes) return {std::nullopt, sizes.findings};
    Result<std::vector<CheckedSize>> taken = beside(*job, *sizes, lines);
    if (!taken) return {std::nullopt, std::move(taken.findings)};
    Result<Checked> out;
    LengthStyle style = lengths_of(*job);
    style.with_unit = true;
    std::string note = "Check sizes:";
    Checked checked;
    checked.all_agree = true;
    for (CheckedSize& c : *taken) {
        const std::string expected = plain_length(c.size.expected_mm, style);
        checked.all_agree = checked.all_agree && c.agrees;
        if (c.typed.empty()) {
            out.findings.push_back(
                about(c.size, "check-size-missing", Severity::note,
                      size_name(c.size) + " has not been taken yet; it should be " + expected + ".",
                      "Tape it aboard."));
        } else if (!c.agrees) {
            Finding f =
                about(c.size, "check-size-differs", Severity::look,
                      size_name(c.size) + " reads " + plain_length(c.reads_mm, style) + "; the pattern has " +
                          expected + ", give or take " + plain_length(c.size.limit_mm, style) + ".",
                      "Tape it again; if it stays, measure the space anew: she is not the same.");
            f.numbers = {{"reads", c.reads_mm, "mm"},
                         {"pattern", c.size.expected_mm, "mm"},
                         {"limit", c.size.limit_mm, "mm"}};
            out.findings.push_back(std::move(f));
        }
        note += " " +
                (c.typed.empty() ? size_name(c.size) + " not taken"
                                 : c.typed + (c.agrees ? " agrees" : " differs")) +
                ";";
    }
    const Result<JobHead> head = writing(store, [&](Database& database) {
        check_text(by, "the name of who did it");
        if (!lines.empty())
            Statement(database, "INSERT INTO job_note VALUES(NULL,?,?,?,?)")
                .with(id, database.now(), by, note)
                .run();
        if (checked.all_agree) Statement(database, "UPDATE job SET unchecked=0 WHERE id=?").with(id).run();
        return read_head(database, id);
    });
    if (!head) return {std::nullopt, head.findings};
    checked.sizes = std::move(*taken);
    checked.job = *head;
    out.value = std::move(checked);
    return out;
}

}  // namespace spile::shop
