// spile cost: what the job takes.
#include "cli/commands.h"
#include "cli/json_output.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/text.h"

namespace spile::cli {
namespace {

std::string amount_text(double amount, const std::string& unit, LengthStyle style) {
    if (unit == "mm") {
        style.with_unit = true;
        style.feet = true;
        return plain_length(amount, style);
    }
    if (unit == "mm2") {
        return style.unit == Unit::inch ? fixed(amount / (304.8 * 304.8), 1) + " sq ft"
                                        : fixed(amount / 1e6, 2) + " m2";
    }
    return shortest(amount) + (unit.empty() ? "" : " " + unit);
}

std::string lines_text(const std::string& heading, const std::vector<QuantityLine>& lines,
                       const LengthStyle& style, int width) {
    std::string text = heading + '\n';
    for (const QuantityLine& line : lines) {
        std::string said = line.what + ": " + amount_text(line.amount, line.unit, style);
        if (line.to_buy > 0) said += ", to buy " + amount_text(line.to_buy, line.unit, style);
        text += wrapped("  -", harmless(said + ". " + line.because), 4, width);
    }
    return text + '\n';
}

}  // namespace

Exit cost(const CostOptions& options) {
    const std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    const Derived derived = run_job(*job, solver_for(*job), {});
    const Exit exit = derived.takeoff ? all_well : stopped;
    const int width = terminal_width();
    const std::string findings = findings_text(derived.findings, width);
    if (options.json) {
        complain(findings);
        return print(takeoff_json(derived.takeoff)) ? exit : not_read;
    }
    std::string text = "What it takes cannot be said before there is a layout: see above.\n";
    if (derived.takeoff) {
        text = lines_text("Materials", derived.takeoff->materials, lengths_of(*job), width) +
               lines_text("Work", derived.takeoff->work, lengths_of(*job), width);
    }
    return print(findings + text) ? exit : not_read;
}

}  // namespace spile::cli
