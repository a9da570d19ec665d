// Openings and studs of a panel: where they may be.
#include <algorithm>
#include <functional>
#include <limits>
#include <optional>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/shape/net_line.h"
#include "core/shape/opening_lines.h"

namespace spile {
namespace {

/// Short of its limit by more than the noise of working it out (3 in is 76.2 mm either way).
bool short_of(double value, double limit) {
    return value < limit - noise_mm(limit);
}

/// Certainly farther than `limit` from everything in the box.
bool beyond(const Box& box, Vec2 p, double limit) {
    return p.x < box.min.x - limit || p.x > box.max.x + limit || p.y < box.min.y - limit ||
           p.y > box.max.y + limit;
}

/// How many times the ease that would still do is halved upon: 2^-12 of it is finer than a tape reads.
constexpr int kHalvings = 12;
/// How finely a rim is looked at for the place that reaches farthest out.
constexpr Resolution kLooked{0.05};

double radius_of_round(const OpeningPlan& o) {
    return o.diameter_mm / 2 + o.ease_mm;
}

bool round(const OpeningPlan& o) {
    return o.form == OpeningPlan::Form::round;
}

/// How far a rim stays inside the outer edge; less than 0 by as much as it reaches past it.
struct Room {
    double mm = 0;
    std::size_t edge = 0;    ///< of the outer outline, the nearest
    bool any_inside = true;  ///< else all of it lies outside
};

Room room_in(const Outline& outer, const OpeningPlan& o, const Outline& rim) {
    Room room;
    if (round(o)) {
        const double radius = radius_of(rim.edge(0));
        const Nearest nearest = nearest_on(outer, o.centre_mm);
        const bool in = side_of(outer, o.centre_mm) == Side::inside;
        room.edge = nearest.edge;
        room.mm = (in ? nearest.distance : -nearest.distance) - radius;
        room.any_inside = in || nearest.distance < radius;
        return room;
    }
    double least = std::numeric_limits<double>::max();
    for (std::size_t k = 0; k < outer.size(); ++k)
        for (std::size_t j = 0; j < rim.size(); ++j) {
            const double d = distance_between(outer.edge(k), rim.edge(j));
            if (d < least) least = d, room.edge = k;
        }
    double past = 0;
    room.any_inside = least <= 0;
    for (const Vec2 p : flatten(rim, kLooked)) {
        if (side_of(outer, p) == Side::inside) {
            room.any_inside = true;
            continue;
        }
        const Nearest nearest = nearest_on(outer, p);
        if (nearest.distance >= past) past = nearest.distance, room.edge = nearest.edge;
    }
    room.mm = !room.any_inside ? -least : past > 0 || least <= 0 ? -past : least;
    return room;
}

/// What to do about an opening that has too little room: the largest ease that would do, where there is one.
std::string with_less_ease(const OpeningPlan& o, const std::function<bool(const Outline&)>& fits,
                           const Reporter& report) {
    const auto fits_with = [&](double ease) {
        const Outline rim = rim_with_ease(o, ease);
        return !rim.empty() && fits(rim);
    };
    if (o.ease_mm <= 0 || !fits_with(0)) return "";
    double workable = 0, too_much = o.ease_mm;
    for (int i = 0; i < kHalvings; ++i) {
        const double ease = (workable + too_much) / 2;
        (fits_with(ease) ? workable : too_much) = ease;
    }
    return "An ease of " + report.said_at_most(workable) + " would do. ";
}

/// True when the opening lies inside the outer edge.
bool inside_panel(const Panel& panel, const OpeningPlan& o, const FinishSettings& finish, Reporter& report) {
    const Outline& outer = panel.net_line.region.outer;
    const Room room = room_in(outer, o, o.rim);
    const int tag = outer.vertices[room.edge].tag;
    const std::string beside =
        tag >= 0 ? "edge " + edge_name(panel, static_cast<std::size_t>(tag)) : "a corner";
    const std::string hole = "Opening \"" + o.id + "\" (finished " + finished_size(o, report) + ")";
    if (!room.any_inside) {
        const double middle = nearest_on(outer, o.centre_mm).distance;
        report.add("opening-outside", Severity::stop, "opening", o.id,
                   {{"outside by", round(o) ? middle - radius_of_round(o) : -room.mm, "mm"}},
                   hole + " lies outside panel " + panel.id + ": its middle is " + report.said(middle) +
                       " beyond " + beside + ".",
                   "Give the opening to the panel that holds it, or check the readings that place it.");
        return false;
    }
    if (room.mm <= 0) {
        const auto fits = [&](const Outline& rim) { return room_in(outer, o, rim).mm > 0; };
        report.add(
            "opening-at-edge", Severity::stop, "opening", o.id,
            {{"past the edge by", -room.mm, "mm"}, {"limit", 0, "mm"}},
            hole + " of panel " + panel.id + " reaches " + report.said(-room.mm) + " past " + beside + ".",
            with_less_ease(o, fits, report) +
                "Check its place and size; where it truly meets the edge, split the panel through it.");
        return false;
    }
    const double wanted = 2 * finish.stitch_from_edge_mm;
    if (short_of(room.mm, wanted)) {
        report.add("opening-near-edge", Severity::look, "opening", o.id,
                   {{"distance", room.mm, "mm"}, {"wanted", wanted, "mm"}},
                   hole + " of panel " + panel.id + " leaves " + report.said(room.mm) + " to " + beside +
                       "; the two stitch lines need " + report.said(wanted) + ".",
                   "Make the opening smaller, or split the panel through it.");
    }
    return true;
}

/// Room between two openings; less than 0 by as much as they run into each other.
double room_between(const OpeningPlan& o, const Outline& rim, const OpeningPlan& other) {
    if (round(o) && round(other))
        return distance(o.centre_mm, other.centre_mm) - radius_of(rim.edge(0)) - radius_of_round(other);
    const double least = distance_between(rim, other.rim);
    double deep = 0;
    const auto look = [&deep](const Outline& a, const Outline& b) {
        for (const Vec2 p : flatten(a, kLooked))
            if (side_of(b, p) == Side::inside) deep = std::max(deep, nearest_on(b, p).distance);
    };
    look(rim, other.rim);
    look(other.rim, rim);
    return deep > 0 || least <= 0 ? -deep : least;
}

/// True when the opening lies apart from those already made.
bool apart(const Panel& panel, std::size_t i, const std::vector<std::size_t>& made,
           const FinishSettings& finish, Reporter& report) {
    const OpeningPlan& o = panel.openings[i];
    const Box box = box_of(o.rim);
    bool free = true;
    for (const std::size_t j : made) {
        const OpeningPlan& other = panel.openings[j];
        const double wanted = 2 * finish.stitch_from_edge_mm;
        const Box beside = box_of(other.rim);
        if (box.min.x - beside.max.x > wanted || beside.min.x - box.max.x > wanted ||
            box.min.y - beside.max.y > wanted || beside.min.y - box.max.y > wanted)
            continue;
        const double room = room_between(o, o.rim, other);
        const std::string both = "Openings \"" + other.id + "\" and \"" + o.id + "\" of panel " + panel.id;
        if (room <= 0) {
            const auto fits = [&](const Outline& rim) { return room_between(o, rim, other) > 0; };
            report.add("openings-meet", Severity::stop, "opening", o.id,
                       {{"overlap", -room, "mm"}, {"limit", 0, "mm"}},
                       both + " run into each other by " + report.said(-room) + ".",
                       with_less_ease(o, fits, report) +
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

/// The tightest place of a rim for a binder, held against what it passes there.
struct Tightest {
    double radius = 0, least = 0;  ///< radius 0: a square corner
    bool inside = true;            ///< of the goods
};

/// Nothing when a binder passes all of the rim.
std::optional<Tightest> too_tight(const Outline& rim, const FinishSettings& finish) {
    std::optional<Tightest> found;
    const auto take = [&](double radius, bool inside) {
        const double least = inside ? finish.least_bound_hole_radius_mm : finish.least_bound_radius_mm;
        if (!short_of(radius, least)) return;
        if (!found || radius / least < found->radius / found->least) found = Tightest{radius, least, inside};
    };
    for (std::size_t k = 0; k < rim.size(); ++k) {
        const Edge before = rim.edge(k == 0 ? rim.size() - 1 : k - 1), after = rim.edge(k);
        if (!after.straight()) take(radius_of(after), after.bulge < 0);
        const Vec2 u = direction_at(before, 1), v = direction_at(after, 0);
        const bool inside = cross(u, v) < 0;
        const double least = inside ? finish.least_bound_hole_radius_mm : finish.least_bound_radius_mm;
        if (corner_moved_mm(u, v, least) > finish.corner_allowance_mm) take(0, inside);
    }
    return found;
}

/// A rim that a binder cannot go round is turned instead, and said.
void turn_what_cannot_be_bound(const Panel& panel, OpeningPlan& o, const FinishSettings& finish,
                               Reporter& report) {
    if (o.finish != Finish::bound) return;
    const auto tight = too_tight(o.rim, finish);
    if (!tight) return;
    o.finish = Finish::turned;
    const std::string who = "Opening \"" + o.id + "\" of panel " + panel.id + " cannot be bound: ";
    const std::string is = round(o)            ? "its radius is " + report.said(tight->radius)
                           : tight->radius > 0 ? "at its tightest its radius is " + report.said(tight->radius)
                                               : std::string("it has a square corner");
    const double typed = std::max(0.0, tight->least - o.ease_mm);
    const bool room =
        o.form == OpeningPlan::Form::box && tight->inside && 2 * typed <= std::min(o.length_mm, o.width_mm);
    report.add("opening-turned", Severity::look, "opening", o.id,
               {{"radius", tight->radius, "mm"}, {"least", tight->least, "mm"}},
               who + is + " and a binder passes " + report.said(tight->least) + " and wider " +
                   (round(o)        ? "in a hole"
                    : tight->inside ? "there, round an inside curve"
                                    : "there, round an outside one") +
                   ". It is turned instead.",
               (room ? "Round its corners to " + report.said_at_least(typed) + " or more, or say"
                     : std::string("Say")) +
                   " turned for this opening, or sealed if it shall be left raw.");
}

}  // namespace

void make_openings(Panel& panel, const FinishSettings& finish, Reporter& report) {
    std::vector<std::size_t> made;
    for (std::size_t i = 0; i < panel.openings.size(); ++i) {
        OpeningPlan& o = panel.openings[i];
        if (o.rim.empty()) continue;
        turn_what_cannot_be_bound(panel, o, finish, report);
        const bool inside = inside_panel(panel, o, finish, report);
        const bool free = apart(panel, i, made, finish, report);
        if (!inside || !free) continue;
        made.push_back(i);
        Outline hole = o.rim;
        for (Vertex& v : hole.vertices) v.tag = -2 - static_cast<int>(i);
        panel.net_line.region.holes.push_back(std::move(hole));
    }
}

void judge_studs(const Panel& panel, const FinishSettings& finish, Reporter& report) {
    const Region& net = panel.net_line.region;
    std::vector<Box> boxes;
    for (const Outline& hole : net.holes) boxes.push_back(box_of(hole));
    for (const Stud& stud : panel.studs) {
        const Side side = side_of(net, stud.at_mm);
        double nearest = nearest_on(net.outer, stud.at_mm).distance;
        std::string beside = "the finished edge";
        for (std::size_t h = 0; h < net.holes.size(); ++h) {
            if (beyond(boxes[h], stud.at_mm, nearest)) continue;
            const Outline& hole = net.holes[h];
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
