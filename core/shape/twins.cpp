#include "core/shape/twins.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/transform.h"

namespace spile {
namespace {

constexpr BackFromFace kOver{0};

std::string dashed(const std::string& name) {
    return name + "'";
}

/// As the outline runs the other way round, edge t of n becomes the edge at this place.
int turned_tag(int tag, std::size_t n) {
    return tag < 0 ? tag : (static_cast<int>(2 * n) - 2 - tag) % static_cast<int>(n);
}

Outline over(const Outline& outline, std::size_t n) {
    Outline out = kOver(outline);
    for (Vertex& v : out.vertices) v.tag = turned_tag(v.tag, n);
    return out;
}

void turn_over(OpeningPlan& o) {
    o.centre_mm = kOver(o.centre_mm);
    o.passes = kOver(o.passes);
    o.rim = kOver(o.rim);
    if (o.outline.empty()) return;
    const std::size_t n = o.outline.size();
    std::vector<CornerPlan> corners;
    for (std::size_t i = 0; i < n; ++i)
        corners.push_back({dashed(o.outline[(n - i) % n].at), o.outline[(n - i) % n].radius_mm});
    o.outline = std::move(corners);
    for (Outline* line : {&o.passes, &o.rim})
        for (Vertex& v : line->vertices)
            if (v.tag >= 0) v.tag = static_cast<int>(n) - 1 - v.tag;
}

/// An applied piece of the twin: its edge and points are named as the twin names them; side k of its line keeps its tag.
AppliedPlan turned_over(AppliedPlan a) {
    a.set = kOver(a.set);
    a.square = kOver(a.square);
    a.centre_mm = kOver(a.centre_mm);
    for (std::string* name : {&a.from, &a.to, &a.at})
        if (!name->empty()) *name = dashed(*name);
    for (std::string& name : a.along) name = dashed(name);
    for (CornerPlan& corner : a.outline) corner.at = dashed(corner.at);
    return a;
}

/// The net corners of an outline before rounding, by the panel's corners.
std::vector<std::pair<std::string, Vec2>> corners_of(const Panel& panel) {
    std::vector<std::pair<std::string, Vec2>> out;
    const Outline& line = panel.net_line.unrounded;
    for (std::size_t k = 0; k < line.size(); ++k) {
        const int tag = line.vertices[k].tag, before = line.vertices[(k + line.size() - 1) % line.size()].tag;
        if (tag != before)
            out.push_back({panel.corners[static_cast<std::size_t>(tag)].at, line.vertices[k].p});
    }
    return out;
}

/// The sizes that tell a twin from a shape of its own: the longest diagonal and the one that crosses it best; of a triangle
/// its sides.
void say_assumed(const Panel& twin, Reporter& report) {
    const auto corners = corners_of(twin);
    const std::size_t n = corners.size();
    std::vector<std::pair<std::size_t, std::size_t>> pairs;
    if (n == 3) pairs = {{0, 1}, {1, 2}, {2, 0}};
    double longest = 0, best = 0;
    std::pair<std::size_t, std::size_t> first, second;
    for (std::size_t i = 0; n > 3 && i < n; ++i)
        for (std::size_t j = i + 2; j < n && j < i + n - 1; ++j)
            if (distance(corners[i].second, corners[j].second) > longest)
                longest = distance(corners[i].second, corners[j].second), first = {i, j};
    for (std::size_t i = 0; n > 3 && i < n; ++i)
        for (std::size_t j = i + 2; j < n && j < i + n - 1; ++j) {
            const Vec2 along = corners[first.second].second - corners[first.first].second;
            const double across = std::fabs(cross(along, corners[j].second - corners[i].second));
            if (across > best) best = across, second = {i, j};
        }
    if (n > 3) pairs = {first, second};
    std::vector<std::string> sizes;
    std::vector<Quantity> numbers;
    for (const auto& [i, j] : pairs) {
        const std::string name = corners[i].first + " " + corners[j].first;
        const double mm = distance(corners[i].second, corners[j].second);
        sizes.push_back(name + " " + report.said(mm));
        numbers.push_back({name, mm, "mm"});
    }
    report.add("twin-assumed", Severity::look, "panel", "", std::move(numbers),
               "Panel " + twin.id + " is assumed to be the mirror twin of panel " + twin.twin_of +
                   ": nothing of it was measured.",
               "Tape its finished sizes aboard before it is cut: " + list_words(sizes) +
                   ". When they agree, say that they were checked; else measure it.");
}

}  // namespace

Panel twin_of(const Panel& original, const PanelInput& in, Reporter& report) {
    const std::size_t n = original.edges.size();
    Panel twin = original;
    twin.id = in.id;
    twin.name = in.name;
    twin.where = in.where;
    twin.space.clear();
    twin.mat = true;
    twin.twin_of = original.id;
    twin.twin_checked = in.twin_checked;
    twin.was_clockwise = !original.was_clockwise;
    std::reverse(twin.corners.begin(), twin.corners.end());
    std::reverse(twin.edges.begin(), twin.edges.end());
    std::rotate(twin.edges.begin(), twin.edges.begin() + 1, twin.edges.end());
    for (CornerPlan& c : twin.corners) c.at = dashed(c.at);
    for (EdgePlan& e : twin.edges) {
        std::swap(e.from, e.to);
        e.from = dashed(e.from);
        e.to = dashed(e.to);
        e.along.clear();
    }
    twin.boat_line.outline = over(original.boat_line.outline, n);
    twin.net_line.unrounded = over(original.net_line.unrounded, n);
    twin.net_line.region.outer = over(original.net_line.region.outer, n);
    for (Outline& hole : twin.net_line.region.holes) hole = kOver(hole);
    for (OpeningPlan& o : twin.openings) turn_over(o);
    for (Stud& s : twin.studs) s = {dashed(s.id), kOver(s.at_mm), s.by_rule};
    for (AppliedPlan& a : twin.applied) a = turned_over(a);
    if (!twin.twin_checked) say_assumed(twin, report);
    return twin;
}

}  // namespace spile
