#include "core/shape/boat_line.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/shape/joints.h"
#include "core/shape/opening_lines.h"
#include "core/shape/survey_lines.h"

namespace spile {
namespace {

/// The other way round: the edge that left corner i now arrives at it.
void turn_round(Panel& panel) {
    std::reverse(panel.corners.begin(), panel.corners.end());
    std::reverse(panel.edges.begin(), panel.edges.end());
    // edges[i] must leave corners[i]: after reversing, the edge that leaves the first corner stands last but
    // its own.
    std::rotate(panel.edges.begin(), panel.edges.begin() + 1, panel.edges.end());
    for (EdgePlan& e : panel.edges) {
        std::swap(e.from, e.to);
        std::reverse(e.along.begin(), e.along.end());
    }
    panel.was_clockwise = !panel.was_clockwise;
}

/// Corner names, points and enough of them. Returns the places of the corners, or nothing with stops.
std::optional<std::vector<Vec2>> corner_places(const PanelInput& in, const Survey& survey, Reporter& report) {
    bool usable = true;
    if (in.corners.size() < 3) {
        report.add("too-few-corners", Severity::stop, "panel", "",
                   {{"corners", static_cast<double>(in.corners.size()), ""}, {"limit", 3, ""}},
                   "Panel " + in.id + " has " + count_of(in.corners.size(), "corner", "corners") +
                       "; a panel has at least 3.",
                   "Name the corners in the order met walking round it.");
        usable = false;
    }
    std::set<std::string> seen;
    std::vector<Vec2> places;
    for (const CornerPlan& corner : in.corners) {
        if (!seen.insert(corner.at).second) {
            report.add("corner-twice", Severity::stop, "corner", corner.at, {},
                       "Panel " + in.id + " names the corner " + corner.at + " twice.",
                       "Name each corner once, in the order met walking round.");
            usable = false;
            continue;
        }
        if (!std::isfinite(corner.radius_mm) || corner.radius_mm < 0) {
            report.add("corner-radius", Severity::stop, "corner", corner.at, {{"limit", 0, "mm"}},
                       "The radius of corner " + corner.at + " of panel " + in.id + " is less than 0.",
                       "Give a radius, or 0 for a square corner.");
            usable = false;
        }
        const auto at = find_point(survey, corner.at, "Panel " + in.id, "corner", corner.at, report);
        if (at) {
            places.push_back(*at);
        } else {
            usable = false;
        }
    }
    if (!usable) return std::nullopt;
    return places;
}

/// A stop for each fault of a boat line; true when there is none.
bool sound(const Panel& panel, const Outline& line, Reporter& report) {
    const std::vector<OutlineFault> faults = faults_of(line);
    const auto name = [&](std::size_t edge) {
        return edge_name(panel, static_cast<std::size_t>(line.vertices[edge].tag));
    };
    for (const OutlineFault& f : faults) {
        SPILE_CHECK(f.kind != OutlineFault::Kind::not_finite);
        const std::string a = line.size() > f.edge_a ? name(f.edge_a) : "";
        const std::string b = line.size() > f.edge_b ? name(f.edge_b) : "";
        const std::vector<Quantity> place{{"toward the bow", f.at.x, "mm"}, {"to port", f.at.y, "mm"}};
        switch (f.kind) {
            case OutlineFault::Kind::crosses_itself:
            case OutlineFault::Kind::touches_itself: {
                const bool crosses = f.kind == OutlineFault::Kind::crosses_itself;
                report.add(crosses ? "panel-crosses-itself" : "panel-touches-itself", Severity::stop, "panel",
                           "", place,
                           "Panel " + report.owner() +
                               (crosses ? " crosses itself: edge " : " touches itself: edge ") + a +
                               " meets " + (a == b ? "itself" : "edge " + b) + " " + report.said(f.at.x) +
                               " toward the bow and " + report.said(f.at.y) + " to port of the datum.",
                           "Name the corners in the order met walking round, or correct the readings there.");
                break;
            }
            case OutlineFault::Kind::zero_edge:
                report.add("edge-without-length", Severity::stop, "edge", a, place,
                           "Edge " + a + " of panel " + report.owner() +
                               " has no length: its ends are the same place.",
                           "Leave one of the two corners out, or correct the readings.");
                break;
            case OutlineFault::Kind::bulge_too_large:
                report.add(
                    "edge-too-round", Severity::stop, "edge", a, place,
                    "The curve of edge " + a + " of panel " + report.owner() + " is more than half a circle.",
                    "Put a corner on it, so that each curve is at most half a circle.");
                break;
            case OutlineFault::Kind::no_area:
            case OutlineFault::Kind::too_few_edges:
                report.add("panel-without-area", Severity::stop, "panel", "", {},
                           "Panel " + report.owner() + " encloses nothing: its corners lie on one line.",
                           "Check its corners and the readings that place them.");
                break;
            case OutlineFault::Kind::not_finite:
                break;
        }
    }
    return faults.empty();
}

/// Openings that have no place or no size are left out, with a stop.
void place_openings(const PanelInput& in, const Survey* survey, Panel& panel, Reporter& report) {
    for (OpeningPlan opening : in.openings)
        if (place_opening(survey, opening, report)) panel.openings.push_back(std::move(opening));
}

void place_openings_and_studs(const PanelInput& in, const Survey& survey, Panel& panel, Reporter& report) {
    place_openings(in, &survey, panel, report);
    for (const std::string& stud : in.studs) {
        const auto at = find_point(survey, stud, "Panel " + in.id, "stud", stud, report);
        if (at) panel.studs.push_back({stud, *at});
    }
}

}  // namespace

std::optional<Panel> boat_panel(const PanelInput& in, const std::map<std::string, Survey>& surveys,
                                Reporter& report) {
    const auto found = surveys.find(in.space);
    if (found == surveys.end()) {
        report.add("space-without-points", Severity::stop, "panel", "", {},
                   "Panel " + in.id + " lies in \"" + in.space + "\", which has no points.",
                   "Name a space of the job, and give it readings that place its points.");
        return std::nullopt;
    }
    const Survey& survey = found->second;
    SPILE_CHECK(in.edges.size() == in.corners.size());

    const auto places = corner_places(in, survey, report);
    if (!places) return std::nullopt;

    Panel panel;
    panel.id = in.id;
    panel.name = in.name;
    panel.space = in.space;
    panel.where = in.where;
    panel.corners = in.corners;
    panel.edges = in.edges;

    Outline line;
    const std::size_t n = in.corners.size();
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t next = i + 1 == n ? 0 : i + 1;
        SPILE_CHECK(in.edges[i].from == in.corners[i].at && in.edges[i].to == in.corners[next].at);
        const EdgePlan& plan = in.edges[i];
        std::vector<Edge> edges;
        if (plan.along.empty()) {
            edges = measured_edge(survey, plan.from, plan.to, (*places)[i], (*places)[next]);
        } else {
            const std::string asker = "The joint " + plan.from + " " + plan.to + " of panel " + in.id;
            const auto joint = line_through(survey, plan.along, asker, report);
            if (!joint) return std::nullopt;
            edges = *joint;
        }
        for (const Edge& e : edges) line.vertices.push_back({e.a, e.bulge, static_cast<int>(i)});
    }
    if (!sound(panel, line, report)) return std::nullopt;
    if (area_mm2(line) < 0) {
        turn_round(panel);
        line = reversed(line);
        // Edge i of the named order is now edge n - 2 - i, the last one stays last.
        for (Vertex& v : line.vertices) v.tag = (static_cast<int>(2 * n) - 2 - v.tag) % static_cast<int>(n);
    }
    panel.boat_line.outline = std::move(line);
    for (const JointCut& cut : in.cuts) {
        if (!cut_by_joint(panel, cut, survey, report)) return std::nullopt;
    }
    place_openings_and_studs(in, survey, panel, report);

    if (!survey.fixed) {
        report.add("points-not-fixed", Severity::stop, "panel", "", {},
                   "Panel " + in.id + " is drawn, but the readings of \"" + survey.space +
                       "\" do not fix its shape yet.",
                   "Add the ties that \"" + survey.space + "\" asks for before anything is cut.");
    }
    return panel;
}

std::optional<Panel> mat_panel(const PanelInput& in, Reporter& report) {
    const bool usable = std::isfinite(in.size_x_mm) && std::isfinite(in.size_y_mm) && in.size_x_mm > 0 &&
                        in.size_y_mm > 0 && std::isfinite(in.corner_radius_mm) && in.corner_radius_mm >= 0;
    if (!usable) {
        report.add("mat-size", Severity::stop, "panel", "", {{"limit", 0, "mm"}},
                   "Mat " + in.id + " has a size or corner radius that is not a length of 0 or more.",
                   "Give its finished length along the direction and its width across.");
        return std::nullopt;
    }
    Panel panel;
    panel.id = in.id;
    panel.name = in.name;
    panel.space = in.space;
    panel.where = in.where;
    panel.mat = true;
    const char* names[] = {"A", "B", "C", "D"};
    for (int i = 0; i < 4; ++i) {
        panel.corners.push_back({names[i], in.corner_radius_mm});
        panel.edges.push_back(
            {names[i], names[(i + 1) % 4], Measured::finished, Situation::free, in.mat_finish, 0});
    }
    panel.boat_line.outline = rectangle({0, 0}, {in.size_x_mm, in.size_y_mm});
    place_openings(in, nullptr, panel, report);
    return panel;
}

}  // namespace spile
