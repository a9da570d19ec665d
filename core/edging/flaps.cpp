#include "core/edging/flaps.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "core/edging/trace.h"

namespace spile {
namespace {

Vec2 right_of(Vec2 direction) {
    return -left_of(direction);
}

/// From the corner to a place on the edge beside it, about as far along as a flap reaches; for arcs only.
std::optional<Vec2> along_arc(const Edge& e, bool from_start, double reach_mm) {
    if (e.straight()) return std::nullopt;
    const double share = std::min(1.0, reach_mm / length_of(e));
    const Vec2 corner = from_start ? e.a : e.b;
    return unit(point_at(e, from_start ? share : 1 - share) - corner);
}

/// Cotangent of the angle at which a flap must end so that, folded, it stays on this side of the edge beside it.
double end_cot(Vec2 along_fold, Vec2 along_beside) {
    const double c = dot(along_fold, along_beside);
    return c <= 0 ? 0 : c / std::fabs(cross(along_fold, along_beside));
}

/// The same for a fold that is an arc: where the edge beside it lies as deep inside the arc as the flap is wide outside, the
/// end must lie on the same ray of the arc. `cot` where the two never come so deep.
double arc_cot(const Edge& fold, Vec2 corner, Vec2 along, Vec2 out, Vec2 beside, double turn_mm, double cot) {
    if (fold.straight() || cot <= 0) return cot;
    const Vec2 centre = centre_of(fold);
    const double radius = radius_of(fold), sign = fold.bulge > 0 ? 1 : -1;
    const double inner = radius - sign * turn_mm, outer = radius + sign * turn_mm;
    if (inner <= 0 || outer <= 0) return cot;
    const Vec2 from = corner - centre;
    const double b = dot(from, beside), root = b * b - norm2(from) + inner * inner;
    if (root <= 0) return cot;
    const double t = sign > 0 ? -b - std::sqrt(root) : -b + std::sqrt(root);
    if (t <= 0) return cot;
    const Vec2 rim = outer * unit(from + t * beside) - from;
    return std::max(cot, dot(rim, along) / dot(rim, out));
}

FlapCorner corner_at(const Outline& net, std::size_t k, double turn_mm, double facet_mm) {
    FlapCorner c;
    c.after = k;
    c.before = (k + net.size() - 1) % net.size();
    c.at = net.vertices[k].p;
    const Vec2 arriving = direction_at(net.edge(c.before), 1);
    c.back = -arriving;
    c.ahead = direction_at(net.edge(k), 0);
    c.out_before = right_of(arriving);
    c.out_after = right_of(c.ahead);
    c.cos_corner = dot(c.back, c.ahead);
    c.inside = cross(arriving, c.ahead) < 0;
    // Between two flaps that end square, 2 h tan(turn / 2) of goods is too much or missing at the cut.
    const double cos_turn = -c.cos_corner, sin_turn = std::fabs(cross(arriving, c.ahead));
    c.runs_on = cos_turn > 0 && 2 * turn_mm * sin_turn <= facet_mm * (1 + cos_turn);
    return c;
}

/// Stretches of turned edges from one corner to the next, in order round the outline.
struct Side {
    std::size_t first = 0, count = 0;
    double length = 0;
};

struct Sides {
    std::vector<Side> sides;
    bool closed = false;  ///< the last meets the first in a corner of two turned edges
};

std::vector<Sides> sides_of(const Outline& net, const FlapPlan& plan) {
    const std::size_t n = net.size();
    const auto turned = [&](std::size_t k) { return plan.flaps[k].turn_mm > 0; };
    const auto begins = [&](std::size_t k) {
        return turned(k) && (!turned((k + n - 1) % n) || !plan.corners[k].runs_on);
    };
    std::size_t first = n;
    bool all = true;
    for (std::size_t k = 0; k < n; ++k) {
        all = all && turned(k);
        if (turned(k) && !turned((k + n - 1) % n)) first = std::min(first, k);
    }
    for (std::size_t k = 0; first == n && k < n; ++k)
        if (begins(k)) first = k;
    if (first == n) return {};  // nothing turned, or turned all round without a corner
    std::vector<Sides> runs;
    for (std::size_t i = 0; i < n; ++i) {
        const std::size_t k = (first + i) % n;
        if (!turned(k)) continue;
        if (i == 0 || !turned((k + n - 1) % n)) runs.push_back({{}, all});
        if (i == 0 || begins(k)) runs.back().sides.push_back({k, 0, 0});
        Side& side = runs.back().sides.back();
        ++side.count;
        side.length += length_of(net.edge(k));
    }
    return runs;
}

void set_rounds(const Outline& net, FlapPlan& plan) {
    for (Flap& flap : plan.flaps) flap.round = flap.turn_mm > 0 ? 1 : 0;
    for (const Sides& run : sides_of(net, plan)) {
        const std::size_t n = run.sides.size();
        std::size_t longest = 0;
        for (std::size_t i = 1; i < n; ++i)
            if (run.sides[i].length > run.sides[longest].length) longest = i;
        for (std::size_t i = 0; i < n; ++i) {
            // In an open run counted from its longest side both ways, in a closed one round from it.
            const std::size_t from = run.closed    ? (i + n - longest) % n
                                     : i > longest ? i - longest
                                                   : longest - i;
            int round = from % 2 == 0 ? 1 : 2;
            if (run.closed && n % 2 == 1 && n > 1 && from == n - 1) round = 3;
            for (std::size_t j = 0; j < run.sides[i].count; ++j)
                plan.flaps[(run.sides[i].first + j) % net.size()].round = round;
        }
    }
}

void set_ends(const Outline& net, const FlapCorner& c, const FinishSettings& s, FlapPlan& plan) {
    FlapEnd& end = plan.flaps[c.before].end;
    FlapEnd& start = plan.flaps[c.after].start;
    if (c.runs_on) return;
    const bool both = plan.both_turned(c);
    if (both && c.inside) {
        end.cot = start.cot = c.cos_half() / c.sin_half();
        return;
    }
    const double reach = 2 * s.turn_mm;
    const Vec2 back = along_first_tab(net.edge(c.before), false, s);
    const Vec2 ahead = along_first_tab(net.edge(c.after), true, s);
    end.cot = end_cot(back, c.ahead);
    if (const auto chord = along_arc(net.edge(c.after), true, reach))
        end.cot = std::max(end.cot, end_cot(back, *chord));
    start.cot = end_cot(ahead, c.back);
    if (const auto chord = along_arc(net.edge(c.before), false, reach))
        start.cot = std::max(start.cot, end_cot(ahead, *chord));
    end.cot = arc_cot(net.edge(c.before), c.at, c.back, c.out_before, c.ahead, plan.flaps[c.before].turn_mm,
                      end.cot);
    start.cot = arc_cot(net.edge(c.after), c.at, c.ahead, c.out_after, c.back, plan.flaps[c.after].turn_mm,
                        start.cot);
    if (!both) return;
    const bool after_over = plan.flaps[c.after].round >= plan.flaps[c.before].round;
    FlapEnd &over = after_over ? start : end, &under = after_over ? end : start;
    // Round the edge of the backing a flap comes back to its fold only at depth T.
    const auto past_backing = [&s](FlapEnd& e) { e.trim_mm -= s.backing_thickness_mm * e.cot; };
    // Wider than square, the end leads away from the edge beside it.
    const bool beside = -c.cos_corner * s.turn_mm < s.end_trim_mm;
    // Between arcs the middle of a sharp corner is no straight line: such corners are lapped.
    const bool arcs = !net.edge(c.before).straight() || !net.edge(c.after).straight();
    if (!s.mitred_corners || (arcs && beside)) {
        if (beside) over.trim_mm = s.end_trim_mm;
        past_backing(over);
        past_backing(under);
        return;
    }
    const double half = c.cos_half() / c.sin_half();
    const double turn = plan.flaps[after_over ? c.after : c.before].turn_mm;
    under.cot = std::max(under.cot, half);
    over.cot = std::max(over.cot, half - s.mitre_lap_mm / turn);
    past_backing(over);
    past_backing(under);
}

}  // namespace

double FlapCorner::cos_half() const {
    return std::sqrt(std::max(0.0, (1 + cos_corner) / 2));
}
double FlapCorner::sin_half() const {
    return std::sqrt(std::max(0.0, (1 - cos_corner) / 2));
}
Vec2 FlapCorner::outward() const {
    // Both sums point the same way; the longer one is far from nothing.
    if (cos_corner < 0) return unit(out_before + out_after);
    return inside ? unit(back + ahead) : -unit(back + ahead);
}

Vec2 along_first_tab(const Edge& fold, bool from_start, const FinishSettings& settings) {
    const Vec2 along = from_start ? direction_at(fold, 0) : -direction_at(fold, 1);
    if (fold.bulge <= 0) return along;
    const Vec2 chord =
        *along_arc(fold, from_start, relief_pitch_mm(radius_of(fold), settings.facet_mm) / 2);
    return 2 * dot(along, chord) * chord - along;
}

double relief_pitch_mm(double radius_mm, double facet_mm) {
    return std::sqrt(8 * radius_mm * facet_mm);
}

double least_flap_mm(const FinishSettings& settings) {
    return 2 * settings.stitch_from_edge_mm;
}

std::vector<double> turns_along(const Outline& net, const std::vector<Finish>& finishes,
                                const FinishSettings& settings) {
    const double turn = settings.turn_mm, least = std::min(least_flap_mm(settings), turn);
    std::vector<double> turns;
    for (std::size_t k = 0; k < net.size(); ++k) {
        const Edge e = net.edge(k);
        double wide = finishes[k] == Finish::turned ? turn : 0;
        if (wide > 0 && e.bulge > 0) {
            const double radius = radius_of(e);
            if (radius <= turn) wide = std::max(radius / 2, std::min(least, radius));
        }
        turns.push_back(wide);
    }
    return turns;
}

FlapPlan plan_flaps(const Outline& net, const std::vector<EdgePlan>& edges, const FinishSettings& settings) {
    FlapPlan plan;
    plan.finishes = finishes_along(net, edges);
    for (const double mm : left_long_along(net, edges)) plan.aboard.push_back(mm > 0);
    const std::vector<double> turns = turns_along(net, plan.finishes, settings);
    for (std::size_t k = 0; k < net.size(); ++k) {
        plan.flaps.push_back({turns[k], 0, {}, {}});
        plan.corners.push_back(corner_at(net, k, settings.turn_mm, settings.facet_mm));
    }
    set_rounds(net, plan);
    for (const FlapCorner& corner : plan.corners) set_ends(net, corner, settings, plan);
    return plan;
}

}  // namespace spile
