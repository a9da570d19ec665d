// Shaping: panel by panel, then panels against each other.
#include <set>

#include "core/shape/applied.h"
#include "core/shape/boat_line.h"
#include "core/shape/match_marks.h"
#include "core/shape/neighbours.h"
#include "core/shape/net_line.h"
#include "core/shape/opening_lines.h"
#include "core/shape/panel.h"
#include "core/shape/slits.h"
#include "core/shape/stud_rule.h"
#include "core/shape/survey_lines.h"
#include "core/shape/twins.h"

namespace spile {
namespace {

/// One panel on its way, with what was found on it.
struct Making {
    const PanelInput* in = nullptr;
    std::optional<Panel> panel;
    std::vector<Finding> findings;
    bool twice = false;  ///< its id is another's

    Reporter report(const LengthStyle& lengths) { return {in->id, in->where, lengths, findings}; }
};

std::vector<Making> with_net_lines(const std::vector<PanelInput>& panels,
                                   const std::map<std::string, Survey>& surveys, const FinishSettings& finish,
                                   const RunContext& run, const LengthStyle& lengths) {
    std::vector<Making> all;
    std::set<std::string> ids;
    for (const PanelInput& in : panels) {
        if (run.cancelled()) break;
        Making making;
        making.in = &in;
        Reporter report = making.report(lengths);
        const bool mat = in.size_x_mm != 0 || in.size_y_mm != 0 || (in.corners.empty() && in.space.empty());
        making.twice = !ids.insert(in.id).second;
        if (making.twice) {
            report.add("panel-twice", Severity::stop, "panel", "", {}, "Two panels are called " + in.id + ".",
                       "Give each panel its own id.");
        } else if (in.twin_of.empty()) {
            making.panel = mat ? mat_panel(in, report) : boat_panel(in, surveys, report);
            if (making.panel && !make_net_line(*making.panel, finish, report)) making.panel.reset();
        }
        all.push_back(std::move(making));
    }
    return all;
}

/// Openings, which may be for lids among the other panels; then slits, studs and applied pieces.
void open_up(std::vector<Making>& all, const std::map<std::string, Survey>& surveys,
             const FinishSettings& finish, const LengthStyle& lengths) {
    std::map<std::string, const Panel*> made;
    for (const Making& m : all)
        if (m.panel) made[m.panel->id] = &*m.panel;
    for (Making& m : all) {
        if (!m.panel) continue;
        Reporter report = m.report(lengths);
        place_lids(*m.panel, made, report);
    }
    for (Making& m : all) {
        if (!m.panel) continue;
        Reporter report = m.report(lengths);
        make_openings(*m.panel, finish, report);
        cut_slits(*m.panel, finish, report);
        if (m.in->stud_rule) place_studs(*m.panel, *m.in->stud_rule, finish, report);
        judge_studs(*m.panel, finish, report);
        const auto survey = surveys.find(m.panel->space);
        place_applied(*m.panel, m.in->applied, survey == surveys.end() ? nullptr : &survey->second, finish,
                      report);
    }
}

/// The line between the two hands as the twin names it; nothing, with a stop, when a point of it is not known.
std::optional<TwinLine> twin_line(const PanelInput& in, const Panel& original,
                                  const std::map<std::string, Survey>& surveys, Reporter& report) {
    const auto survey = surveys.find(original.space);
    if (in.twin_about.size() != 2 || survey == surveys.end()) return std::nullopt;
    const std::string asker = "The line of mirror twin " + in.id;
    const auto a = find_point(survey->second, in.twin_about[0], asker, "panel", "", report);
    const auto b = find_point(survey->second, in.twin_about[1], asker, "panel", "", report);
    if (!a || !b) return std::nullopt;
    if (*a == *b) {
        report.add("twin-line", Severity::stop, "panel", "", {{"length", 0, "mm"}},
                   asker + " has both its points in one place.", "Name two points apart.");
        return std::nullopt;
    }
    return TwinLine{*a, unit(*b - *a)};
}

void make_twins(std::vector<Making>& all, const std::map<std::string, Survey>& surveys,
                const LengthStyle& lengths) {
    for (Making& m : all) {
        const std::string& of = m.in->twin_of;
        if (of.empty() || m.twice) continue;
        const Making* original = nullptr;
        for (const Making& other : all)
            if (other.in->id == of && other.in->twin_of.empty() && other.panel) original = &other;
        Reporter report = m.report(lengths);
        if (original) {
            m.panel =
                twin_of(*original->panel, *m.in, twin_line(*m.in, *original->panel, surveys, report), report);
            continue;
        }
        report.add("twin-missing", Severity::stop, "panel", "", {},
                   "Panel " + m.in->id + " is the mirror twin of panel " + of +
                       ", which is no panel of its own that could be made.",
                   "Name the panel that was measured, and see to its stops first.");
    }
}

}  // namespace

Result<std::vector<Panel>> shape(const std::vector<PanelInput>& panels,
                                 const std::map<std::string, Survey>& surveys, const FinishSettings& finish,
                                 const RunContext& run, const LengthStyle& lengths) {
    Result<std::vector<Panel>> result;
    result.findings = faults_of(finish, lengths);
    if (has_stop(result.findings)) return result;

    std::vector<Making> all = with_net_lines(panels, surveys, finish, run, lengths);
    open_up(all, surveys, finish, lengths);
    MatchMarks marks;
    std::vector<Panel*> originals;
    for (Making& m : all)
        if (m.panel) originals.push_back(&*m.panel);
    marks.of_originals(originals);
    make_twins(all, surveys, lengths);
    std::vector<Panel> made;
    for (Making& m : all) {
        append(result.findings, std::move(m.findings));
        if (m.panel) made.push_back(std::move(*m.panel));
    }
    marks.of_twins(made);
    judge_overlaps(made, lengths, result.findings);
    judge_shared_edges(made, lengths, result.findings);
    result.value = std::move(made);
    return result;
}

}  // namespace spile
