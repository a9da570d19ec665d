#include "core/edging/cut_lines.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/edging/face_line.h"
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

/// The edge of the net outline that an edge of a face line belongs to.
int traced_edge(int tag) {
    return tag < 0 ? -1 - tag : tag;
}

void say_collision(const Panel& panel, std::size_t a, std::size_t b, const FinishSettings& settings,
                   Reporter& report) {
    const Outline& net = panel.net_line.region.outer;
    const double gap = distance_between(net.edge(a), net.edge(b));
    report.add("turns-collide", Severity::stop, "edge", name_of(panel, net, a),
               {{"gap", gap, "mm"}, {"turn", settings.turn_mm, "mm"}, {"wanted", 2 * settings.turn_mm, "mm"}},
               "Between edges " + name_of(panel, net, a) + " and " + name_of(panel, net, b) + " of panel " +
                   panel.id + " there is no goods for both turns: the face needs up to " +
                   report.said(2 * settings.turn_mm) + " and has " + report.said(gap) + " at the narrowest.",
               "Bind or seal one of the two edges, turn less, or make the gap wider.");
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
        say_collision(panel, a, b, settings, report);
    }
}

void say_short(const Panel& panel, const FlapShort& end, const FinishSettings& settings, Reporter& report) {
    const Outline& net = panel.net_line.region.outer;
    const std::string edge = name_of(panel, net, end.flap);
    report.add("inside-corner-bare", Severity::look, "edge", edge,
               {{"bare", end.bare_mm, "mm"}, {"flap", least_flap_mm(settings), "mm"}},
               "At the inside corner where it " + std::string(end.at_start ? "begins" : "ends") +
                   ", the flap of edge " + edge + " of panel " + panel.id +
                   " keeps clear of the edge beside it: up to " + report.said(end.bare_mm) +
                   " from there less than " + report.said(least_flap_mm(settings)) +
                   " of flap lies behind it.",
               "Glue a patch of face behind the corner before sewing, or finish both edges alike.");
}

struct Cuts {
    std::vector<Outline> backing;
    std::vector<Outline> face;  ///< traced; of the ends of flaps the tag is -1 less the edge
    std::vector<FlapCollision> collisions;
    std::vector<FlapShort> shorts;
};

/// Both cut lines of a net outline. Both layers are left long alike; what is trimmed off aboard is trimmed off both.
Cuts cuts_of(const Outline& net, const std::vector<EdgePlan>& edges, const FlapPlan& plan,
             const FinishSettings& settings) {
    const std::vector<double> left_long = left_long_along(net, edges);
    std::vector<double> backing_out, core_out, turns;
    std::size_t turned = 0;
    for (std::size_t k = 0; k < net.size(); ++k) {
        const bool bound = plan.finishes[k] == Finish::bound;
        backing_out.push_back(backing_outside_mm(plan.finishes[k], settings) + left_long[k]);
        core_out.push_back((bound ? -settings.binding_growth_mm : 0) + left_long[k]);
        turns.push_back(plan.flaps[k].turn_mm);
        if (turns.back() > 0) ++turned;
    }
    Cuts cuts;
    cuts.backing = traced_offset(traced(net), backing_out);
    if (cuts.backing.size() != 1) return cuts;
    std::vector<Outline> core = core_out == backing_out ? cuts.backing : traced_offset(traced(net), core_out);
    if (core.size() != 1) return cuts;
    if (turned == 0 || turned == net.size()) {
        cuts.face = traced_offset(core.front(), turns);
        return cuts;
    }
    FaceLine line = face_line(core.front(), plan, settings);
    cuts.face = std::move(line.parts);
    cuts.collisions = std::move(line.collisions);
    cuts.shorts = std::move(line.shorts);
    return cuts;
}

}  // namespace

double backing_outside_mm(Finish finish, const FinishSettings& settings) {
    switch (finish) {
        case Finish::bound:
            return -settings.binding_growth_mm;
        case Finish::turned:
            return -settings.face_thickness_mm;
        case Finish::sealed:
            return 0;
    }
    return 0;
}

std::optional<OuterCuts> outer_cuts(const Panel& panel, const FlapPlan& plan, const FinishSettings& settings,
                                    Reporter& report) {
    const Outline& net = panel.net_line.region.outer;
    Cuts cuts = cuts_of(net, panel.edges, plan, settings);
    if (cuts.backing.size() != 1) {
        report.add("growth-eats-panel", Severity::stop, "panel", "",
                   {{"growth", settings.binding_growth_mm, "mm"}},
                   "Panel " + panel.id + " is too narrow to bind: cut " +
                       report.said(settings.binding_growth_mm) + " inside its net line it " +
                       (cuts.backing.empty() ? "has no size left." : "falls into parts."),
                   "Turn or seal its edges, or make it wider.");
        return std::nullopt;
    }
    for (const FlapShort& s : cuts.shorts) say_short(panel, s, settings, report);
    for (const FlapCollision& c : cuts.collisions) say_collision(panel, c.flap, c.with, settings, report);
    if (cuts.face.size() != 1) {
        if (cuts.collisions.empty())
            report.add("turns-collide", Severity::stop, "panel", "", {{"turn", settings.turn_mm, "mm"}},
                       "The turn of " + report.said(settings.turn_mm) + " round panel " + panel.id +
                           " closes a gap in its outline: there is no goods to turn there.",
                       "Bind or seal the edges along the gap, turn less, or make the gap wider.");
        return std::nullopt;
    }
    Outline &face = cuts.face.front(), &backing = cuts.backing.front();
    for (Vertex& v : face.vertices) v.tag = traced_edge(v.tag);
    if (cuts.collisions.empty()) judge_flaps(panel, plan.finishes, face, settings, report);
    restore_tags(face, net);
    restore_tags(backing, net);
    return OuterCuts{std::move(face), std::move(backing)};
}

std::vector<EdgeReport> edge_reports(const Panel& panel, const FinishSettings& settings) {
    const Outline& net = panel.net_line.unrounded;
    const Cuts cuts = cuts_of(net, panel.edges, plan_flaps(net, panel.edges, settings), settings);
    std::vector<EdgeReport> reports;
    for (const EdgePlan& plan : panel.edges) reports.push_back({plan.from, plan.to, plan, 0, 0});
    for (std::size_t k = 0; k < net.size(); ++k)
        reports[static_cast<std::size_t>(net.vertices[k].tag)].net_length_mm += length_of(net.edge(k));
    for (const Outline& cut : cuts.face)
        for (std::size_t k = 0; k < cut.size(); ++k) {
            const int of = cut.vertices[k].tag;
            if (of < 0) continue;  // the end of a flap
            const int tag = net.vertices[static_cast<std::size_t>(of)].tag;
            reports[static_cast<std::size_t>(tag)].cut_length_mm += length_of(cut.edge(k));
        }
    return reports;
}

}  // namespace spile
