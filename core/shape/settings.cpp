// Faults of the finish settings.
#include <cmath>

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

std::vector<Finding> faults_of(const FinishSettings& finish, const LengthStyle& lengths) {
    std::vector<Finding> findings;
    Reporter report("", "/finish", lengths, findings);

    struct Measure {
        const char* name;
        double mm;
        bool may_be_zero;
    };
    const Measure measures[] = {
        {"binding_growth", finish.binding_growth_mm, true},
        {"binding_width", finish.binding_width_mm, false},
        {"binding_thickness", finish.binding_thickness_mm, true},
        {"least_bound_radius", finish.least_bound_radius_mm, true},
        {"least_bound_hole_radius", finish.least_bound_hole_radius_mm, true},
        {"turn", finish.turn_mm, false},
        {"stitch_from_edge", finish.stitch_from_edge_mm, false},
        {"post_ease", finish.post_ease_mm, true},
        {"slit_short", finish.slit_short_mm, true},
        {"turned_hole_face", finish.turned_hole_face_mm, false},
        {"binding_overlap", finish.binding_overlap_mm, true},
        {"corner_allowance", finish.corner_allowance_mm, true},
        {"stud_from_edge", finish.stud_from_edge_mm, true},
        {"facet", finish.facet_mm, false},
        {"mitre_lap", finish.mitre_lap_mm, true},
        {"end_trim", finish.end_trim_mm, true},
        {"face_thickness", finish.face_thickness_mm, true},
        {"backing_thickness", finish.backing_thickness_mm, true},
    };
    for (const Measure& m : measures) {
        const std::string name = m.name;
        if (!std::isfinite(m.mm)) {
            report.add("finish-setting", Severity::stop, "job", "", {},
                       "The finish setting " + name + " is not a number.", "Give " + name + " a length.");
        } else if (m.mm < 0 || (m.mm == 0 && !m.may_be_zero)) {
            report.add("finish-setting", Severity::stop, "job", "", {{name, m.mm, "mm"}, {"limit", 0, "mm"}},
                       "The finish setting " + name + " is " + report.said(m.mm) + "; it must be " +
                           (m.may_be_zero ? "0 or more." : "more than 0."),
                       "Give " + name + " a length of " + (m.may_be_zero ? "0 or more." : "more than 0."));
        }
    }
    if (!findings.empty()) return findings;

    if (finish.turn_mm <= finish.backing_thickness_mm) {
        report.add("finish-setting", Severity::stop, "job", "",
                   {{"turn", finish.turn_mm, "mm"}, {"limit", finish.backing_thickness_mm, "mm"}},
                   "The turn is " + report.said(finish.turn_mm) + " and the backing is " +
                       report.said(finish.backing_thickness_mm) +
                       " thick: all of the turn lies on the edge and nothing under it.",
                   "Turn more than " + report.said(finish.backing_thickness_mm) + ".");
    }
    if (finish.stitch_from_edge_mm >= finish.turn_mm) {
        report.add(
            "finish-setting", Severity::stop, "job", "",
            {{"stitch_from_edge", finish.stitch_from_edge_mm, "mm"}, {"limit", finish.turn_mm, "mm"}},
            "The stitch line lies " + report.said(finish.stitch_from_edge_mm) +
                " from the edge, past the end of the turn of " + report.said(finish.turn_mm) + ".",
            "Turn more than " + report.said(finish.stitch_from_edge_mm) + ", or stitch nearer to the edge.");
    }
    return findings;
}

}  // namespace spile
