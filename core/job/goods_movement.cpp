#include "core/job/goods_movement.h"

#include <algorithm>

#include "core/base/text.h"

namespace spile {
namespace {

constexpr double kSeen_mm = 25.4 / 64;  // the finest mark of a rule: less is not worth a word

/// How wide the panel is square to an edge: the furthest of its net line from the straight line through the edge's ends.
double depth_from_mm(const Panel& panel, std::size_t edge) {
    const Outline& line = panel.net_line.unrounded;
    Vec2 a, b;
    bool found = false;
    for (std::size_t k = 0; k < line.size(); ++k) {
        if (line.vertices[k].tag != static_cast<int>(edge)) continue;
        if (!found) a = line.edge(k).a;
        b = line.edge(k).b;
        found = true;
    }
    if (!found || !(distance(a, b) > 0)) return 0;
    const Vec2 across = left_of(unit(b - a));
    double deepest = 0;
    for (const Vertex& v : line.vertices) deepest = std::max(deepest, dot(across, v.p - a));
    return deepest;
}

}  // namespace

void judge_movement(const Job& job, Derived& derived) {
    if (!(job.movement > 0)) return;
    LengthStyle lengths = lengths_of(job);
    lengths.with_unit = true;
    lengths.inch_denominator = 64;
    for (const Panel& panel : derived.panels) {
        // The edge that lacks most of what its half of the growth takes.
        double most = kSeen_mm, grows = 0, deep = 0;
        std::size_t worst = panel.edges.size();
        for (std::size_t i = 0; i < panel.edges.size(); ++i) {
            const EdgePlan& e = panel.edges[i];
            const bool meets = e.situation == Situation::wall || e.situation == Situation::lid ||
                               e.situation == Situation::joint;
            if (!meets || e.measured != Measured::wall) continue;
            const double depth = depth_from_mm(panel, i);
            const double half = job.movement * depth / 2;
            if (half - e.clearance_mm <= most) continue;
            most = half - e.clearance_mm;
            grows = half;
            deep = depth;
            worst = i;
        }
        if (worst == panel.edges.size()) continue;
        const EdgePlan& e = panel.edges[worst];
        const auto said = [&](double mm) { return plain_length(mm, lengths); };
        Finding f;
        f.code = "goods-move";
        f.severity = Severity::look;
        f.subject = {"edge", panel.id + "/" + edge_name(panel, worst)};
        f.numbers = {{"grows", grows, "mm"}, {"clearance", e.clearance_mm, "mm"}, {"across", deep, "mm"}};
        f.where = panel.where;
        f.says = "Panel " + panel.id + " is " + said(deep) + " deep at edge " + edge_name(panel, worst) +
                 "; its goods move by " + fixed(100 * job.movement, 2) + " %, " + said(grows) +
                 " at that edge, and it has " + said(e.clearance_mm) + " there.";
        f.to_do = "Give it " + said(grows) + " or more, or fasten the panel so that it grows the other way.";
        derived.findings.push_back(std::move(f));
    }
}

}  // namespace spile
