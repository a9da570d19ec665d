#include "core/shape/joints.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/shape/survey_lines.h"

namespace spile {
namespace {

/// A prolonged line ends so far outside the panel at most; what is outside is cut off again.
constexpr double kBeyond_mm = 10;

/// From a place inside straight on until just beyond the outline.
Edge way_out(const Outline& outline, Vec2 from, Vec2 direction) {
    const Box box = box_of(outline);
    const Edge ray{from, from + (distance(box.min, box.max) + kBeyond_mm) * direction, 0, 0};
    std::vector<double> away;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        for (const Meeting& m : meet(ray, outline.edge(i))) away.push_back(dot(direction, m.at - from));
    }
    std::sort(away.begin(), away.end());
    double reach = kBeyond_mm;
    for (const double d : away) {
        if (d > away[0] + noise_mm(box)) reach = std::min(reach, (d - away[0]) / 2);
    }
    return {from, from + ((away.empty() ? 0 : away[0]) + reach) * direction, 0, 0};
}

Path prolonged(const Outline& outline, std::vector<Edge> line, int tag) {
    if (side_of(outline, line.front().a) == Side::inside)
        line.insert(line.begin(), reversed(way_out(outline, line.front().a, -direction_at(line.front(), 0))));
    if (side_of(outline, line.back().b) == Side::inside)
        line.push_back(way_out(outline, line.back().b, direction_at(line.back(), 1)));
    Path path;
    for (const Edge& e : line) path.vertices.push_back({e.a, e.bulge, tag});
    path.vertices.push_back({line.back().b, 0, tag});
    return path;
}

/// Whether a part runs along the path in the path's own sense, and so lies to the left of it.
bool left_of_path(const Outline& part, const Path& path, int tag) {
    for (std::size_t i = 0; i < part.size(); ++i) {
        const Edge e = part.edge(i);
        if (e.tag != tag) continue;
        double least = HUGE_VAL;
        bool same = true;
        for (std::size_t k = 0; k < path.edge_count(); ++k) {
            const double away = nearest_on(path.edge(k), midpoint_of(e)).distance;
            if (away >= least) continue;
            least = away;
            same = dot(e.b - e.a, path.edge(k).b - path.edge(k).a) > 0;
        }
        return same;
    }
    return false;
}

double nearest_mm(const Outline& outline, const std::vector<Edge>& line) {
    double least = HUGE_VAL;
    for (const Edge& e : line) {
        for (std::size_t i = 0; i < outline.size(); ++i)
            least = std::min(least, distance_between(e, outline.edge(i)));
    }
    return least;
}

/// Begins the outline where one edge of the panel hands over to the next.
void begin_at_a_corner(Outline& part) {
    std::vector<Vertex>& v = part.vertices;
    std::size_t first = 0;
    while (first + 1 < v.size() && v[first].tag == v[first == 0 ? v.size() - 1 : first - 1].tag) ++first;
    std::rotate(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(first), v.end());
}

/// Corners and edges of what is kept, in its own order.
void name_anew(Panel& panel, const JointCut& cut, Outline part, int joint_tag) {
    begin_at_a_corner(part);
    const double noise = noise_mm(box_of(panel.boat_line.outline));
    std::vector<Vec2> corner_at(panel.corners.size());
    for (std::size_t k = panel.boat_line.outline.size(); k-- > 0;) {
        const Vertex& v = panel.boat_line.outline.vertices[k];
        const Vertex& before =
            panel.boat_line.outline.vertices[k == 0 ? panel.boat_line.outline.size() - 1 : k - 1];
        if (before.tag != v.tag) corner_at[static_cast<std::size_t>(v.tag)] = v.p;
    }
    const auto corner = [&](Vec2 at, bool joint_begins) -> CornerPlan {
        for (std::size_t i = 0; i < corner_at.size(); ++i) {
            if (distance(corner_at[i], at) <= noise) return panel.corners[i];
        }
        // What lies on the left runs along the joint in its own sense.
        return {joint_begins == cut.keep_left ? cut.through.front() : cut.through.back(),
                cut.corner_radius_mm};
    };
    std::vector<CornerPlan> corners;
    std::vector<EdgePlan> edges;
    int tag_before = -1;
    for (Vertex& v : part.vertices) {
        if (corners.empty() || v.tag != tag_before) {
            corners.push_back(corner(v.p, v.tag == joint_tag));
            edges.push_back(v.tag == joint_tag ? cut.edge : panel.edges[static_cast<std::size_t>(v.tag)]);
        }
        tag_before = v.tag;
        v.tag = static_cast<int>(edges.size()) - 1;
    }
    for (std::size_t i = 0; i < edges.size(); ++i) {
        edges[i].from = corners[i].at;
        edges[i].to = corners[i + 1 == edges.size() ? 0 : i + 1].at;
    }
    panel.corners = std::move(corners);
    panel.edges = std::move(edges);
    panel.boat_line.outline = std::move(part);
}

}  // namespace

bool cut_by_joint(Panel& panel, const JointCut& cut, const Survey& survey, Reporter& report) {
    const std::string who = "Joint \"" + cut.joint + "\"";
    const auto line = line_through(survey, cut.through, who + " of panel " + panel.id, report);
    if (!line) return false;
    const Outline& outline = panel.boat_line.outline;
    const int tag = static_cast<int>(panel.edges.size());
    const Path path = prolonged(outline, *line, tag);
    const std::vector<Outline> parts = split(outline, path);
    if (parts.size() < 2) {
        const double away = nearest_mm(outline, *line);
        report.add("joint-misses", Severity::stop, "panel", "", {{"away by", away, "mm"}, {"limit", 0, "mm"}},
                   who + " does not cut panel " + panel.id + " in two: " +
                       (away > noise_mm(box_of(outline)) ? "it passes " + report.said(away) + " beside it."
                                                         : "it only runs along its edge."),
                   "Leave the joint out of this panel, or correct the points it runs through.");
        return false;
    }
    std::vector<Outline> kept;
    for (const Outline& part : parts) {
        if (left_of_path(part, path, tag) == cut.keep_left) kept.push_back(part);
    }
    if (kept.size() != 1) {
        report.add("joint-leaves-parts", Severity::stop, "panel", "",
                   {{"parts", static_cast<double>(kept.size()), ""}, {"limit", 1, ""}},
                   who + " leaves " + count_of(kept.size(), "part", "parts") + " of panel " + panel.id +
                       " on its " + (cut.keep_left ? "left" : "right") + "; a panel is one piece.",
                   "Let the joint end in the corner between them, or make a panel of each.");
        return false;
    }
    name_anew(panel, cut, std::move(kept.front()), tag);
    return true;
}

}  // namespace spile
