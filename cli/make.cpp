// spile make: all papers and cutting files of a job into a folder.
#include <algorithm>

#include "cli/commands.h"
#include "cli/folder.h"
#include "cli/load.h"
#include "cli/terminal.h"
#include "core/base/text.h"
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
    const std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    Derived derived = run_job(*job, solver_for(*job), {});
    Result<std::vector<PaperFile>> papers =
        paper_files(paper_input(*job, derived), stops_of(derived.findings));
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
