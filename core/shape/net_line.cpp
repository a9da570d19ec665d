#include "core/shape/net_line.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/base/check.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/scraps.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

/// How often the largest workable clearance is halved upon: 2^-12 of it is finer than a tape reads.
constexpr int kHalvings = 12;

/// Two edges run on when their moved lines cross further from the corner than this many times the step
/// between them.
constexpr double kStepsAway = 4;

std::vector<Outline> moved(const Panel& panel, const FinishSettings& finish, double share) {
    std::vector<double> outside;
    double reach = 0;
    for (const Vertex& v : panel.boat_line.outline.vertices) {
        outside.push_back(share * net_outside_mm(panel.edges[static_cast<std::size_t>(v.tag)], finish));
        reach = std::max(reach, std::fabs(outside.back()));
    }
    std::vector<Outline> parts = offset_each(panel.boat_line.outline, outside);
    drop_scraps(parts, reach);
    return parts;
}

/// Says that the clearances leave nothing, or several parts, and what would still be workable.
void refuse_clearances(const Panel& panel, const FinishSettings& finish, std::size_t parts,
                       Reporter& report) {
    std::size_t widest = 0;
    for (std::size_t i = 0; i < panel.edges.size(); ++i) {
        if (net_outside_mm(panel.edges[i], finish) < net_outside_mm(panel.edges[widest], finish)) widest = i;
    }
    double workable = 0, too_much = 1;
    for (int i = 0; i < kHalvings; ++i) {
        const double share = (workable + too_much) / 2;
        (moved(panel, finish, share).size() == 1 ? workable : too_much) = share;
    }
    const double asked = -net_outside_mm(panel.edges[widest], finish);
    const double largest = workable * asked;
    const bool gone = parts == 0;
    report.add(gone ? "clearance-eats-panel" : "clearance-splits-panel", Severity::stop, "panel", "",
               {{"taken off", asked, "mm"}, {"largest workable", largest, "mm"}},
               "What is taken off the edges of panel " + panel.id + " (up to " + report.said(asked) +
                   ", along " + edge_name(panel, widest) + ") leaves " +
                   (gone ? "nothing of it." : "it in " + std::to_string(parts) + " parts."),
               largest > 0
                   ? "Take off no more than " + report.said(largest) +
                         " there (and less in proportion elsewhere), or join the panel to its neighbour."
                   : "Join the panel to its neighbour.");
}

/// A measure that falls short of its limit by more than the noise of working it out (3 in is 76.2 mm either way).
bool short_of(double value, double limit) {
    return value < limit - noise_mm(limit);
}

bool bound(const Panel& panel, std::size_t edge) {
    return panel.edges[edge].finish == Finish::bound;
}

/// A corner of the net line before rounding.
struct NetCorner {
    std::size_t vertex = 0;  ///< of the unrounded outline
    std::size_t corner = 0;  ///< of the panel: between edges corner - 1 and corner
    Vec2 before, after;      ///< directions of travel
};

/// The vertices where one edge of the panel hands over to the next. Where an edge was lost there is none.
std::vector<NetCorner> net_corners(const Panel& panel) {
    const Outline& line = panel.net_line.unrounded;
    const std::size_t n = panel.edges.size();
    std::vector<NetCorner> corners;
    for (std::size_t k = 0; k < line.size(); ++k) {
        const Edge before = line.edge(k == 0 ? line.size() - 1 : k - 1), after = line.edge(k);
        if ((static_cast<std::size_t>(before.tag) + 1) % n != static_cast<std::size_t>(after.tag)) continue;
        corners.push_back(
            {k, static_cast<std::size_t>(after.tag), direction_at(before, 1), direction_at(after, 0)});
    }
    return corners;
}

/// Corners that a binding has to go round more sharply than it can.
void judge_bound_corners(const Panel& panel, const std::vector<NetCorner>& corners,
                         const FinishSettings& finish, Reporter& report) {
    const std::size_t n = panel.edges.size();
    for (const NetCorner& c : corners) {
        if (!bound(panel, c.corner) || !bound(panel, (c.corner + n - 1) % n)) continue;
        const bool inside = cross(c.before, c.after) < 0;
        const double least = inside ? finish.least_bound_hole_radius_mm : finish.least_bound_radius_mm;
        const CornerPlan& plan = panel.corners[c.corner];
        if (!short_of(plan.radius_mm, least)) continue;
        if (corner_moved_mm(c.before, c.after, least) <= finish.corner_allowance_mm) continue;
        const std::string is =
            plan.radius_mm > 0 ? "is rounded to " + report.said(plan.radius_mm) : std::string("is square");
        report.add(inside ? "inside-corner-too-tight" : "corner-too-tight", Severity::look, "corner", plan.at,
                   {{"radius", plan.radius_mm, "mm"}, {"least", least, "mm"}},
                   std::string(inside ? "Inside corner " : "Corner ") + plan.at + " of panel " + panel.id +
                       " " + is + "; a binder passes " + report.said(least) + " and wider" +
                       (inside ? " there." : "."),
                   "Round it to " + report.said(least) +
                       ", bind it by hand with a mitre, or turn or seal one of its two edges.");
    }
}

/// Bound curves that a binding has to follow more tightly than it can.
void judge_bound_curves(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    const Outline& line = panel.net_line.unrounded;
    for (std::size_t i = 0; i < panel.edges.size(); ++i) {
        if (!bound(panel, i)) continue;
        double tightest[2] = {std::numeric_limits<double>::max(), std::numeric_limits<double>::max()};
        for (std::size_t k = 0; k < line.size(); ++k) {
            const Edge e = line.edge(k);
            if (e.tag != static_cast<int>(i) || e.straight()) continue;
            double& least = tightest[e.bulge < 0];
            least = std::min(least, radius_of(e));
        }
        for (const bool inside : {false, true}) {
            const double limit = inside ? finish.least_bound_hole_radius_mm : finish.least_bound_radius_mm;
            const double radius = tightest[inside];
            if (!short_of(radius, limit)) continue;
            report.add("edge-too-tight", Severity::look, "edge", edge_name(panel, i),
                       {{"radius", radius, "mm"}, {"least", limit, "mm"}},
                       "Edge " + edge_name(panel, i) + " of panel " + panel.id + " curves " +
                           (inside ? "inward" : "outward") + " to a radius of " + report.said(radius) +
                           "; a binder passes " + report.said(limit) + " and wider there.",
                       "Ease the curve, bind it by hand, or turn or seal the edge.");
        }
    }
}

/// Where two edges run on into one another but give up different amounts, the line steps.
void judge_steps(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    const Outline& line = panel.boat_line.outline;
    for (std::size_t k = 0; k < line.size(); ++k) {
        const Edge before = line.edge(k == 0 ? line.size() - 1 : k - 1), after = line.edge(k);
        if (before.tag == after.tag) continue;
        const auto i = static_cast<std::size_t>(before.tag), j = static_cast<std::size_t>(after.tag);
        const double step =
            std::fabs(net_outside_mm(panel.edges[i], finish) - net_outside_mm(panel.edges[j], finish));
        const Vec2 d = direction_at(before, 1), e = direction_at(after, 0);
        if (step <= finish.corner_allowance_mm || dot(d, e) <= 0) continue;
        // The moved lines cross step / sin(turn) away from the corner; near to it the corner takes the step
        // up.
        if (std::fabs(cross(d, e)) * kStepsAway >= 1) continue;
        report.add("step-in-line", Severity::look, "corner", panel.corners[j].at, {{"step", step, "mm"}},
                   "Edges " + edge_name(panel, i) + " and " + edge_name(panel, j) + " of panel " + panel.id +
                       " run nearly on at " + panel.corners[j].at +
                       ", but what is taken off them differs by " + report.said(step) +
                       ": the net line steps there.",
                   "Give both edges the same clearance, or move the corner to where the step shall be.");
    }
}

/// An edge that is walked over wants nothing that stands up.
void judge_walked_over(const Panel& panel, Reporter& report) {
    for (std::size_t i = 0; i < panel.edges.size(); ++i) {
        if (panel.edges[i].situation != Situation::walked_over || !bound(panel, i)) continue;
        report.add("edge-may-trip", Severity::look, "edge", edge_name(panel, i), {},
                   "Edge " + edge_name(panel, i) + " of panel " + panel.id +
                       " is walked over and bound: its binding stands up above the goods, most where its end "
                       "laps its start.",
                   "Turn or seal that edge; bound all the same, begin and end the binding elsewhere.");
    }
}

void round_corners(Panel& panel, const std::vector<NetCorner>& corners, const FinishSettings& finish,
                   Reporter& report) {
    const std::size_t n = panel.edges.size();
    std::vector<CornerRadius> wanted;
    for (const NetCorner& c : corners) {
        const double radius = panel.corners[c.corner].radius_mm;
        if (radius <= 0) continue;
        if (corner_moved_mm(c.before, c.after, radius) <= finish.corner_allowance_mm) continue;
        wanted.push_back({c.vertex, radius});
    }
    FilletResult rounded = fillet(panel.net_line.unrounded, wanted, -1);
    SPILE_CHECK(rounded.too_short.size() == rounded.largest_radius_mm.size());
    for (std::size_t k = 0; k < rounded.too_short.size(); ++k) {
        const auto at = std::find_if(corners.begin(), corners.end(),
                                     [&](const NetCorner& c) { return c.vertex == rounded.too_short[k]; });
        SPILE_CHECK(at != corners.end());
        const CornerPlan& plan = panel.corners[at->corner];
        // Two that fit alone may be too large side by side.
        const double largest = rounded.largest_beside_mm[k];
        const bool beside = largest < rounded.largest_radius_mm[k];
        report.add("corner-without-room", Severity::stop, "corner", plan.at,
                   {{"radius", plan.radius_mm, "mm"}, {"largest that fits", largest, "mm"}},
                   "Corner " + plan.at + " of panel " + panel.id + " has no room for a radius of " +
                       report.said(plan.radius_mm) + " between edges " +
                       edge_name(panel, (at->corner + n - 1) % n) + " and " + edge_name(panel, at->corner) +
                       ": at most " + report.said_at_most(largest) + " fits" +
                       (beside ? " beside the corners next to it, as round as they are." : "."),
                   largest > 0 ? "Round it to " + report.said_at_most(largest) +
                                     " or less, or leave it square and give its neighbour the room."
                   : beside ? "Leave it square, or round the corners next to it less."
                            : "Leave it square, or move the corner.");
    }
    panel.net_line.region.outer = std::move(rounded.outline);
}

}  // namespace

double net_outside_mm(const EdgePlan& edge, const FinishSettings& finish) {
    switch (edge.measured) {
        case Measured::wall:
            return -edge.clearance_mm;
        case Measured::finished:
            return 0;
        case Measured::raw:
            if (edge.finish == Finish::bound) return finish.binding_growth_mm;
            if (edge.finish == Finish::turned) return -finish.turn_mm;
            return 0;
    }
    return 0;
}

double corner_moved_mm(Vec2 before, Vec2 after, double radius_mm) {
    const double cos_half = std::sqrt(std::max(0.0, (1 + dot(before, after)) / 2));
    if (cos_half <= 0) return std::numeric_limits<double>::infinity();
    return radius_mm * (1 / cos_half - 1);
}

bool make_net_line(Panel& panel, const FinishSettings& finish, Reporter& report) {
    bool usable = true;
    for (std::size_t i = 0; i < panel.edges.size(); ++i) {
        const EdgePlan& e = panel.edges[i];
        if (std::isfinite(e.clearance_mm) && e.clearance_mm >= 0) continue;
        report.add(
            "clearance-negative", Severity::stop, "edge", edge_name(panel, i), {{"limit", 0, "mm"}},
            "The clearance along edge " + edge_name(panel, i) + " of panel " + panel.id + " is less than 0.",
            "Give a clearance of 0 or more; an edge that reaches past its line is measured too short.");
        usable = false;
    }
    if (!usable) return false;

    std::vector<Outline> parts = moved(panel, finish, 1);
    if (parts.size() != 1) {
        refuse_clearances(panel, finish, parts.size(), report);
        return false;
    }
    panel.net_line.unrounded = std::move(parts.front());
    SPILE_SLOW_CHECK(faults_of(panel.net_line.unrounded).empty());
    SPILE_SLOW_CHECK(area_mm2(panel.net_line.unrounded) > 0);

    std::vector<bool> kept(panel.edges.size(), false);
    for (const Vertex& v : panel.net_line.unrounded.vertices) kept[static_cast<std::size_t>(v.tag)] = true;
    for (std::size_t i = 0; i < kept.size(); ++i) {
        if (kept[i]) continue;
        double length = 0;
        for (std::size_t k = 0; k < panel.boat_line.outline.size(); ++k) {
            const Edge e = panel.boat_line.outline.edge(k);
            if (e.tag == static_cast<int>(i)) length += length_of(e);
        }
        report.add("edge-lost", Severity::look, "edge", edge_name(panel, i), {{"length", length, "mm"}},
                   "Edge " + edge_name(panel, i) + " of panel " + panel.id + " (" + report.said(length) +
                       ") is gone from the net line: what is taken off its neighbours leaves nothing of it.",
                   "Take off less there, or leave the edge out.");
    }

    const std::vector<NetCorner> corners = net_corners(panel);
    judge_steps(panel, finish, report);
    judge_bound_corners(panel, corners, finish, report);
    judge_bound_curves(panel, finish, report);
    judge_walked_over(panel, report);
    round_corners(panel, corners, finish, report);
    return true;
}

}  // namespace spile
