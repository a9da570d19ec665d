// Openings and studs of a panel: where they may be.
#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/shape/net_line.h"

namespace spile {
namespace {

/// Short of its limit by more than the noise of working it out (3 in is 76.2 mm either way).
bool short_of(double value, double limit) {
    return value < limit - noise_mm(limit);
}

double net_radius(const OpeningPlan& opening) {
    return opening.diameter_mm / 2 + opening.ease_mm;
}

/// Certainly farther than `limit` from everything in the box.
bool beyond(const Box& box, Vec2 p, double limit) {
    return p.x < box.min.x - limit || p.x > box.max.x + limit || p.y < box.min.y - limit ||
           p.y > box.max.y + limit;
}

bool measures_sound(const Panel& panel, const OpeningPlan& o, Reporter& report) {
    const bool sound =
        std::isfinite(o.diameter_mm) && o.diameter_mm > 0 && std::isfinite(o.ease_mm) && o.ease_mm >= 0;
    if (sound) return true;
    report.add("opening-size", Severity::stop, "opening", o.id, {{"limit", 0, "mm"}},
               "Opening \"" + o.id + "\" of panel " + panel.id +
                   " has no size: a diameter is more than 0, an ease 0 or more.",
               "Give the diameter of what passes through, and the ease all round it.");
    return false;
}

/// True when the opening lies inside the outer edge.
bool inside_panel(const Panel& panel, const OpeningPlan& o, const FinishSettings& finish, Reporter& report) {
    const Outline& outer = panel.net_line.region.outer;
    const Nearest edge = nearest_on(outer, o.centre_mm);
    const double radius = net_radius(o);
    const bool centre_in = side_of(outer, o.centre_mm) == Side::inside;
    const double room = (centre_in ? edge.distance : -edge.distance) - radius;
    const int tag = outer.vertices[edge.edge].tag;
    const std::string beside =
        tag >= 0 ? "edge " + edge_name(panel, static_cast<std::size_t>(tag)) : "a corner";
    const std::string hole = "Opening \"" + o.id + "\" (finished " + report.said(2 * radius) + " across)";
    if (!centre_in && edge.distance >= radius) {
        report.add("opening-outside", Severity::stop, "opening", o.id,
                   {{"outside by", edge.distance - radius, "mm"}},
                   hole + " lies outside panel " + panel.id + ": its middle is " +
                       report.said(edge.distance) + " beyond " + beside + ".",
                   "Give the opening to the panel that holds it, or check the readings that place it.");
        return false;
    }
    if (room <= 0) {
        report.add(
            "opening-at-edge", Severity::stop, "opening", o.id,
            {{"past the edge by", -room, "mm"}, {"limit", 0, "mm"}},
            hole + " of panel " + panel.id + " reaches " + report.said(-room) + " past " + beside + ".",
            "Check its place and size; where it truly meets the edge, split the panel through it.");
        return false;
    }
    const double wanted = 2 * finish.stitch_from_edge_mm;
    if (short_of(room, wanted)) {
        report.add("opening-near-edge", Severity::look, "opening", o.id,
                   {{"distance", room, "mm"}, {"wanted", wanted, "mm"}},
                   hole + " of panel " + panel.id + " leaves " + report.said(room) + " to " + beside +
                       "; the two stitch lines need " + report.said(wanted) + ".",
                   "Make the opening smaller, or split the panel through it.");
    }
    return true;
}

/// True when the opening lies apart from those already made.
bool apart(const Panel& panel, std::size_t i, const std::vector<std::size_t>& made,
           const FinishSettings& finish, Reporter& report) {
    const OpeningPlan& o = panel.openings[i];
    bool free = true;
    for (const std::size_t j : made) {
        const OpeningPlan& other = panel.openings[j];
        const double room = distance(o.centre_mm, other.centre_mm) - net_radius(o) - net_radius(other);
        const double wanted = 2 * finish.stitch_from_edge_mm;
        const std::string both = "Openings \"" + other.id + "\" and \"" + o.id + "\" of panel " + panel.id;
        if (room <= 0) {
            report.add("openings-meet", Severity::stop, "opening", o.id,
                       {{"overlap", -room, "mm"}, {"limit", 0, "mm"}},
                       both + " run into each other by " + report.said(-room) + ".",
                       "Check their places and sizes, or make one opening of the two.");
            free = false;
        } else if (short_of(room, wanted)) {
            report.add("openings-near", Severity::look, "opening", o.id,
                       {{"distance", room, "mm"}, {"wanted", wanted, "mm"}},
                       both + " leave " + report.said(room) + " between them; the two stitch lines need " +
                           report.said(wanted) + ".",
                       "Make one of them smaller, or make one opening of the two.");
        }
    }
    return free;
}

}  // namespace

void make_openings(Panel& panel, const FinishSettings& finish, Reporter& report) {
    std::vector<std::size_t> made;
    for (std::size_t i = 0; i < panel.openings.size(); ++i) {
        OpeningPlan& o = panel.openings[i];
        if (!measures_sound(panel, o, report)) continue;
        const double radius = net_radius(o);
        if (o.finish == Finish::bound && short_of(radius, finish.least_bound_hole_radius_mm)) {
            o.finish = Finish::turned;
            report.add("opening-turned", Severity::look, "opening", o.id,
                       {{"radius", radius, "mm"}, {"least", finish.least_bound_hole_radius_mm, "mm"}},
                       "Opening \"" + o.id + "\" of panel " + panel.id + " cannot be bound: its radius is " +
                           report.said(radius) + " and a binder passes " +
                           report.said(finish.least_bound_hole_radius_mm) +
                           " and wider in a hole. It is turned instead.",
                       "Say turned for this opening, or sealed if it shall be left raw.");
        }
        const bool inside = inside_panel(panel, o, finish, report);
        const bool free = apart(panel, i, made, finish, report);
        if (!inside || !free) continue;
        made.push_back(i);
        panel.net_line.region.holes.push_back(
            reversed(circle(o.centre_mm, radius, -2 - static_cast<int>(i))));
    }
}

void judge_studs(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    const Region& net = panel.net_line.region;
    for (const Stud& stud : panel.studs) {
        const Side side = side_of(net, stud.at_mm);
        double nearest = nearest_on(net.outer, stud.at_mm).distance;
        std::string beside = "the finished edge";
        for (const Outline& hole : net.holes) {
            if (beyond(box_of(hole), stud.at_mm, nearest)) continue;
            const double d = nearest_on(hole, stud.at_mm).distance;
            if (d >= nearest) continue;
            nearest = d;
            beside = "opening \"" +
                     panel.openings[static_cast<std::size_t>(-2 - hole.vertices.front().tag)].id + "\"";
        }
        if (side != Side::inside) {
            report.add("stud-outside", Severity::stop, "stud", stud.id, {{"outside by", nearest, "mm"}},
                       "Stud " + stud.id + " does not lie under panel " + panel.id + ": it is " +
                           report.said(nearest) + " beyond " + beside + ".",
                       "Give the stud to the panel that lies over it, or check the readings that place it.");
        } else if (short_of(nearest, finish.stud_from_edge_mm)) {
            report.add("stud-near-edge", Severity::look, "stud", stud.id,
                       {{"distance", nearest, "mm"}, {"least", finish.stud_from_edge_mm, "mm"}},
                       "Stud " + stud.id + " of panel " + panel.id + " is " + report.said(nearest) +
                           " from " + beside + "; a snap wants " + report.said(finish.stud_from_edge_mm) +
                           ".",
                       "Move the stud in the deck, or leave its snap out.");
        }
    }
}

}  // namespace spile
