// The page that lists the files of a job's folder.
#include <algorithm>

#include "export/papers/papers.h"
#include "export/svg/svg_words.h"

namespace spile {
namespace {

constexpr const char* kFirstLine = "<!doctype html><!-- The papers of a job, written by Spile. -->\n";

constexpr const char* kStyle = R"(<style>
body { font: 17px/1.45 "Inter", system-ui, sans-serif; color: #18242f; background: #f7f5ef; margin: 0 auto; padding: 2rem 1rem; max-width: 46rem; }
h1 { font-size: 1.9rem; margin: 0; }
h2 { font-size: 1.15rem; margin: 2rem 0 .5rem; border-bottom: 2px solid #18242f; }
ul { list-style: none; margin: 0; padding: 0; }
li { padding: .45rem 0; border-bottom: 1px solid #cfcabb; break-inside: avoid; }
a { color: inherit; font-weight: 600; overflow-wrap: anywhere; }
span { color: #56616b; font-size: .85rem; overflow-wrap: anywhere; }
.stop { border: 3px solid #d9480f; background: #fffdf8; padding: .2rem 1rem 1rem; margin-top: 1.5rem; }
.stop h2 { border: 0; margin: .8rem 0 0; }
@media print { body { background: none; max-width: none; padding: 0; } a { text-decoration: none; } }
</style>
)";

std::string file_line(const PaperFile& file) {
    return "<li><a href=\"" + file.name + "\">" + xml_escaped(file.title) + "</a> <span>" + file.name +
           "</span><br>" + xml_escaped(file.purpose) + "</li>\n";
}

std::string finding_line(const Finding& finding) {
    return "<li>" + xml_escaped(finding.says) +
           (finding.to_do.empty() ? "" : " <b>" + xml_escaped(finding.to_do) + "</b>") + "</li>\n";
}

std::string list_of(const std::string& heading, const std::string& lines) {
    return lines.empty() ? "" : "<h2>" + heading + "</h2>\n<ul>\n" + lines + "</ul>\n";
}

}  // namespace

std::string index_page(const PaperInput& in, const std::vector<Finding>& stops,
                       const std::vector<PaperFile>& files) {
    const std::string title = in.title.empty() ? "Papers of a job" : in.title;
    std::string page = kFirstLine;
    page +=
        "<html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" "
        "content=\"width=device-width\">\n";
    page += "<title>" + xml_escaped(title) + "</title>\n" + kStyle + "</head><body>\n";
    page += "<h1>" + xml_escaped(title) + "</h1>\n";
    if (!in.boat.empty()) page += "<p>" + xml_escaped(in.boat) + "</p>\n";

    if (!stops.empty()) {
        std::string lines;
        for (const Finding& finding : stops) lines += finding_line(finding);
        page += "<div class=\"stop\">" +
                list_of("Stopped: nothing to cut from is here until this is settled", lines) + "</div>\n";
    }
    // Before the many files, not behind them.
    std::string overrides, looks;
    for (const std::string& override_said : in.overrides)
        overrides += "<li>" + xml_escaped(override_said) + "</li>\n";
    for (const Finding& finding : in.findings)
        if (finding.severity == Severity::look) looks += finding_line(finding);
    page += list_of("Allowed by name, with its reason", overrides);
    page += list_of("A person must look at", looks);
    for (const PaperGroup group : {PaperGroup::shop, PaperGroup::marking, PaperGroup::making,
                                   PaperGroup::away, PaperGroup::full_size, PaperGroup::machine}) {
        std::string lines;
        for (const PaperFile& file : files)
            if (file.group == group) lines += file_line(file);
        page += list_of(words_for(group), lines);
    }
    std::string others;
    for (int k = 0; k < paper_kinds; ++k) {
        const PaperKind kind = static_cast<PaperKind>(k);
        if (std::find(in.settings.sheets.begin(), in.settings.sheets.end(), kind) == in.settings.sheets.end())
            others += (others.empty() ? "" : ", ") + std::string(word_for(kind));
    }
    if (!others.empty() && stops.empty())
        page +=
            "<p>Not made this time: " + others +
            ". They are asked for with <code>--sheets</code>, or in the job under <code>papers</code>.</p>\n";
    return page + "</body></html>\n";
}

bool is_index_page(const std::string& page) {
    return page.rfind(kFirstLine, 0) == 0;
}

bool index_lists(const std::string& page, const std::string& name) {
    return name == "index.html" || page.find("<a href=\"" + name + "\">") != std::string::npos;
}

}  // namespace spile
