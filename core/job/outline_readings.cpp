#include "core/job/outline_readings.h"

#include <algorithm>
#include <map>
#include <set>

namespace spile {
namespace {

using Names = std::set<std::string>;

void add_corners(Names& names, const std::vector<CornerPlan>& corners) {
    for (const CornerPlan& corner : corners) names.insert(corner.at);
}

/// The points that the outlines of a space go by.
Names outline_points(const Job& job, const SpaceInput& space) {
    Names names(space.walk.begin(), space.walk.end());
    const auto all = [&names](const std::vector<std::string>& points) {
        names.insert(points.begin(), points.end());
    };
    all(space.bow);
    for (const PanelInput& panel : job.panels) {
        all(panel.twin_about);  // of the space of its original, whichever that is
        if (panel.space != space.id) continue;
        add_corners(names, panel.corners);
        for (const EdgePlan& edge : panel.edges) all(edge.along);
        for (const JointCut& cut : panel.cuts) all(cut.through);
        for (const OpeningPlan& o : panel.openings) {
            all(o.along);
            add_corners(names, o.outline);
            names.insert(o.at);
            if (o.slit) names.insert({o.slit->from, o.slit->to});
        }
        for (const AppliedPlan& a : panel.applied) {
            all(a.along);
            add_corners(names, a.outline);
            names.insert({a.from, a.to, a.at});
        }
    }
    return names;
}

/// How many sizes a reading gives to each point it names; kHeld where others lean on the point.
constexpr int kHeld = 3;
struct Sizes {
    std::map<std::string, int>& of;
    std::vector<std::string> named;  ///< by that reading

    void hold(const std::string& point) { of[point] += kHeld; }
    void operator()(const Tie& t) {
        // To the side of a round thing it takes the thing's diameter too.
        const int sizes = t.touches == Tie::To::point ? 1 : kHeld;
        of[t.from] += sizes;
        of[t.to] += sizes;
    }
    void operator()(const BaselineOffset& b) {
        of[b.point] += b.only_in_line ? 1 : 2;
        hold(b.base_from);
        hold(b.base_to);
    }
    void operator()(const OverUp& o) { of[o.point] += 2; }
    void operator()(const Running& r) {
        for (const Running::Stop& stop : r.stops) of[stop.point] += 2;
        hold(r.from);
        hold(r.to);
    }
    template <class Other>
    void operator()(const Other&) {
        for (const std::string& point : named) hold(point);
    }
};

/// Takes points out of the readings that place them.
void take_out(std::vector<Reading>& readings, const Names& points) {
    const auto out = [&points](const std::string& point) { return points.count(point) > 0; };
    std::vector<Reading> left;
    for (Reading& reading : readings) {
        if (Running* r = std::get_if<Running>(&reading.what)) {
            r->stops.erase(std::remove_if(r->stops.begin(), r->stops.end(),
                                          [&out](const Running::Stop& s) { return out(s.point); }),
                           r->stops.end());
            if (r->stops.empty()) continue;
        } else {
            const std::vector<std::string> named = points_named(reading);
            if (std::any_of(named.begin(), named.end(), out)) continue;
        }
        left.push_back(std::move(reading));
    }
    readings = std::move(left);
}

/// The points that hang on the others: no outline names them and nothing leans on them.
Names hanging(const std::vector<Reading>& readings, const Names& outlines) {
    std::map<std::string, int> sizes;
    for (const Reading& reading : readings) std::visit(Sizes{sizes, points_named(reading)}, reading.what);
    Names out;
    for (const auto& [point, count] : sizes)
        if (count <= 2 && outlines.count(point) == 0) out.insert(point);
    return out;
}

}  // namespace

std::vector<Reading> outline_readings(const Job& job, const SpaceInput& space) {
    std::vector<Reading> readings;
    for (const Reading& reading : space.readings)
        if (!std::holds_alternative<Height>(reading.what)) readings.push_back(reading);
    // Without a walk, "left" and "right" of any point may be what tells the shape from its mirror image.
    if (space.walk.empty()) return readings;
    const Names outlines = outline_points(job, space);
    for (Names points = hanging(readings, outlines); !points.empty(); points = hanging(readings, outlines))
        take_out(readings, points);
    return readings;
}

}  // namespace spile
