// Drawing a line from the printed numbers alone, as the hand does, and how far that departs from the true line.
#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/paper/plan_lines.h"

namespace spile::paper {

Vec2 nearest_of(const Edge& edge, Vec2 p) {
    const Vec2 d = edge.b - edge.a;
    if (edge.straight()) {
        const double l2 = norm2(d);
        const double t = l2 > 0 ? std::min(1.0, std::max(0.0, dot(p - edge.a, d) / l2)) : 0;
        return edge.a + t * d;
    }
    const Vec2 centre = centre_of(edge);
    const Vec2 out = p - centre;
    const double away = norm(out);
    if (away > 0) {
        // The nearest point of the circle is on the arc when it lies on the arc's side of the chord.
        const Vec2 q = centre + (radius_of(edge) / away) * out;
        if ((cross(d, q - edge.a) < 0) == (edge.bulge > 0)) return q;
    }
    return distance(p, edge.a) <= distance(p, edge.b) ? edge.a : edge.b;
}

double distance_to(const Edge& edge, Vec2 p) {
    return distance(p, nearest_of(edge, p));
}

double distance_to(const std::vector<Edge>& edges, Vec2 p) {
    double best = 1e300;
    for (const Edge& e : edges) best = std::min(best, distance_to(e, p));
    return best;
}

double least_along(const Edge& edge, Vec2 normal) {
    double least = std::min(dot(normal, edge.a), dot(normal, edge.b));
    if (!edge.straight()) {
        const Vec2 q = centre_of(edge) - radius_of(edge) * normal;
        if ((cross(edge.b - edge.a, q - edge.a) < 0) == (edge.bulge > 0))
            least = std::min(least, dot(normal, q));
    }
    return least;
}

std::vector<Edge> batten_through(const std::vector<Vec2>& points) {
    constexpr int parts = 24;
    const std::size_t n = points.size();
    std::vector<double> h(n, 0);
    for (std::size_t i = 0; i + 1 < n; ++i) h[i] = distance(points[i], points[i + 1]);
    // Second derivatives m by the tridiagonal equations of the natural spline, eliminated forwards.
    std::vector<Vec2> m(n), right(n);
    std::vector<double> diagonal(n, 1);
    for (std::size_t i = 1; i + 1 < n; ++i) {
        if (h[i - 1] == 0 || h[i] == 0) continue;  // marks that fall together bend nothing
        right[i] = 6 * ((points[i + 1] - points[i]) / h[i] - (points[i] - points[i - 1]) / h[i - 1]);
        diagonal[i] = 2 * (h[i - 1] + h[i]);
        if (i > 1) {
            const double f = h[i - 1] / diagonal[i - 1];
            diagonal[i] -= f * h[i - 1];
            right[i] = right[i] - f * right[i - 1];
        }
    }
    for (std::size_t i = n < 2 ? 0 : n - 2; i >= 1; --i) m[i] = (right[i] - h[i] * m[i + 1]) / diagonal[i];

    std::vector<Edge> out;
    for (std::size_t i = 0; i + 1 < n; ++i) {
        Vec2 last = points[i];
        for (int k = 1; k <= parts && h[i] > 0; ++k) {
            const double b = static_cast<double>(k) / parts, a = 1 - b;
            const Vec2 p = a * points[i] + b * points[i + 1] +
                           h[i] * h[i] / 6 * ((a * a * a - a) * m[i] + (b * b * b - b) * m[i + 1]);
            out.push_back({last, p, 0, 0});
            last = p;
        }
    }
    return out;
}

Edge arc_between(Vec2 a, Vec2 b, double radius, bool bulges_right) {
    // bulge = tan(sweep / 4); sin(sweep / 2) = chord / 2r.
    const double s = std::min(1.0, distance(a, b) / (2 * radius));
    const double bulge = s / (1 + std::sqrt(1 - s * s));
    return {a, b, bulges_right ? bulge : -bulge, 0};
}

double departure_from(const std::vector<Edge>& drawn, const std::vector<Edge>& truth, Resolution resolution) {
    std::vector<Box> boxes;
    for (const Edge& e : truth) boxes.push_back(box_of(e));
    const auto away_from_box = [](const Box& b, Vec2 p) {
        return std::max(std::max(b.min.x - p.x, p.x - b.max.x), std::max(b.min.y - p.y, p.y - b.max.y));
    };
    std::size_t near = 0;  // the edge nearest to the last point: most others are then ruled out by their box
    double worst = 0;
    const auto measure = [&](Vec2 p) {
        double best = distance_to(truth[near], p);
        for (std::size_t i = 0; i < truth.size(); ++i) {
            if (away_from_box(boxes[i], p) >= best) continue;
            const double d = distance_to(truth[i], p);
            if (d < best) best = d, near = i;
        }
        worst = std::max(worst, best);
        return best;
    };
    if (truth.empty()) return drawn.empty() ? 0 : 1e300;
    for (const Edge& e : drawn) {
        // The distance changes no faster than the point moves: from a point that lies nearer than the worst found so
        // far the next one may be as much further on.
        const double length = length_of(e);
        for (double at = 0; at < length;) at += 2 * resolution.mm + worst - measure(point_at(e, at / length));
        measure(e.b);
    }
    return worst;
}

double departure_between(const std::vector<Edge>& a, const std::vector<Edge>& b, Resolution resolution) {
    return std::max(departure_from(a, b, resolution), departure_from(b, a, resolution));
}

namespace {

struct Touch {
    Vec2 at;
    std::size_t edge = 0;
    double distance = 1e300;
};
Touch touch_of(const std::vector<Edge>& chain, Vec2 p) {
    Touch best;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Vec2 q = nearest_of(chain[i], p);
        if (distance(p, q) < best.distance) best = {q, i, distance(p, q)};
    }
    return best;
}

Edge part_of(const Edge& e, Vec2 a, Vec2 b) {
    return e.straight() ? Edge{a, b, 0, e.tag} : arc_between(a, b, radius_of(e), e.bulge > 0);
}

/// Lays a disc against the end of one stroke and the start of the next, takes off what stands beyond it and returns its arc.
Edge disc_laid(std::vector<Edge>& before, std::vector<Edge>& after, double radius) {
    const Vec2 corner = after.front().a;
    const Vec2 u = -direction_at(before.back(), 1), v = direction_at(after.front(), 0);
    // In a corner of angle w between straight edges the centre stands r / sin(w / 2) from it; curved edges then move it.
    Vec2 centre = corner + (radius * std::sqrt(2 / (1 - dot(u, v)))) * unit(u + v);
    Touch a, b;
    for (int i = 0; i < 20; ++i) {
        a = touch_of(before, centre);
        b = touch_of(after, centre);
        const Vec2 m = (centre - a.at) / a.distance, n = (centre - b.at) / b.distance;
        const double short_a = radius - a.distance, short_b = radius - b.distance, det = cross(m, n);
        if (det == 0) break;
        centre = centre + Vec2{(short_a * n.y - short_b * m.y) / det, (short_b * m.x - short_a * n.x) / det};
    }
    before.resize(a.edge + 1);
    before.back() = part_of(before.back(), before.back().a, a.at);
    after.erase(after.begin(), after.begin() + static_cast<std::ptrdiff_t>(b.edge));
    after.front() = part_of(after.front(), b.at, after.front().b);
    return arc_between(a.at, b.at, radius, cross(-u, v) > 0);
}

}  // namespace

std::vector<Edge> drawn_from_numbers(const MarkingPlan& plan, const PlanLine& line) {
    const auto at = [&](std::size_t mark) { return plan.marks[mark].at(); };
    std::vector<std::vector<Edge>> chains;
    for (const PlanStroke& s : line.strokes) {
        switch (s.how) {
            case PlanStroke::How::straight:
                chains.push_back({{at(s.from), at(s.to), 0, 0}});
                break;
            case PlanStroke::How::swing:
            case PlanStroke::How::disc:
                chains.push_back({arc_between(at(s.from), at(s.to), s.radius.printed_mm, s.bulges_right)});
                break;
            case PlanStroke::How::batten: {
                std::vector<Vec2> points{at(s.from)};
                for (const std::size_t m : s.via) points.push_back(at(m));
                points.push_back(at(s.to));
                chains.push_back(batten_through(points));
            }
        }
    }
    std::vector<Edge> arcs(chains.size());
    std::vector<bool> has_arc(chains.size(), false);
    for (const PlanRound& r : line.rounds) {
        std::size_t leaves = 0;
        while (line.strokes[leaves].from != r.mark) ++leaves;
        const std::size_t arrives = leaves == 0 ? chains.size() - 1 : leaves - 1;
        arcs[leaves] = disc_laid(chains[arrives], chains[leaves], r.radius.printed_mm);
        has_arc[leaves] = true;
    }
    std::vector<Edge> whole;
    for (std::size_t i = 0; i < chains.size(); ++i) {
        if (has_arc[i]) whole.push_back(arcs[i]);
        whole.insert(whole.end(), chains[i].begin(), chains[i].end());
    }
    return whole;
}

}  // namespace spile::paper
