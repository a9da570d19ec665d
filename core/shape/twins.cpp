#include "core/shape/twins.h"

#include <algorithm>

#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "core/geom/transform.h"

namespace spile {
namespace {

/// Rolled over about a line that `onto` brings onto the x axis.
struct Over {
    Rigid onto, back;

    template <class Thing>
    Thing operator()(const Thing& thing) const {
        return back(BackFromFace{0}(onto(thing)));
    }
    Vec2 turn(Vec2 direction) const { return (*this)(direction) - (*this)(Vec2{0, 0}); }
};

Over over_about(const std::optional<TwinLine>& about) {
    if (!about) return {};
    const Vec2 d = about->toward;
    const Rigid turned{d.x, -d.y, {0, 0}};
    const Rigid onto = compose(Rigid{1, 0, {0, -turned(about->at).y}}, turned);
    return {onto, inverse(onto)};
}

std::string dashed(const std::string& name) {
    return name + "'";
}

/// As the outline runs the other way round, edge t of n becomes the edge at this place.
int turned_tag(int tag, std::size_t n) {
    return tag < 0 ? tag : (static_cast<int>(2 * n) - 2 - tag) % static_cast<int>(n);
}

Outline over(const Over& roll, const Outline& outline, std::size_t n) {
    Outline out = roll(outline);
    for (Vertex& v : out.vertices) v.tag = turned_tag(v.tag, n);
    return out;
}

/// A slit parts an edge of the panel in two, with its own edges between; on the boat line the first of the two stands for both.
/// Turned over that is the other one: the edge before the next on the boat line.
Outline boat_line_over(const Over& roll, Outline outline, std::size_t n) {
    const std::size_t size = outline.size();
    std::vector<int> last(size);
    for (std::size_t k = 0; k < size; ++k) {
        const int tag = outline.vertices[k].tag;
        std::size_t next = (k + 1) % size;
        while (next != k && outline.vertices[next].tag == tag) next = (next + 1) % size;
        last[k] = (outline.vertices[next].tag + static_cast<int>(n) - 1) % static_cast<int>(n);
    }
    for (std::size_t k = 0; k < size; ++k) outline.vertices[k].tag = last[k];
    return over(roll, outline, n);
}

void turn_over(const Over& roll, OpeningPlan& o) {
    o.centre_mm = roll(o.centre_mm);
    o.passes = roll(o.passes);
    o.rim = roll(o.rim);
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
AppliedPlan turned_over(const Over& roll, AppliedPlan a) {
    a.set = roll(a.set);
    a.square = roll(a.square);
    a.centre_mm = roll(a.centre_mm);
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

/// Joints of a twin whose place is not known.
void say_not_held(const Panel& twin, Reporter& report) {
    std::vector<std::string> joints;
    for (std::size_t i = 0; i < twin.edges.size(); ++i)
        if (twin.edges[i].measured == Measured::wall && twin.edges[i].situation == Situation::joint)
            joints.push_back(edge_name(twin, i));
    if (joints.empty()) return;
    report.add("twin-not-held", Severity::look, "panel", "",
               {{"joints", static_cast<double>(joints.size()), ""}},
               "Where panel " + twin.id + " lies aboard is not known: " + list_words(joints) +
                   (joints.size() == 1 ? " is a joint that is" : " are joints that are") +
                   " not held against a neighbour.",
               "Name two points of the line between the two hands, toward the bow, or tape the gap aboard.");
}

}  // namespace

Panel twin_of(const Panel& original, const PanelInput& in, const std::optional<TwinLine>& about,
              Reporter& report) {
    const std::size_t n = original.edges.size();
    const Over roll = over_about(about);
    Panel twin = original;
    twin.id = in.id;
    twin.name = in.name;
    twin.where = in.where;
    if (!about) {
        twin.space.clear();
        twin.mat = true;
    }
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
    twin.boat_line.outline = boat_line_over(roll, original.boat_line.outline, n);
    twin.net_line.unrounded = over(roll, original.net_line.unrounded, n);
    twin.net_line.region.outer = over(roll, original.net_line.region.outer, n);
    for (Outline& hole : twin.net_line.region.holes) hole = roll(hole);
    for (OpeningPlan& o : twin.openings) turn_over(roll, o);
    for (Stud& s : twin.studs) s = {dashed(s.id), roll(s.at_mm), s.by_rule};
    for (MatchMark& m : twin.match_marks)
        m = {dashed(m.name), m.other, roll(m.at_mm), roll(m.net_mm), roll.turn(m.inward), m.finish};
    for (AppliedPlan& a : twin.applied) a = turned_over(roll, a);
    if (!twin.twin_checked) say_assumed(twin, report);
    if (!about) say_not_held(twin, report);
    return twin;
}

}  // namespace spile
