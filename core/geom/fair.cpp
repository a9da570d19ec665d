#include "core/geom/fair.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"

namespace spile {
namespace {

constexpr int kSolved = 16;        ///< arcs between two points while the directions are sought
constexpr int kMostArcs = 64;      ///< between two points
constexpr int kMostRounds = 60;    ///< of the search for the directions; some ten are usual
constexpr double kAgrees = 1e-10;  ///< curvature times length, from one side of a point to the other

/// The arc from a to b that leaves along the unit direction `start`.
Edge arc_leaving(Vec2 a, Vec2 start, Vec2 b) {
    const Vec2 chord = b - a;
    const double length = norm(chord);
    if (!(length > 0)) return {a, b, 0, 0};
    // The chord turns from the start direction by half the sweep, and bulge = tan(sweep / 4).
    const double sine = cross(start, chord) / length;
    const double cosine = dot(start, chord) / length;
    return {a, b, sine / (1 + cosine), 0};
}

/// Between two points, in units of its own length: it leaves at `leaves` and arrives at `arrives`, both against its chord,
/// counter-clockwise positive, and bends by its total turn less `change` at the start and plus `change` at the end.
struct Span {
    double leaves = 0, arrives = 0, change = 0;
    double along = 1;  ///< chord over length

    double turn() const { return arrives - leaves; }
    double bend_at_start() const { return turn() - change; }  ///< curvature times length
    double bend_at_end() const { return turn() + change; }
};

/// Where a span of `count` arcs comes to: along its chord and across it.
Vec2 comes_to(const Span& s, int count) {
    Vec2 to;
    double angle = s.leaves;
    for (int j = 0; j < count; ++j) {
        const double turn = (s.turn() + s.change * ((2.0 * j + 1) / count - 1)) / count;
        const double half = turn / 2;
        // Chord over length of an arc: sin x / x.
        const double share = std::fabs(half) < 1e-4 ? 1 - half * half / 6 : std::sin(half) / half;
        to = to + share / count * Vec2{std::cos(angle + half), std::sin(angle + half)};
        angle += turn;
    }
    return to;
}

/// Finds the change for which the span comes to the end of its chord. False when there is none near.
bool close(Span& s, int count) {
    // For small angles a cubic: curvature changes by 6 (leaves + arrives) from start to end.
    double b0 = 3 * (s.leaves + s.arrives), b1 = b0 * 1.01 + 1e-6;
    s.change = b0;
    double y0 = comes_to(s, count).y;
    for (int i = 0; i < 40; ++i) {
        s.change = b1;
        const Vec2 to = comes_to(s, count);
        if (std::fabs(to.y) < 1e-15 || b1 == b0 || to.y == y0) break;
        const double next = b1 - to.y * (b1 - b0) / (to.y - y0);
        b0 = b1;
        y0 = to.y;
        b1 = next;
        if (!std::isfinite(b1)) return false;
    }
    const Vec2 to = comes_to(s, count);
    s.along = to.x;
    return std::fabs(to.y) < 1e-12 && to.x > 0.1;
}

/// Solves a tridiagonal system in place. Requires: no pivot vanishes.
void solve(const std::vector<double>& below, std::vector<double> at, const std::vector<double>& above,
           std::vector<double>& x) {
    const std::size_t n = at.size();
    for (std::size_t i = 1; i < n; ++i) {
        const double f = below[i] / at[i - 1];
        at[i] -= f * above[i - 1];
        x[i] -= f * x[i - 1];
    }
    for (std::size_t i = n; i-- > 0;) x[i] = (x[i] - (i + 1 < n ? above[i] * x[i + 1] : 0)) / at[i];
}

class Fairing {
  public:
    explicit Fairing(const std::vector<Vec2>& points) : at_(points) {
        const std::size_t n = at_.size();
        double heading = 0;
        for (std::size_t i = 0; i + 1 < n; ++i) {
            const Vec2 d = at_[i + 1] - at_[i];
            if (i > 0) {
                const Vec2 before = at_[i] - at_[i - 1];
                const double turn = std::atan2(cross(before, d), dot(before, d));
                sharp_ = sharp_ || dot(before, d) < 0;
                heading += turn;
            }
            chord_.push_back(norm(d));
            heading_.push_back(heading);
        }
    }

    /// Directions at the points, counted from the first chord. False when none is found.
    bool find_directions() {
        const std::size_t n = at_.size();
        if (sharp_) return false;
        angle_.assign(n, 0);
        for (std::size_t i = 0; i < n; ++i)
            angle_[i] = i == 0       ? heading_[0]
                        : i + 1 == n ? heading_[n - 2]
                                     : (heading_[i - 1] + heading_[i]) / 2;
        for (int round = 0; round < kMostRounds; ++round) {
            spans_.clear();
            for (std::size_t i = 0; i + 1 < n; ++i) {
                Span s{angle_[i] - heading_[i], angle_[i + 1] - heading_[i], 0, 1};
                if (!close(s, kSolved)) return false;
                spans_.push_back(s);
            }
            if (step() <= kAgrees) return true;
        }
        return false;
    }

    const std::vector<Span>& spans() const { return spans_; }

    /// The arcs of one span.
    std::vector<Edge> arcs(std::size_t i, int count) const {
        Span s = spans_[i];
        if (count == 1) {
            std::vector<Edge> one;
            add_arc(at_[i], at_[i + 1], std::tan(s.turn() / 4), one);
            return one;
        }
        if (!close(s, count)) return {};
        const Vec2 d = unit(at_[i + 1] - at_[i]);
        const double length = chord_[i] / s.along;
        std::vector<Edge> out;
        Vec2 from = at_[i];
        double angle = s.leaves;
        for (int j = 0; j < count; ++j) {
            const double turn = (s.turn() + s.change * ((2.0 * j + 1) / count - 1)) / count, half = turn / 2;
            const double share = std::fabs(half) < 1e-4 ? 1 - half * half / 6 : std::sin(half) / half;
            const double x = std::cos(angle + half), y = std::sin(angle + half);
            const Vec2 to =
                j + 1 == count ? at_[i + 1] : from + length * share / count * (x * d + y * left_of(d));
            add_arc(from, to, std::tan(turn / 4), out);
            from = to;
            angle += turn;
        }
        return out;
    }

  private:
    /// One step of Newton's method with the slopes of the cubic; the largest disagreement before it.
    double step() {
        const std::size_t n = at_.size(), last = spans_.size() - 1;
        const auto length = [&](std::size_t i) { return chord_[i] / spans_[i].along; };
        std::vector<double> below(n, 0), at(n, 0), above(n, 0), off(n, 0);
        double worst = 0;
        for (std::size_t k = 0; k < n; ++k) {
            if (k == 0 || k + 1 == n) {  // the curvature of an end stretch does not change
                const std::size_t i = k == 0 ? 0 : last;
                off[k] = spans_[i].change;
                worst = std::max(worst, std::fabs(off[k]));
                (k == 0 ? at : below)[k] = 3;
                (k == 0 ? above : at)[k] = 3;
                continue;
            }
            const double before = length(k - 1), after = length(k);
            off[k] = spans_[k - 1].bend_at_end() / before - spans_[k].bend_at_start() / after;
            worst = std::max(worst, std::fabs(off[k]) * std::min(before, after));
            below[k] = 2 / before;
            at[k] = 4 / before + 4 / after;
            above[k] = 2 / after;
        }
        if (n == 2) return 0;
        // The first row takes less than half of its neighbour's pivot, and so does the last but one of the last.
        std::vector<double> x = off;
        solve(below, at, above, x);
        for (std::size_t k = 0; k < n; ++k) angle_[k] -= x[k];
        return worst;
    }

    const std::vector<Vec2>& at_;
    std::vector<double> chord_, heading_, angle_;
    std::vector<Span> spans_;
    bool sharp_ = false;
};

double farthest(const std::vector<Edge>& from, const std::vector<Edge>& to) {
    double most = 0;
    for (const Edge& e : from)
        for (const Vec2 p : {midpoint_of(e), e.b}) {
            double least = HUGE_VAL;
            for (const Edge& other : to) least = std::min(least, nearest_on(other, p).distance);
            most = std::max(most, least);
        }
    return most;
}

/// Direction at p of the circle through a, p and b; of the line a-b when they are in line.
Vec2 circle_direction(Vec2 a, Vec2 p, Vec2 b) {
    const Vec2 before = p - a, after = b - p;
    // Each side's direction weighed by the other side's length.
    const Vec2 blend = norm(after) * unit(before) + norm(before) * unit(after);
    return norm(blend) > 0 ? unit(blend) : left_of(unit(before));
}

/// Smooth in direction through all points, two arcs from each to the next.
std::vector<Edge> biarcs_through(const std::vector<Vec2>& way) {
    const std::size_t n = way.size();
    std::vector<Vec2> along(n);
    for (std::size_t i = 1; i + 1 < n; ++i) along[i] = circle_direction(way[i - 1], way[i], way[i + 1]);
    // At the ends, the circle through the last three points.
    const auto reflected = [](Vec2 direction, Vec2 chord) {
        const Vec2 u = unit(chord);
        return 2 * dot(direction, u) * u - direction;
    };
    along[0] = reflected(along[1], way[1] - way[0]);
    along[n - 1] = reflected(along[n - 2], way[n - 1] - way[n - 2]);
    std::vector<Edge> line;
    for (std::size_t i = 0; i + 1 < n; ++i)
        for (const Edge& e : biarc(way[i], along[i], way[i + 1], along[i + 1])) line.push_back(e);
    return line;
}

}  // namespace

void add_arc(Vec2 a, Vec2 b, double bulge, std::vector<Edge>& out) {
    if (std::fabs(bulge) <= 1) {
        out.push_back({a, b, bulge, 0});
        return;
    }
    const Vec2 top = 0.5 * (a + b) - 0.5 * bulge * left_of(b - a);
    const double half = bulge / (1 + std::sqrt(1 + bulge * bulge));
    out.push_back({a, top, half, 0});
    out.push_back({top, b, half, 0});
}

std::vector<Edge> biarc(Vec2 a, Vec2 start, Vec2 b, Vec2 end) {
    const Vec2 v = b - a;
    const Vec2 both = start + end;
    // |v|^2 - 2 d v.(t0 + t1) - 2 d^2 (1 - t0.t1) = 0 for the common tangent length d.
    const double p = 2 * (1 - dot(start, end));
    const double q = 2 * dot(v, both);
    const double square = norm2(v);
    const double root = std::sqrt(q * q + 4 * p * square);
    const double d = q + root > 0 ? 2 * square / (q + root) : 0;
    if (!(d > 0)) return {{a, b, 0, 0}};
    const Vec2 joint = 0.5 * ((a + d * start) + (b - d * end));
    std::vector<Edge> out;
    const Edge first = arc_leaving(a, start, joint);
    const Edge back = arc_leaving(b, -end, joint);
    add_arc(first.a, first.b, first.bulge, out);
    add_arc(joint, b, -back.bulge, out);
    return out;
}

FairLine fair_line(const std::vector<Vec2>& points, Resolution resolution) {
    FairLine line;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
        if (!(distance(points[i], points[i + 1]) > 0)) return line;
    if (points.size() < 2) return line;
    if (points.size() == 2) {
        line.fair = true;
        line.edges = {{points[0], points[1], 0, 0}};
        return line;
    }
    Fairing fairing(points);
    line.fair = fairing.find_directions();
    for (std::size_t i = 0; line.fair && i < fairing.spans().size(); ++i) {
        std::vector<Edge> arcs;
        double within = HUGE_VAL;
        for (int count = 1; count <= kMostArcs; count = count < 4 ? count + 1 : count * 3 / 2) {
            // One arc alone cannot leave and arrive as it should, unless it is the curve.
            if (count == 1 && std::fabs(fairing.spans()[i].change) > kAgrees * 10) continue;
            arcs = fairing.arcs(i, count);
            within = arcs.empty() ? HUGE_VAL : farthest(fairing.arcs(i, 4 * count), arcs);
            if (within <= resolution.mm) break;
        }
        line.fair = std::isfinite(within);
        line.within_mm = std::max(line.within_mm, within);
        line.edges.insert(line.edges.end(), arcs.begin(), arcs.end());
    }
    if (line.fair) return line;
    line.edges = biarcs_through(points);
    line.within_mm = 0;
    return line;
}

}  // namespace spile
