#include "core/job/ready_to_leave.h"

#include <algorithm>

#include "core/base/text.h"

namespace spile {
namespace {

/// Lines about what a panel of the space needs to know besides its shape.
std::vector<std::string> lines_of_panels(const Job& job, const std::string& space, const Survey& survey) {
    bool any = false, studs = false, lids = false;
    std::vector<std::string> out, heights;
    for (const PanelInput& panel : job.panels) {
        if (panel.space != space) continue;
        any = true;
        studs = studs || !panel.studs.empty();
        for (const EdgePlan& edge : panel.edges) {
            if (edge.situation != Situation::lid) continue;
            lids = true;
            if (survey.heights_mm.count(edge.from) + survey.heights_mm.count(edge.to) > 0) continue;
            // One lid seen from the panels on both sides is one line.
            const auto& [first, second] = std::minmax(edge.from, edge.to);
            const std::string line = "lid " + first + " " + second +
                                     ": how high its underside stands is not recorded; write it as \u201C" +
                                     first + " height 1/2\u201D.";
            if (std::find(heights.begin(), heights.end(), line) == heights.end()) heights.push_back(line);
        }
    }
    if (!any)
        out.push_back("edges: no panel says yet what its edges meet: wall, joint, lid, free or walked over.");
    if (!studs) out.push_back("studs: none is recorded.");
    if (any && !lids) out.push_back("lids: no edge is said to meet a lid or door.");
    out.insert(out.end(), heights.begin(), heights.end());
    for (const PanelInput& twin : job.panels) {
        if (twin.twin_of.empty() || twin.twin_checked) continue;
        for (const PanelInput& panel : job.panels)
            if (panel.id == twin.twin_of && panel.space == space)
                out.push_back("twin " + twin.id + ": it is assumed to be the mirror twin of panel " +
                              panel.id + "; its check sizes are not taped.");
    }
    if (!(job.goods.thickness_mm > 0)) out.push_back("goods: their thickness is not known.");
    return out;
}

Finding left_open(const SpaceInput& space, const LeavingAnswer& answer) {
    Finding f;
    f.code = "left-open";
    f.severity = Severity::note;
    f.subject = {"space", space.id};
    f.says = "Left open in " + space.id + ", " + answer.line + ": " + answer.because + ".";
    f.to_do = "Nothing, unless it has changed since.";
    return f;
}

}  // namespace

void ready_to_leave(const Job& job, Derived& derived) {
    for (const SpaceInput& space : job.spaces) {
        const auto found = derived.surveys.find(space.id);
        if (found == derived.surveys.end()) continue;
        std::vector<std::string>& missing = found->second.missing;
        for (std::string& line : lines_of_panels(job, space.id, found->second))
            missing.push_back(std::move(line));
        for (const LeavingAnswer& answer : space.leaving) {
            const std::string name = answer.line + ":";
            const auto open = std::find_if(missing.begin(), missing.end(),
                                           [&](const std::string& line) { return line.rfind(name, 0) == 0; });
            if (open == missing.end()) continue;
            missing.erase(open);
            derived.findings.push_back(left_open(space, answer));
        }
    }
}

}  // namespace spile
