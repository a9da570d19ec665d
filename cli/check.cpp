// spile check: what needs a person before anything is cut.
#include "cli/commands.h"
#include "cli/json_output.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/text.h"
#include "core/job/dividing.h"

namespace spile::cli {
namespace {

std::string overridden_text(const Derived& derived, int width) {
    std::string text;
    for (std::size_t i = 0; i < derived.overridden.size(); ++i) {
        text += wrapped("let by", harmless(derived.overridden[i].says), 8, width);
        text += wrapped("", harmless("Because: " + derived.override_reasons[i]), 8, width) + '\n';
    }
    return text;
}

/// "Cockpit sole: 1 space of 24 points, 6 pieces, 108 in of goods."
std::string summary(const Job& job, const Derived& derived) {
    std::size_t points = 0;
    for (const auto& [id, survey] : derived.surveys) points += survey.points.size();
    std::vector<std::string> parts;
    if (!job.spaces.empty()) {
        parts.push_back(count_of(job.spaces.size(), "space", "spaces") + " of " +
                        count_of(points, "point", "points"));
    }
    parts.push_back(count_of(derived.pieces.size(), "piece", "pieces"));
    LengthStyle style = lengths_of(job);
    style.with_unit = true;
    if (derived.layout)
        parts.push_back(plain_length(derived.layout->bought_mm, style) + " of goods to buy at most");
    return harmless(job.title.empty() ? "The job" : job.title) + ": " + list_words(parts) + ".\n\n";
}

}  // namespace

Exit check(const CheckOptions& options) {
    const std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    SolveOptions first_only;
    first_only.rounds = 0;  // whether the pieces fit the goods does not hang on how short the layout is
    Derived derived = run_job(*job, solver_for(*job, first_only), {});
    say_where_to_divide(propose_divisions(*job, derived, {}), lengths_of(*job), derived);
    const Exit exit = derived.may_cut() ? all_well : stopped;
    if (options.json) return print(findings_json(derived.findings)) ? exit : not_read;

    const int width = terminal_width();
    std::string text =
        summary(*job, derived) + findings_text(derived.findings, width) + overridden_text(derived, width);
    text += findings_count(derived.findings) +
            (exit == all_well ? " Nothing stops the cutting." : " Nothing is cut yet.");
    return print(text + '\n') ? exit : not_read;
}

}  // namespace spile::cli
