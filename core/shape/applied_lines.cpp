#include "core/shape/applied_lines.h"

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/shape/applied.h"

namespace spile {
namespace {

/// How finely a line is looked at for the place that reaches farthest.
constexpr Resolution kLooked{0.05};

/// Far below what a knife knows, far above noise.
constexpr double kSkin_mm = 0.01;

bool touch(const Box& a, const Box& b) {
    return a.min.x <= b.max.x && b.min.x <= a.max.x && a.min.y <= b.max.y && b.min.y <= a.max.y;
}

bool cross(const Outline& a, const Outline& b) {
    for (std::size_t i = 0; i < a.size(); ++i)
        for (std::size_t j = 0; j < b.size(); ++j)
            for (const Meeting& m : meet(a.edge(i), b.edge(j)))
                if (!m.touching) return true;
    return false;
}

/// Whether a corner or the middle of an edge of `line` lies on that side of `outline`.
bool any_on(const Outline& outline, const Outline& line, Side side) {
    for (std::size_t k = 0; k < line.size(); ++k)
        if (side_of(outline, line.vertices[k].p) == side ||
            side_of(outline, midpoint_of(line.edge(k))) == side)
            return true;
    return false;
}

double farthest(const Outline& from, const Outline& line, Side side) {
    double most = 0;
    for (const Vec2 p : flatten(line, kLooked))
        if (side_of(from, p) == side) most = std::max(most, nearest_on(from, p).distance);
    return most;
}

/// The stretch of an edge between two shares of its length.
Edge part_of(const Edge& e, double from, double to) {
    const double bulge = e.straight() ? 0 : std::tan(std::atan(e.bulge) * (to - from));
    return {from > 0 ? point_at(e, from) : e.a, to < 1 ? point_at(e, to) : e.b, bulge, e.tag};
}

/// The edge moved to its left; nothing where it is an arc about a centre that is nearer.
std::optional<Edge> moved_left(const Edge& e, double mm) {
    if (e.bulge > 0 && radius_of(e) <= mm) return std::nullopt;
    Edge out = e;
    out.a = e.a + mm * left_of(direction_at(e, 0));
    out.b = e.b + mm * left_of(direction_at(e, 1));
    return out;
}

/// A chain moved to its left, kinks closed; empty when it cannot be.
std::vector<Edge> moved_left(const std::vector<Edge>& chain, double mm) {
    std::vector<Edge> out;
    for (const Edge& e : chain) {
        std::optional<Edge> moved = moved_left(e, mm);
        if (!moved) return {};
        if (!out.empty()) {
            Edge& before = out.back();
            Box box;
            box.add(before.b);
            box.add(moved->a);
            if (distance(before.b, moved->a) <= 4 * noise_mm(box)) {
                moved->a = before.b;
            } else if (const std::vector<Meeting> met = meet(before, *moved); !met.empty()) {
                before = part_of(before, 0, met.front().t_a);
                *moved = part_of(*moved, met.front().t_b, 1);
                before.b = moved->a = met.front().at;
            } else {
                out.push_back({before.b, moved->a, 0, 0});
            }
        }
        out.push_back(*moved);
    }
    return out;
}

/// The net line of an edge from corner to corner, as it would be unrounded, in the sense of the panel.
std::vector<Edge> edge_line(const Panel& panel, std::size_t edge) {
    const Outline& line = panel.net_line.unrounded;
    const std::size_t n = line.size();
    const int tag = static_cast<int>(edge);
    std::size_t first = n;
    for (std::size_t k = 0; k < n && first == n; ++k)
        if (line.vertices[k].tag == tag && line.vertices[(k + n - 1) % n].tag != tag) first = k;
    std::vector<Edge> out;
    for (std::size_t i = 0; first < n && i < n && line.vertices[(first + i) % n].tag == tag; ++i)
        out.push_back(line.edge((first + i) % n));
    return out;
}

}  // namespace

bool reaches_beyond(const Outline& boundary, const Outline& set) {
    if (area_mm2(boundary) < 0) return share_ground(boundary, set);
    return cross(boundary, set) || any_on(boundary, set, Side::outside);
}

double lies_beyond_mm(const Outline& boundary, const Outline& set) {
    if (!reaches_beyond(boundary, set)) return 0;
    const Side beyond = area_mm2(boundary) < 0 ? Side::inside : Side::outside;
    return std::max(farthest(boundary, set, beyond), farthest(set, boundary, Side::inside));
}

bool share_ground(const Outline& a, const Outline& b) {
    if (!touch(box_of(a), box_of(b))) return false;
    if (cross(a, b) || any_on(a, b, Side::inside) || any_on(b, a, Side::inside)) return true;
    // One upon the other, edge on edge: what lies a little inside of one lies in both.
    for (const Outline& inner : offset(area_mm2(a) < 0 ? reversed(a) : a, -kSkin_mm))
        if (any_on(b, inner, Side::inside)) return true;
    return false;
}

Outline scaled(Outline outline, Vec2 centre, double factor) {
    for (Vertex& v : outline.vertices) v.p = centre + factor * (v.p - centre);
    return outline;
}

Outline strip_along(const Panel& panel, std::size_t edge, double near_mm, double far_mm, double from_mm,
                    double to_mm) {
    std::vector<Edge> chain;
    double at = 0;
    for (const Edge& e : edge_line(panel, edge)) {
        const double length = length_of(e);
        const double a = std::max(0.0, (from_mm - at) / length), b = std::min(1.0, (to_mm - at) / length);
        if (a < b) chain.push_back(part_of(e, a, b));
        at += length;
    }
    const std::vector<Edge> near = moved_left(chain, near_mm), far = moved_left(chain, far_mm);
    Outline out;
    if (near.empty() || far.empty()) return out;
    for (const Edge& e : near) out.vertices.push_back({e.a, e.bulge, 0});
    out.vertices.push_back({near.back().b, 0, 1});
    for (std::size_t k = far.size(); k-- > 0;) out.vertices.push_back({far[k].b, -far[k].bulge, 2});
    out.vertices.push_back({far.front().a, 0, 3});
    return faults_of(out).empty() && area_mm2(out) > 0 ? out : Outline{};
}

std::size_t edge_finished_as(const Panel& panel, std::size_t k) {
    const Outline& outer = panel.net_line.region.outer;
    const std::size_t n = outer.size();
    const auto found = [&](std::size_t step) {
        std::size_t at = k;
        while (outer.vertices[at].tag < 0) at = (at + step) % n;
        return static_cast<std::size_t>(outer.vertices[at].tag);
    };
    const std::size_t after = found(1);
    return panel.edges[after].finish == Finish::bound ? after : found(n - 1);
}

}  // namespace spile
