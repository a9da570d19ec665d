// spile make: all papers and cutting files of a job into a folder.
#include <algorithm>

#include "cli/commands.h"
#include "cli/folder.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/text.h"
#include "core/job/dividing.h"
#include "export/papers/papers.h"

namespace spile::cli {
namespace {

std::vector<Finding> stops_of(const std::vector<Finding>& findings) {
    std::vector<Finding> stops;
    std::copy_if(findings.begin(), findings.end(), std::back_inserter(stops),
                 [](const Finding& f) { return f.severity == Severity::stop; });
    return stops;
}

/// One line for each file.
std::string list_text(const std::vector<PaperFile>& files) {
    std::size_t width = 0;
    for (const PaperFile& file : files) width = std::max(width, file.name.size());
    std::string text;
    for (const PaperFile& file : files)
        text += "  " + padded(file.name, width) + "  " + harmless(file.purpose) + '\n';
    return text;
}

}  // namespace

Exit make(const MakeOptions& options) {
    std::vector<PaperKind> asked;
    for (const std::string& word : options.sheets) {
        const std::size_t before = asked.size();
        for (int k = 0; k < paper_kinds; ++k) {
            const PaperKind kind = static_cast<PaperKind>(k);
            if (word == "all" || word == word_for(kind)) asked.push_back(kind);
        }
        if (asked.size() > before) continue;
        complain("spile: there is no paper called \"" + harmless(word) +
                 "\"; spile make --help lists them.\n");
        return not_read;
    }
    const std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    Derived derived = run_job(*job, solver_for(*job), {});
    say_where_to_divide(propose_divisions(*job, derived, {}), lengths_of(*job), derived);
    PaperInput input = paper_input(*job, derived);
    if (!asked.empty()) input.settings.sheets = asked;
    Result<std::vector<PaperFile>> papers = paper_files(input, stops_of(derived.findings));
    append(derived.findings, std::move(papers.findings));

    const std::string fault = replace_folder(options.out, *papers);
    if (!fault.empty()) {
        complain("spile: " + harmless(fault) + '\n');
        return not_read;
    }
    std::string text = findings_text(derived.findings, terminal_width());
    text += count_of(papers->size(), "file", "files") + " in " + harmless(options.out) + ":\n" +
            list_text(*papers);
    if (!derived.may_cut())
        text += "\nSTOPPED: there is nothing to cut from until the stops above are settled.\n";
    if (!print(text)) return not_read;
    return derived.may_cut() ? all_well : stopped;
}

}  // namespace spile::cli
