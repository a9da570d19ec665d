#include "core/edging/cut_lines.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/edging/trace.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

std::string name_of(const Panel& panel, const Outline& net, std::size_t k) {
    const std::size_t n = net.size();
    while (net.vertices[k].tag < 0) k = (k + n - 1) % n;
    return edge_name(panel, static_cast<std::size_t>(net.vertices[k].tag));
}

/// Flaps need goods: where two turned edges face one another across too narrow a gap, their flaps would be
/// cut from the same place. Seen on the face cut: between two edges that follow one another there, a turned
/// edge of the net line (other than a hollow curve, which merely tightens) is missing.
void judge_flaps(const Panel& panel, const std::vector<Finish>& finishes, const Outline& face,
                 const FinishSettings& settings, Reporter& report) {
    const Outline& net = panel.net_line.region.outer;
    const std::size_t n = net.size(), m = face.size();
    for (std::size_t k = 0; k < m; ++k) {
        const auto a = static_cast<std::size_t>(face.vertices[k].tag);
        const auto b = static_cast<std::size_t>(face.vertices[(k + 1) % m].tag);
        bool only_hollows = true;
        for (std::size_t i = (a + 1) % n; i != b && only_hollows && a != b; i = (i + 1) % n) {
            only_hollows = net.vertices[i].bulge < 0 || finishes[i] != Finish::turned;
        }
        if (only_hollows) continue;
        const double gap = distance_between(net.edge(a), net.edge(b));
        report.add(
            "turns-collide", Severity::stop, "edge", name_of(panel, net, a),
            {{"gap", gap, "mm"}, {"turn", settings.turn_mm, "mm"}, {"wanted", 2 * settings.turn_mm, "mm"}},
            "Between edges " + name_of(panel, net, a) + " and " + name_of(panel, net, b) + " of panel " +
                panel.id + " there is no goods for both turns: the face needs up to " +
                report.said(2 * settings.turn_mm) + " and has " + report.said(gap) + " at the narrowest.",
            "Bind or seal one of the two edges, turn less, or make the gap wider.");
    }
}

}  // namespace

double face_outside_mm(Finish finish, const FinishSettings& settings) {
    if (finish == Finish::bound) return -settings.binding_growth_mm;
    return finish == Finish::turned ? settings.turn_mm : 0;
}

double backing_outside_mm(Finish finish, const FinishSettings& settings) {
    return finish == Finish::bound ? -settings.binding_growth_mm : 0;
}

std::optional<OuterCuts> outer_cuts(const Panel& panel, const FinishSettings& settings, Reporter& report) {
    const Outline& net = panel.net_line.region.outer;
    const std::vector<Finish> finishes = finishes_along(net, panel.edges);
    // Both layers are left long alike; what is trimmed off aboard is trimmed off both.
    std::vector<double> backing_out, beyond_backing;
    const std::vector<double> left_long = left_long_along(net, panel.edges);
    for (const Finish f : finishes) {
        backing_out.push_back(backing_outside_mm(f, settings));
        beyond_backing.push_back(face_outside_mm(f, settings) - backing_out.back());
        backing_out.back() += left_long[backing_out.size() - 1];
    }
    std::vector<Outline> backing = traced_offset(traced(net), backing_out);
    if (backing.size() != 1) {
        report.add(
            "growth-eats-panel", Severity::stop, "panel", "", {{"growth", settings.binding_growth_mm, "mm"}},
            "Panel " + panel.id + " is too narrow to bind: cut " + report.said(settings.binding_growth_mm) +
                " inside its net line it " + (backing.empty() ? "has no size left." : "falls into parts."),
            "Turn or seal its edges, or make it wider.");
        return std::nullopt;
    }
    // The face grows out of the backing, so that it contains it whatever the corners do.
    std::vector<Outline> face = traced_offset(backing.front(), beyond_backing);
    if (face.size() != 1) {
        report.add("turns-collide", Severity::stop, "panel", "", {{"turn", settings.turn_mm, "mm"}},
                   "The turn of " + report.said(settings.turn_mm) + " round panel " + panel.id +
                       " closes a gap in its outline: there is no goods to turn there.",
                   "Bind or seal the edges along the gap, turn less, or make the gap wider.");
        return std::nullopt;
    }
    judge_flaps(panel, finishes, face.front(), settings, report);
    restore_tags(face.front(), net);
    restore_tags(backing.front(), net);
    return OuterCuts{std::move(face.front()), std::move(backing.front())};
}

std::vector<EdgeReport> edge_reports(const Panel& panel, const FinishSettings& settings) {
    const Outline& net = panel.net_line.unrounded;
    std::vector<double> outside;
    for (const Finish f : finishes_along(net, panel.edges)) outside.push_back(face_outside_mm(f, settings));
    const std::vector<double> left_long = left_long_along(net, panel.edges);
    for (std::size_t k = 0; k < net.size(); ++k) outside[k] += left_long[k];
    const std::vector<Outline> cuts = traced_offset(traced(net), outside);

    std::vector<EdgeReport> reports;
    for (const EdgePlan& plan : panel.edges) reports.push_back({plan.from, plan.to, plan, 0, 0});
    for (std::size_t k = 0; k < net.size(); ++k) {
        reports[static_cast<std::size_t>(net.vertices[k].tag)].net_length_mm += length_of(net.edge(k));
    }
    for (const Outline& cut : cuts) {
        for (std::size_t k = 0; k < cut.size(); ++k) {
            const auto of = static_cast<std::size_t>(cut.vertices[k].tag);
            reports[static_cast<std::size_t>(net.vertices[of].tag)].cut_length_mm += length_of(cut.edge(k));
        }
    }
    return reports;
}

}  // namespace spile
