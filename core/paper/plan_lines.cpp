#include "core/paper/plan_lines.h"

#include <algorithm>
#include <cmath>

#include "core/base/check.h"

namespace spile::paper {
namespace {

Vec2 start_direction(const Edge& e) {
    return direction_at(e, 0);
}
Vec2 end_direction(const Edge& e) {
    return direction_at(e, 1);
}

/// Edge b runs on from edge a without a corner: turning a onto b moves no point of either by more than kSame.
bool runs_on(const Edge& a, const Edge& b) {
    const Vec2 u = end_direction(a), v = start_direction(b);
    const double reach = std::max(length_of(a), length_of(b));
    return dot(u, v) > 0 && std::fabs(cross(u, v)) * reach <= kSame.mm;
}

/// Tangent as a round needs it: the disc of that radius would leave its edge by no more than kSame.
bool tangent(const Edge& before, const Edge& after, double radius) {
    const Vec2 u = end_direction(before), v = start_direction(after);
    return dot(u, v) > 0 && std::fabs(cross(u, v)) * radius <= kSame.mm;
}

/// Arcs that rise less than half of kSame are straight: their centres lie too far off to reckon from.
std::vector<Edge> flattened(std::vector<Edge> edges) {
    for (Edge& e : edges)
        if (std::fabs(e.bulge) * distance(e.a, e.b) <= kSame.mm) e.bulge = 0;
    return edges;
}

std::vector<Edge> tidied(const std::vector<Edge>& edges, bool closed) {
    std::vector<Edge> out;
    for (const Edge& e : edges) {
        if (distance(e.a, e.b) <= kSame.mm) continue;
        if (!out.empty()) {
            Edge& last = out.back();
            if (last.straight() && e.straight() && runs_on(last, e)) {
                last.b = e.b;
                continue;
            }
        }
        out.push_back(e);
    }
    if (closed && out.size() > 2 && out.back().straight() && out.front().straight() &&
        runs_on(out.back(), out.front())) {
        out.front().a = out.back().a;
        out.pop_back();
    }
    // What was dropped leaves its neighbours apart by less than kSame: join them.
    for (std::size_t i = 0; i + 1 < out.size(); ++i) out[i].b = out[i + 1].a;
    if (closed && !out.empty()) out.back().b = out.front().a;
    return out;
}

/// Where the lines or circles of two edges meet, of several places the one nearest to `near`.
std::optional<Vec2> crossing(const Edge& a, const Edge& b, Vec2 near) {
    std::vector<Vec2> places;
    if (a.straight() && b.straight()) {
        const Vec2 u = a.b - a.a, v = b.b - b.a;
        places.push_back(a.a + (cross(b.a - a.a, v) / cross(u, v)) * u);
    } else {
        // A circle with a line: the foot of its centre, then half the chord either way. Two circles meet on the line
        // where their powers are equal, which stands square to the line of their centres.
        const Edge& round = a.straight() ? b : a;
        const Edge& other = a.straight() ? a : b;
        const Vec2 c = centre_of(round);
        const double r = radius_of(round);
        Vec2 foot, along;
        if (other.straight()) {
            along = unit(other.b - other.a);
            foot = other.a + dot(c - other.a, along) * along;
        } else {
            const Vec2 between = centre_of(other) - c;
            const double d = norm(between), r2 = radius_of(other);
            if (d == 0) return std::nullopt;
            foot = c + ((d * d + r * r - r2 * r2) / (2 * d * d)) * between;
            along = left_of(between / d);
        }
        const double half2 = r * r - norm2(foot - c);
        if (half2 < 0) return std::nullopt;
        places = {foot + std::sqrt(half2) * along, foot - std::sqrt(half2) * along};
    }
    Vec2 best = places.front();
    for (const Vec2 p : places)
        if (distance(p, near) < distance(best, near)) best = p;
    return best;
}

/// The edge with one end moved along its line or circle.
Edge prolonged(const Edge& e, Vec2 a, Vec2 b) {
    if (e.straight()) return {a, b, 0, e.tag};
    Edge out = arc_between(a, b, radius_of(e), e.bulge > 0);
    out.tag = e.tag;
    return out;
}

/// The bulge of an arc of 150 degrees: more than that and the corner stands too far out to be marked.
constexpr double kMostBulge = 0.7673;

/// The corner that an arc rounds; none when it is no round of a corner.
std::optional<Vec2> corner_of(const Edge& before, const Edge& arc, const Edge& after, double disc_most_mm) {
    if (arc.straight() || std::fabs(arc.bulge) > kMostBulge) return std::nullopt;
    const double r = radius_of(arc);
    if (r > disc_most_mm || !tangent(before, arc, r) || !tangent(arc, after, r)) return std::nullopt;
    for (const Edge* e : {&before, &after})
        if (!e->straight() && (radius_of(*e) < 2 * r || std::fabs(e->bulge) > kMostBulge))
            return std::nullopt;
    // Where the tangents meet: r tan(sweep / 2) beyond the ends.
    const double touch = r * 2 * std::fabs(arc.bulge) / (1 - arc.bulge * arc.bulge);
    const Vec2 tangents_meet = arc.a + touch * start_direction(arc);
    const auto corner = crossing(before, after, tangents_meet);
    // A curved neighbour bends the corner away from there; further than a radius it is another crossing.
    if (!corner || distance(*corner, tangents_meet) > r) return std::nullopt;
    return corner;
}

}  // namespace

std::vector<Edge> edges_of(const Outline& outline) {
    std::vector<Edge> edges;
    for (std::size_t i = 0; i < outline.size(); ++i) edges.push_back(outline.edge(i));
    return edges;
}

RawLine raw_line(std::vector<Edge> given, bool closed, double disc_most_mm) {
    RawLine line;
    line.closed = closed;
    line.edges = flattened(std::move(given));
    std::vector<Edge> edges = tidied(line.edges, closed);
    const std::size_t n = edges.size();
    const auto before = [&](std::size_t i) { return i == 0 ? n - 1 : i - 1; };
    const auto after = [&](std::size_t i) { return i + 1 == n ? 0 : i + 1; };

    const std::vector<Edge> rounded = edges;
    std::vector<bool> is_round(n, false), round_before(n, false);
    for (std::size_t i = 0; i < n && n > 2; ++i) {
        if (!closed && (i == 0 || i + 1 == n)) continue;
        const std::size_t a = before(i), b = after(i);
        if (is_round[a] || is_round[b]) continue;
        const auto corner = corner_of(rounded[a], rounded[i], rounded[b], disc_most_mm);
        if (!corner) continue;
        is_round[i] = true;
        round_before[b] = true;
        edges[a] = prolonged(edges[a], edges[a].a, *corner);
        edges[b] = prolonged(edges[b], *corner, edges[b].b);
    }

    // A closed line begins where a stroke begins.
    std::size_t first = 0;
    if (closed)
        for (std::size_t i = 0; i < n; ++i)
            if (!is_round[i] && (round_before[i] || edges[i].straight() || edges[before(i)].straight() ||
                                 !runs_on(edges[before(i)], edges[i]))) {
                first = i;
                break;
            }
    for (std::size_t k = 0; k < n; ++k) {
        const std::size_t i = (first + k) % n;
        if (is_round[i]) continue;
        const bool curve_goes_on = !line.strokes.empty() && !edges[i].straight() && !round_before[i] &&
                                   !line.strokes.back().edges.back().straight() &&
                                   runs_on(line.strokes.back().edges.back(), edges[i]);
        if (curve_goes_on) {
            line.strokes.back().edges.push_back(edges[i]);
            continue;
        }
        if (round_before[i]) {
            const Edge& arc = rounded[before(i)];
            line.rounds.push_back({line.strokes.size(), radius_of(arc), centre_of(arc),
                                   distance(edges[i].a, arc.a), distance(edges[i].a, arc.b)});
        }
        line.strokes.push_back({{edges[i]}});
    }
    return line;
}

RawLine begun_at(const RawLine& line, std::size_t stroke) {
    SPILE_CHECK(line.closed && stroke < line.strokes.size());
    RawLine out = line;
    const std::size_t n = line.strokes.size();
    for (std::size_t i = 0; i < n; ++i) out.strokes[i] = line.strokes[(i + stroke) % n];
    for (RawRound& r : out.rounds) r.stroke = (r.stroke + n - stroke) % n;
    std::sort(out.rounds.begin(), out.rounds.end(),
              [](const RawRound& a, const RawRound& b) { return a.stroke < b.stroke; });
    return out;
}

RawLine moved(const Rigid& move, const RawLine& line) {
    RawLine out = line;
    const auto go = [&](Edge& e) { e.a = move(e.a), e.b = move(e.b); };
    for (RawStroke& s : out.strokes)
        for (Edge& e : s.edges) go(e);
    for (RawRound& r : out.rounds) r.centre = move(r.centre);
    for (Edge& e : out.edges) go(e);
    return out;
}

std::vector<RawLine> lines_off(const Outline& backing, const Outline& face, double disc_most_mm) {
    const std::vector<Edge> edges = edges_of(backing), cover = edges_of(face);
    const std::size_t n = edges.size();
    std::vector<bool> off(n);
    std::size_t count = 0;
    for (std::size_t i = 0; i < n; ++i) {
        off[i] = distance_to(cover, edges[i].a) > kSame.mm ||
                 distance_to(cover, midpoint_of(edges[i])) > kSame.mm ||
                 distance_to(cover, edges[i].b) > kSame.mm;
        count += off[i] ? 1 : 0;
    }
    std::vector<RawLine> lines;
    const auto add = [&](std::vector<Edge> chain, bool closed) {
        RawLine line = raw_line(std::move(chain), closed, disc_most_mm);
        line.cut = Cut::backing_only;
        if (!line.strokes.empty()) lines.push_back(std::move(line));
    };
    if (count == n) {
        add(edges, true);
        return lines;
    }
    for (std::size_t i = 0; i < n; ++i) {
        if (!off[i] || off[(i + n - 1) % n]) continue;
        std::vector<Edge> chain;
        for (std::size_t k = i; off[k % n]; ++k) chain.push_back(edges[k % n]);
        add(std::move(chain), false);
    }
    return lines;
}

}  // namespace spile::paper
