#include "core/shape/neighbours.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/base/reporter.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"

namespace spile {
namespace {

/// Panels may share a line and the doubles on it may differ: an overlap counts once it is deeper than this.
/// No knife cuts finer.
constexpr Allowance kSeen{0.1};
/// A line farther from a joint of a mirror twin belongs to no neighbour of it.
constexpr double kNeighbour_mm = 4 * 25.4;

bool apart(const Box& a, const Box& b) {
    return a.max.x < b.min.x || b.max.x < a.min.x || a.max.y < b.min.y || b.max.y < a.min.y;
}

/// A net region taken in by half the overlap that does not count, so that two that only touch come apart.
Region taken_in(const Region& net) {
    Region in;
    std::vector<Outline> parts = offset(net.outer, -kSeen.mm / 2);
    if (!parts.empty()) in.outer = std::move(parts.front());
    in.holes = net.holes;
    return in;
}

void meetings(const Outline& a, const Outline& b, std::vector<Vec2>& at) {
    for (std::size_t i = 0; i < a.size(); ++i) {
        const Edge e = a.edge(i);
        const Box box = box_of(e);
        for (std::size_t j = 0; j < b.size(); ++j) {
            const Edge f = b.edge(j);
            if (apart(box, box_of(f))) continue;
            for (const Meeting& m : meet(e, f)) at.push_back(m.at);
        }
    }
}

/// Where two regions overlap: a place in the middle of it, or nothing.
std::optional<Vec2> overlap(const Region& a, const Region& b) {
    std::vector<Vec2> at;
    meetings(a.outer, b.outer, at);
    for (const Outline& hole : b.holes) meetings(a.outer, hole, at);
    for (const Outline& hole : a.holes) meetings(hole, b.outer, at);
    if (at.empty()) {  // apart, or one within the other
        if (side_of(b, a.outer.vertices.front().p) == Side::inside) return a.outer.vertices.front().p;
        if (side_of(a, b.outer.vertices.front().p) == Side::inside) return b.outer.vertices.front().p;
        return std::nullopt;
    }
    Vec2 sum;
    for (const Vec2 p : at) sum = sum + p;
    return sum / static_cast<double>(at.size());
}

/// How deep the outline of one lies in the other, by its corners and middles: a lower bound.
double depth(const Region& a, const Region& b) {
    double deepest = 0;
    for (std::size_t i = 0; i < a.outer.size(); ++i) {
        const Edge e = a.outer.edge(i);
        for (const Vec2 p : {e.a, midpoint_of(e)}) {
            if (side_of(b, p) == Side::inside) deepest = std::max(deepest, nearest_on(b.outer, p).distance);
        }
    }
    return deepest;
}

/// The edge of `other` between the same two points as edge i of `panel`.
std::optional<std::size_t> shared_edge(const Panel& panel, std::size_t i, const Panel& other) {
    const EdgePlan& e = panel.edges[i];
    for (std::size_t j = 0; j < other.edges.size(); ++j) {
        const EdgePlan& f = other.edges[j];
        if ((f.from == e.to && f.to == e.from) || (f.from == e.from && f.to == e.to)) return j;
    }
    return std::nullopt;
}

/// Nothing for the edges of a slit, which are none of the boat's.
std::optional<Vec2> middle_of_edge(const Panel& panel, std::size_t i) {
    const Outline& line = panel.boat_line.outline;
    std::vector<std::size_t> mine;
    for (std::size_t k = 0; k < line.size(); ++k) {
        if (line.vertices[k].tag == static_cast<int>(i)) mine.push_back(k);
    }
    if (mine.empty()) return std::nullopt;
    return midpoint_of(line.edge(mine[mine.size() / 2]));
}

bool meets_neighbour(Situation s) {
    return s == Situation::joint || s == Situation::lid;
}

void judge_pair(const Panel& a, std::size_t i, const Panel& b, std::size_t j, const LengthStyle& lengths,
                std::vector<Finding>& findings) {
    const EdgePlan &e = a.edges[i], &f = b.edges[j];
    if (e.situation == f.situation && meets_neighbour(e.situation)) return;
    Reporter report(a.id, a.where, lengths, findings);
    const std::string name = edge_name(a, i);
    const auto off = [](const EdgePlan& p) { return p.measured == Measured::wall ? p.clearance_mm : 0; };
    report.add("shared-edge-disagrees", Severity::look, "edge", name,
               {{"taken off " + a.id, off(e), "mm"}, {"taken off " + b.id, off(f), "mm"}},
               "Panels " + a.id + " and " + b.id + " share the line " + name + ": panel " + a.id +
                   " calls it " + word_for(e.situation) + " and gives up " + report.said(off(e)) +
                   ", panel " + b.id + " calls it " + word_for(f.situation) + " and gives up " +
                   report.said(off(f)) + ".",
               "Call it joint (or lid) in both panels, so that the gap between them is the one you want.");
}

}  // namespace

void judge_overlaps(const std::vector<Panel>& panels, const LengthStyle& lengths,
                    std::vector<Finding>& findings) {
    std::vector<Region> regions(panels.size());  // taken in when first looked at
    std::vector<Box> boxes;
    for (const Panel& p : panels) boxes.push_back(box_of(p.net_line.region.outer));
    for (std::size_t i = 0; i < panels.size(); ++i) {
        for (std::size_t j = i + 1; j < panels.size(); ++j) {
            const Panel &a = panels[i], &b = panels[j];
            if (a.mat || b.mat || a.space != b.space || apart(boxes[i], boxes[j])) continue;
            for (const std::size_t k : {i, j}) {
                if (regions[k].outer.empty()) regions[k] = taken_in(panels[k].net_line.region);
            }
            if (regions[i].outer.empty() || regions[j].outer.empty()) continue;
            const auto at = overlap(regions[i], regions[j]);
            if (!at) continue;
            const double inside = std::max(depth(regions[i], regions[j]), depth(regions[j], regions[i]));
            const double deep = inside + kSeen.mm;
            Reporter report(a.id, a.where, lengths, findings);
            if (inside == 0) {
                // No corner and no middle of one lies within the other: how deep is not known; mostly they have one outline.
                report.add("panels-overlap", Severity::stop, "panel", "",
                           {{"toward the bow", at->x, "mm"}, {"to port", at->y, "mm"}},
                           "Panels " + a.id + " and " + b.id + " lie on the same ground, about " +
                               report.said(at->x) + " toward the bow and " + report.said(at->y) +
                               " to port of the datum.",
                           "Leave one of them out, or correct the corners of one.");
                continue;
            }
            report.add("panels-overlap", Severity::stop, "panel", "",
                       {{"deep", deep, "mm"}, {"toward the bow", at->x, "mm"}, {"to port", at->y, "mm"}},
                       "Panels " + a.id + " and " + b.id + " overlap, by " + report.said(deep) +
                           " or more, about " + report.said(at->x) + " toward the bow and " +
                           report.said(at->y) + " to port of the datum.",
                       "Let both name the corners of the line between them, or correct the readings there.");
        }
    }
}

void judge_shared_edges(const std::vector<Panel>& panels, const LengthStyle& lengths,
                        std::vector<Finding>& findings) {
    for (std::size_t p = 0; p < panels.size(); ++p) {
        const Panel& a = panels[p];
        if (a.mat) continue;
        for (std::size_t i = 0; i < a.edges.size(); ++i) {
            const std::optional<Vec2> middle = middle_of_edge(a, i);
            if (!middle) continue;
            bool met = false;
            double nearest = HUGE_VAL;
            for (std::size_t q = 0; q < panels.size(); ++q) {
                const Panel& b = panels[q];
                if (q == p || b.mat || b.space != a.space) continue;
                if (const auto j = shared_edge(a, i, b)) {
                    met = true;
                    if (q > p) judge_pair(a, i, b, *j, lengths, findings);
                    continue;
                }
                // The neighbour's edge may be longer or shorter.
                const double away = nearest_on(b.boat_line.outline, *middle).distance;
                nearest = std::min(nearest, away);
                const bool twin = !a.twin_of.empty() || !b.twin_of.empty();
                met = met || away <= std::max(kSeen.mm, twin ? a.edges[i].clearance_mm : 0);
            }
            if (met || a.edges[i].situation != Situation::joint || a.edges[i].measured != Measured::wall)
                continue;
            Reporter report(a.id, a.where, lengths, findings);
            const std::string name = edge_name(a, i);
            if (!a.twin_of.empty() && nearest < kNeighbour_mm) {
                report.add("twin-misses-neighbour", Severity::look, "edge", name,
                           {{"off", nearest, "mm"}, {"limit", a.edges[i].clearance_mm, "mm"}},
                           "Edge " + name + " of panel " + a.id + ", the mirror twin of panel " + a.twin_of +
                               ", lies " + report.said(nearest) +
                               " off the line of its neighbour; it gives up " +
                               report.said(a.edges[i].clearance_mm) + " there.",
                           "The boat is not the same on both hands there: measure that side.");
                continue;
            }
            report.add(
                "joint-without-neighbour", Severity::look, "edge", name,
                {{"taken off", a.edges[i].clearance_mm, "mm"}},
                "Edge " + name + " of panel " + a.id +
                    " is a joint, but no other panel of the job lies along it: it gives up " +
                    report.said(a.edges[i].clearance_mm) + ".",
                "Give the whole reveal as its clearance where the neighbour is already made, or add the "
                "neighbour.");
        }
    }
}

}  // namespace spile
