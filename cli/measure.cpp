// spile measure: where the points lie, how the readings agree, and which should be taken again.
#include <cmath>
#include <set>

#include "cli/commands.h"
#include "cli/json_output.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/text.h"

namespace spile::cli {
namespace {

/// How a space is printed: sizes in its own units.
LengthStyle style_of(const SpaceInput& space) {
    LengthStyle style;
    style.unit = space.unit;
    style.inch_denominator = 32;
    return style;
}

/// "5.1 x 2.0 at 30 deg": half axes, and the long one's turn from ahead towards port.
std::string ellipse_text(const Ellipse& e) {
    if (!(e.long_mm > 0)) return "held";
    return fixed(e.long_mm, 1) + " x " + fixed(e.short_mm, 1) + " at " +
           fixed(e.turn_rad * 180 / 3.14159265358979323846, 0) + " deg";
}

std::string points_text(const Survey& survey, const LengthStyle& style) {
    std::vector<std::vector<std::string>> rows = {{"point", std::string("ahead, ") + unit_name(style.unit),
                                                   std::string("to port, ") + unit_name(style.unit),
                                                   "sd ahead, mm", "sd to port, mm", "95 % within, mm"}};
    for (const auto& [name, point] : survey.points)
        rows.push_back({name, plain_length(point.boat_mm.x, style), plain_length(point.boat_mm.y, style),
                        fixed(std::sqrt(point.cov_mm2.xx), 1), fixed(std::sqrt(point.cov_mm2.yy), 1),
                        ellipse_text(ellipse_95(point.cov_mm2))});
    return table_text(rows);
}

std::string ties_text(const Survey& survey, const LengthStyle& style) {
    std::vector<std::vector<std::string>> rows = {
        {"reading", "reads long by, mm", "sd, mm", "a slip shows from"}};
    LengthStyle with_unit = style;
    with_unit.inch_denominator = 16;
    with_unit.with_unit = true;
    for (const TieReport& tie : survey.ties) {
        const std::string name = tie.line + (tie.part.empty() ? "" : "  [" + tie.part + "]");
        rows.push_back(
            {harmless(name), fixed(tie.residual_mm, 1), fixed(tie.sd_mm, 1),
             tie.smallest_slip_mm ? plain_length(*tie.smallest_slip_mm, with_unit) : "nothing checks it"});
    }
    return table_text(rows);
}

std::string suspects_text(const Survey& survey, LengthStyle style, int width) {
    style.with_unit = true;
    std::string text;
    for (const Suspect& suspect : survey.suspects) {
        std::string says = "\u201C" + suspect.line + "\u201D reads " +
                           plain_length(std::fabs(suspect.slip_mm), style) + " " +
                           (suspect.slip_mm > 0 ? "long" : "short") + " against the others.";
        if (!suspect.guess.empty()) says += " " + suspect.guess;
        if (!suspect.proposed.empty()) says += " It would then be \u201C" + suspect.proposed + "\u201D.";
        std::vector<std::string> alike;
        for (const TieName& tie : suspect.alike) alike.push_back("\u201C" + tie.line + "\u201D");
        if (!alike.empty()) says += " It may as well be " + list_words(alike) + ".";
        text += wrapped("  -", harmless(says), 4, width);
    }
    return text;
}

std::string sentences_text(const std::vector<std::string>& sentences, int width) {
    std::string text;
    for (const std::string& sentence : sentences) text += wrapped("  -", harmless(sentence), 4, width);
    return text;
}

std::string under(const std::string& heading, const std::string& text) {
    return text.empty() ? "" : heading + '\n' + text + '\n';
}

/// The edges whose clearance is a matter of luck, worst of each panel.
std::string fits_text(const std::vector<PanelFit>& fits, const std::string& space, LengthStyle style) {
    style.with_unit = true;
    std::vector<std::vector<std::string>> rows = {
        {"panel", "edge likeliest to meet the boat", "clearance", "meets it, in 100", "1 in 100 takes"}};
    for (const PanelFit& one : fits) {
        if (one.space != space) continue;
        const EdgeFit& edge = one.fit.edges[one.fit.worst];
        rows.push_back({harmless(one.panel), harmless(edge.from + "\u2013" + edge.to),
                        plain_length(edge.clearance_mm, style), fixed(100 * edge.touches, 1),
                        plain_length(edge.wanted_mm, style)});
    }
    return rows.size() > 1 ? table_text(rows) : "";
}

std::string survey_text(const Survey& survey, const std::vector<PanelFit>& fits, const LengthStyle& style,
                        int width) {
    std::string text = wrapped("", harmless(survey.space + ": " + survey.verdict), 0, width) + '\n';
    text += under("To take again, the likeliest first", suspects_text(survey, style, width));
    text += under("Points", points_text(survey, style));
    text += under("Readings, " + std::to_string(survey.spare) + " more than the shape needs",
                  ties_text(survey, style));
    if (survey.spare > 0)
        text += "Misclosure: " + fixed(std::sqrt(survey.variance_factor), 2) +
                " times what the tape's own doubt explains (standard deviations above are by the tape "
                "alone).\n\n";
    text += under("What would help most", sentences_text(survey.advice, width));
    text += under("Will the panels go in", fits_text(fits, survey.space, style));
    const std::string missing = sentences_text(survey.missing, width);
    return text + under("Before leaving the boat", missing.empty() ? "  nothing is missing\n" : missing);
}

/// Findings about measuring alone: panels and goods are not this command's matter.
std::vector<Finding> of_measuring(const std::vector<Finding>& findings) {
    static const std::set<std::string> kinds = {"job", "space", "tie", "point", "curve", "reading"};
    std::vector<Finding> chosen;
    for (const Finding& f : findings)
        if (kinds.count(f.subject.kind)) chosen.push_back(f);
    return chosen;
}

}  // namespace

Exit measure(const MeasureOptions& options) {
    const std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    const Derived derived = run_job(*job, {}, {});
    const std::string findings = findings_text(of_measuring(derived.findings), terminal_width());
    if (options.json) {
        complain(findings);
        return print(surveys_json(*job, derived)) ? all_well : not_read;
    }
    std::string text;
    for (const SpaceInput& space : job->spaces) {
        const auto survey = derived.surveys.find(space.id);
        if (survey == derived.surveys.end())
            text += harmless(space.id) + ": the shape could not be worked out.\n\n";
        else
            text += survey_text(survey->second, derived.fits, style_of(space), terminal_width());
    }
    if (job->spaces.empty()) text = "The job has no space that was measured.\n\n";
    return print(text + findings) ? all_well : not_read;
}

}  // namespace spile::cli
