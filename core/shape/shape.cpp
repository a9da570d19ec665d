// Shaping: panel by panel, then panels against each other.
#include <set>

#include "core/shape/boat_line.h"
#include "core/shape/neighbours.h"
#include "core/shape/net_line.h"
#include "core/shape/panel.h"

namespace spile {

Result<std::vector<Panel>> shape(const std::vector<PanelInput>& panels,
                                 const std::map<std::string, Survey>& surveys, const FinishSettings& finish,
                                 const RunContext& run, const LengthStyle& lengths) {
    Result<std::vector<Panel>> result;
    result.findings = faults_of(finish, lengths);
    if (has_stop(result.findings)) return result;

    std::vector<Panel> made;
    std::set<std::string> ids;
    for (const PanelInput& in : panels) {
        if (run.cancelled()) break;
        Reporter report(in.id, in.where, lengths, result.findings);
        if (!ids.insert(in.id).second) {
            report.add("panel-twice", Severity::stop, "panel", "", {}, "Two panels are called " + in.id + ".",
                       "Give each panel its own id.");
            continue;
        }
        const bool mat = in.size_x_mm != 0 || in.size_y_mm != 0 || (in.corners.empty() && in.space.empty());
        std::optional<Panel> panel = mat ? mat_panel(in, report) : boat_panel(in, surveys, report);
        if (!panel || !make_net_line(*panel, finish, report)) continue;
        make_openings(*panel, finish, report);
        judge_studs(*panel, finish, report);
        made.push_back(std::move(*panel));
    }
    judge_overlaps(made, lengths, result.findings);
    judge_shared_edges(made, lengths, result.findings);
    result.value = std::move(made);
    return result;
}

}  // namespace spile
