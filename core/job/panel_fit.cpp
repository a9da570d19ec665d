#include "core/job/panel_fit.h"

#include <cmath>

#include "core/base/text.h"

namespace spile {
namespace {

/// Up to the next mark of a rule: 1/32 in or half a millimetre.
double next_mark_mm(double mm, Unit unit) {
    const double mark = unit == Unit::inch ? 25.4 / 32 : 0.5;
    return mark * std::ceil(mm / mark);
}

/// What an edge does that has used up its clearance: beside a lid there is no boat to meet.
const char* what_it_does(const Panel& panel, const EdgeFit& edge) {
    for (const EdgePlan& plan : panel.edges)
        if (plan.from == edge.from && plan.to == edge.to && plan.situation == Situation::lid)
            return "reaches over the line of the lid or door";
    return "meets the boat";
}

Finding may_touch(const Panel& panel, const EdgeFit& edge, LengthStyle lengths) {
    lengths.with_unit = true;
    lengths.inch_denominator = 32;
    Finding f;
    f.code = "edge-may-touch";
    f.severity = Severity::look;
    f.subject = {"edge", panel.id + "/" + edge.from + " " + edge.to};
    f.numbers = {{"chance", 100 * edge.touches, "%"},
                 {"clearance", edge.clearance_mm, "mm"},
                 {"wanted", edge.wanted_mm, "mm"}};
    f.says = "Edge " + edge.from + "\u2013" + edge.to + " of panel " + panel.id + " has " +
             plain_length(edge.clearance_mm, lengths) + " of clearance; as sure as the readings are, it " +
             what_it_does(panel, edge) + " " + fixed(100 * edge.touches, 0) + " times in 100.";
    f.to_do = "Give it " + plain_length(next_mark_mm(edge.wanted_mm, lengths.unit), lengths) +
              ", or tie its corners better.";
    return f;
}

}  // namespace

void fit_panels(const Job& job, Derived& derived) {
    for (const Panel& panel : derived.panels) {
        const auto survey = derived.surveys.find(panel.space);
        if (panel.mat || survey == derived.surveys.end()) continue;
        std::vector<std::string> corners;
        // The corners of a slit are no points; what is left of its edge on both sides is one edge to the tape.
        const auto measured = [&](const std::string& name) { return survey->second.points.count(name) > 0; };
        for (const CornerPlan& corner : panel.corners)
            if (measured(corner.at)) corners.push_back(corner.at);
        std::vector<FitEdge> edges;
        std::string from;
        for (const EdgePlan& edge : panel.edges) {
            if (measured(edge.from)) from = edge.from;
            if (!measured(edge.to)) continue;
            const bool meets = edge.situation == Situation::wall || edge.situation == Situation::lid;
            if (meets && edge.measured == Measured::wall) edges.push_back({from, edge.to, edge.clearance_mm});
        }
        if (edges.empty()) continue;
        std::optional<Fit> fit = fit_of(survey->second, corners, edges);
        if (!fit) continue;
        const EdgeFit& worst = fit->edges[fit->worst];
        if (worst.touches > kTouches) derived.findings.push_back(may_touch(panel, worst, lengths_of(job)));
        derived.fits.push_back({panel.id, panel.space, std::move(*fit)});
    }
}

}  // namespace spile
