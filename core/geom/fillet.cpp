// Rounding corners.
#include <algorithm>
#include <optional>

#include "core/geom/edge_math.h"
#include "core/geom/meet.h"
#include "core/geom/offset.h"
#include "core/geom/tolerance.h"

namespace spile {

using namespace edge_math;

namespace {

/// An edge beside a corner, with what no radius changes worked out once: many are tried.
struct Beside {
    Edge edge;
    Vec2 start, end;    ///< unit tangents
    double radius = 0;  ///< of an arc

    explicit Beside(const Edge& e)
        : edge(e), start(start_tangent(e)), end(end_tangent(e)), radius(flat(e) ? 0 : radius_of(e)) {}

    /// Moved by d to its right; nothing when an arc is used up.
    std::optional<Edge> moved(double d) const {
        if (!flat(edge) && !(radius + sign_of(edge.bulge) * d > 0)) return std::nullopt;
        return Edge{edge.a - d * left_of(start), edge.b - d * left_of(end), edge.bulge, edge.tag};
    }
    /// True when the foot of p on the carrier lies on the edge itself, as foot_on_edge.
    bool holds_foot_of(Vec2 p) const {
        if (flat(edge)) return foot_on_edge(edge, p);
        return dot(p - edge.a, start) >= 0 && dot(p - edge.b, end) <= 0;
    }
    double curvature() const { return flat(edge) ? 0 : sign_of(edge.bulge) / radius; }
};

/// Two edges that meet. Requires: both have length.
struct EdgePair {
    Beside before, after;
    double turn;  ///< above 0 to the left

    EdgePair(const Edge& e, const Edge& f) : before(e), after(f), turn(cross(before.end, after.start)) {
        // A cusp turns towards the side on which the edge after lies.
        if (std::fabs(turn) <= 0x1p-40 && dot(before.end, after.start) < 0)
            turn = -(before.curvature() + after.curvature());
    }

    /// Shares of the two edges' lengths that fall away when an arc leads from one place to the other.
    double used_before(Vec2 from) const { return 1 - share_at(before.edge, from); }
    double used_after(Vec2 to) const { return share_at(after.edge, to); }
};

struct Rounding {
    Vec2 from;  ///< where the arc leaves the edge before the corner
    Vec2 to;
    Vec2 centre;
    bool left = true;  ///< the arc turns left
};

/// The arc of radius r between two edges that meet at a corner; nothing when it does not fit on them.
std::optional<Rounding> rounding(const EdgePair& corner, double r, double noise) {
    // The centre lies r to the inside of the turn from both.
    const double side = corner.turn > 0 ? -r : r;
    const std::optional<Edge> a = corner.before.moved(side);
    const std::optional<Edge> b = corner.after.moved(side);
    if (!a || !b) return std::nullopt;
    const CarrierMeetings centres = meet_carriers(*a, *b);
    std::optional<Rounding> best;
    for (std::size_t k = 0; k < centres.count && !centres.tangent; ++k) {
        const Vec2 c = centres.at[k];
        if (!finite(c) || c == corner.before.edge.b) continue;
        // The centre lies r from the carrier; its foot must lie on the edge itself.
        const auto foot = [&](const Beside& beside) -> std::optional<Vec2> {
            const Edge& e = beside.edge;
            if (!flat(e) && scaled_from_centre(e, c) == Vec2{}) return std::nullopt;
            const Vec2 f = c - right_of_carrier(e, c) * right_normal_at(e, c);
            const bool on = beside.holds_foot_of(c) || distance(f, e.a) <= noise || distance(f, e.b) <= noise;
            return on ? std::optional<Vec2>(f) : std::nullopt;
        };
        const std::optional<Vec2> from = foot(corner.before);
        const std::optional<Vec2> to = foot(corner.after);
        if (!from || !to) continue;
        const Rounding found{*from, *to, c, corner.turn > 0};
        const auto used = [&](const Rounding& arc) {
            return corner.used_before(arc.from) + corner.used_after(arc.to);
        };
        if (!best || used(found) < used(*best)) best = found;
    }
    return best;
}

/// Largest radius for which `fits` says yes, to the last bits; it fits for every smaller one.
template <class Fits>
double largest_radius(double asked, Fits fits) {
    double low = 0;
    double high = asked;
    while (fits(high) && high < 1e9) {
        low = high;
        high = 2 * high;
    }
    for (int k = 0; k < 200; ++k) {
        const double middle = low + (high - low) / 2;
        if (middle <= low || middle >= high) break;
        (fits(middle) ? low : high) = middle;
    }
    return low;
}

/// The arc as one or two vertices (more than half a circle takes two).
void add_arc(const Rounding& r, int tag, std::vector<Vertex>& to) {
    const Vec2 u = r.from - r.centre;
    const Vec2 v = r.to - r.centre;
    const double sense = r.left ? 1 : -1;
    const double across = sense * cross(u, v);
    const double along = dot(u, v);
    const double both = norm(u) * norm(v);
    if (across >= 0) {
        const double t = along >= 0 ? across / (both + along) : (both - along) / across;
        to.push_back({r.from, across == 0 && along < 0 ? sense : sense * tan_of_half(t), tag});
        return;
    }
    const double t = along >= 0 ? -across / (both + along) : (both - along) / -across;  // of half the rest
    // Half the sweep is pi - (rest / 2); its bulge: tan((pi - rest/2) / 4) per half arc.
    const double quarter_rest = tan_of_half(tan_of_half(t));
    const double bulge = sense * (1 - quarter_rest) / (1 + quarter_rest);
    const Vec2 middle = r.centre - norm(u) * unit(u + v);
    to.push_back({r.from, bulge, tag});
    to.push_back({middle, bulge, tag});
}

}  // namespace

FilletResult fillet(const Outline& outline, const std::vector<CornerRadius>& corners, int tag_of_arc) {
    const std::size_t n = outline.size();
    FilletResult result;
    for (const Vertex& v : outline.vertices)
        if (!finite(v.p) || !(std::fabs(v.bulge) <= 1 + noise_mm(1))) return {outline, {}, {}, {}};
    const double noise = noise_mm(largest(outline));

    struct Corner {
        double asked = 0;
        std::optional<Rounding> alone;
        double used_before = 0, used_after = 0;  ///< by that
        bool smooth = false;                     ///< nothing to round
    };
    std::vector<Corner> at(n);
    const auto before = [&](std::size_t i) { return outline.edge((i + n - 1) % n); };
    for (const CornerRadius& c : corners)
        if (c.vertex < n && c.radius_mm > 0 && std::isfinite(c.radius_mm)) at[c.vertex].asked = c.radius_mm;
    std::vector<std::size_t> asked;
    for (std::size_t i = 0; i < n; ++i) {
        Corner& c = at[i];
        if (c.asked == 0) continue;
        const Edge e = before(i);
        const Edge f = outline.edge(i);
        if (distance(e.a, e.b) <= noise || distance(f.a, f.b) <= noise) {
            asked.push_back(i);
            continue;
        }
        // Tangent within noise: the arc would be shorter than that.
        const EdgePair pair(e, f);
        const Vec2 u = pair.before.end, v = pair.after.start;
        c.smooth = dot(u, v) > 0 && std::fabs(cross(u, v)) * c.asked <= noise;
        if (c.smooth) continue;
        c.alone = rounding(pair, c.asked, noise);
        if (c.alone)
            c.used_before = pair.used_before(c.alone->from), c.used_after = pair.used_after(c.alone->to);
        asked.push_back(i);
    }

    // Two roundings of one edge need room side by side. Both are refused, whichever comes first.
    const auto share_left = [&](std::size_t i, std::size_t j) {
        return 1 - at[i].used_after - at[j].used_before;
    };
    std::vector<bool> refused(n, false);
    for (std::size_t i : asked) {
        const std::size_t j = (i + 1) % n;
        if (!at[i].alone) refused[i] = true;
        if (j == i || !at[i].alone || !at[j].alone) continue;
        if (share_left(i, j) * length_of(outline.edge(i)) < -4 * noise) refused[i] = refused[j] = true;
    }
    for (std::size_t i : asked) {
        if (!refused[i]) continue;
        const Edge e = before(i);
        const Edge f = outline.edge(i);
        result.too_short.push_back(i);
        if (distance(e.a, e.b) <= noise || distance(f.a, f.b) <= noise) {
            result.largest_radius_mm.push_back(0);
            result.largest_beside_mm.push_back(0);
            continue;
        }
        const EdgePair pair(e, f);
        const std::size_t prev = (i + n - 1) % n;
        const std::size_t next = (i + 1) % n;
        const double taken_before = prev != i ? at[prev].used_after : 0;
        const double taken_after = next != i ? at[next].used_before : 0;
        const auto beside = [&](double r) {
            const std::optional<Rounding> found = rounding(pair, r, noise);
            return found && pair.used_before(found->from) + taken_before <= 1 &&
                   pair.used_after(found->to) + taken_after <= 1;
        };
        const auto fits = [&](double r) { return rounding(pair, r, noise).has_value(); };
        const double largest = largest_radius(at[i].asked, fits);
        result.largest_radius_mm.push_back(largest);
        result.largest_beside_mm.push_back(beside(largest) ? largest : largest_radius(at[i].asked, beside));
    }

    // Where two roundings meet exactly nothing is left of the edge between them.
    const auto rounded = [&](std::size_t i) { return at[i].alone && !refused[i]; };
    std::vector<Vertex>& out = result.outline.vertices;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t j = (i + 1) % n;
        const Edge e = outline.edge(i);
        Vec2 from = e.a;
        Vec2 to = e.b;
        if (rounded(i)) {
            add_arc(*at[i].alone, tag_of_arc, out);
            from = at[i].alone->to;
        }
        if (rounded(j)) to = at[j].alone->from;
        if (from == e.a && to == e.b) {
            out.push_back(outline.vertices[i]);
        } else if (distance(from, to) > 4 * noise) {
            out.push_back({from, bulge_between(e, from, to), e.tag});
        }
    }
    return result;
}

}  // namespace spile
