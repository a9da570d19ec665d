#include "core/geom/meet.h"

#include <algorithm>
#include <utility>

#include "core/geom/edge_math.h"
#include "core/geom/far.h"
#include "core/geom/measure_of.h"

namespace spile {

using namespace edge_math;

namespace {

struct Roots {
    double t[2] = {0, 0};
    std::size_t count = 0;
    bool tangent = false;
};

/// Roots of a t^2 + b t + c without cancellation, also as a goes to 0. When there is none, the place nearest to one.
Roots roots_of(double a, double b, double c) {
    Roots out;
    const double discriminant = b * b - 4 * a * c;
    if (discriminant > 0) {
        const double q = -(b + sign_of(b) * std::sqrt(discriminant)) / 2;
        if (q != 0) out.t[out.count++] = c / q;
        if (a != 0) out.t[out.count++] = q / a;
        if (out.count == 2 && out.t[1] < out.t[0]) std::swap(out.t[0], out.t[1]);
    } else if (a != 0) {
        out.t[out.count++] = -b / (2 * a);
        out.tangent = true;
    }
    return out;
}

/// Where the straight carrier through p along d meets the circle of `arc`.
CarrierMeetings line_circle(Vec2 p, Vec2 d, const Edge& arc) {
    // Begun beside the arc: seen from the far end of a long line a short chord would drown in rounding.
    p = p + dot(lerp(arc.a, arc.b, 0.5) - p, d) / norm2(d) * d;
    const double s = arc.bulge;
    const double two = 2 * std::fabs(s);
    const double a = two * norm2(d);
    const double b =
        two * (dot(d, p - arc.a) + dot(d, p - arc.b)) - sign_of(s) * (1 - s * s) * cross(arc.b - arc.a, d);
    const Roots roots = roots_of(a, b, scaled_power(arc, p));
    CarrierMeetings out;
    out.tangent = roots.tangent;
    for (std::size_t k = 0; k < roots.count; ++k) out.at[out.count++] = p + roots.t[k] * d;
    return out;
}

CarrierMeetings line_line(const Edge& a, const Edge& b) {
    const Vec2 da = a.b - a.a;
    const Vec2 db = b.b - b.a;
    const double turn = cross(da, db);
    CarrierMeetings out;
    if (turn == 0) return out;
    const Vec2 middle = lerp(a.a, a.b, 0.5);
    out.at[out.count++] = middle + cross(b.a - middle, db) / turn * da;
    return out;
}

/// The scaled powers of both circles, each made to start with the same square term, differ by a linear function: it
/// vanishes on the line through both meeting points.
CarrierMeetings circle_circle(const Edge& a, const Edge& b) {
    const double sa = std::fabs(a.bulge);
    const double sb = std::fabs(b.bulge);
    const Vec2 o = lerp(a.a, a.b, 0.5);
    const auto slope = [&](const Edge& e, double s) {
        return 2 * s * (o - e.a + (o - e.b)) - sign_of(e.bulge) * (1 - s * s) * left_of(e.b - e.a);
    };
    const Vec2 g = sb * slope(a, sa) - sa * slope(b, sb);
    const double k = sb * scaled_power(a, o) - sa * scaled_power(b, o);
    const double g2 = norm2(g);
    if (!(g2 > 0)) return {};
    const Vec2 foot = o - (k / g2) * g;
    // The tighter circle bends away faster and so fixes the place better.
    const bool use_a = sa * norm(b.b - b.a) >= sb * norm(a.b - a.a);
    return line_circle(foot, left_of(g) / std::sqrt(g2), use_a ? a : b);
}

/// Newton steps onto both carriers as long as they help: takes out what the closed form lost.
Vec2 polished(const Edge& a, const Edge& b, Vec2 p) {
    double off_a = right_of_carrier(a, p);
    double off_b = right_of_carrier(b, p);
    for (int step = 0; step < 3; ++step) {
        const double now = std::max(std::fabs(off_a), std::fabs(off_b));
        if (now == 0) break;
        const Vec2 na = right_normal_at(a, p);
        const Vec2 nb = right_normal_at(b, p);
        const double turn = cross(na, nb);
        if (turn == 0) break;
        const Vec2 q = p + Vec2{off_b * na.y - off_a * nb.y, off_a * nb.x - off_b * na.x} / turn;
        const double qa = right_of_carrier(a, q);
        const double qb = right_of_carrier(b, q);
        if (!(std::max(std::fabs(qa), std::fabs(qb)) < now)) break;
        p = q;
        off_a = qa;
        off_b = qb;
    }
    return p;
}

bool near_enough(Vec2 a, Vec2 b, double distance) {
    return norm2(b - a) <= distance * distance;
}

void add(Meetings& to, const Meeting& m) {
    to.all[to.count++] = m;
}

/// An end of one edge that lies on the other.
void add_contact(Meetings& to, const Edge& a, const Edge& b, Vec2 p, double noise) {
    for (const Meeting& m : to)
        if (near_enough(m.at, p, 2 * noise)) return;
    const auto share = [&](const Edge& e) {
        if (near_enough(e.a, p, noise)) return 0.0;
        if (near_enough(e.b, p, noise)) return 1.0;
        return share_at(e, p);
    };
    add(to, {p, share(a), share(b), true});
}

/// Between two meetings the edges stay within noise of one another: they are one meeting.
bool same_meeting(const Edge& a, const Edge& b, const Meeting& m, const Meeting& n, double noise) {
    if (near_enough(m.at, n.at, 2 * noise)) return true;
    Vec2 middle = lerp(m.at, n.at, 0.5);
    if (!flat(a))
        middle = midpoint_of({m.at, n.at, (m.t_a < n.t_a ? 1 : -1) * bulge_between(a, m.at, n.at), 0});
    return nearest_on(b, middle).distance <= noise;
}

}  // namespace

CarrierMeetings meet_carriers(const Edge& a, const Edge& b) {
    CarrierMeetings out;
    if (flat(a) && flat(b)) return line_line(a, b);
    if (flat(a)) {
        out = line_circle(lerp(a.a, a.b, 0.5), a.b - a.a, b);
    } else if (flat(b)) {
        out = line_circle(lerp(b.a, b.b, 0.5), b.b - b.a, a);
    } else {
        out = circle_circle(a, b);
    }
    if (!out.tangent)
        for (std::size_t k = 0; k < out.count; ++k) out.at[k] = polished(a, b, out.at[k]);
    return out;
}

Meetings meet(const Edge& a, const Edge& b, double noise) {
    Meetings out;
    const Box box_a = rough_box(a), box_b = rough_box(b);
    // A meeting lies within twice the noise of either.
    if (apart(box_a, box_b, 8 * noise)) return out;
    for (const Vec2 p : {a.a, a.b})
        if (touches(b, box_b, p, noise)) add_contact(out, a, b, p, noise);
    for (const Vec2 p : {b.a, b.b})
        if (touches(a, box_a, p, noise)) add_contact(out, a, b, p, noise);

    const CarrierMeetings carriers = meet_carriers(a, b);
    const std::size_t contacts = out.count;
    for (std::size_t k = 0; k < carriers.count; ++k) {
        const Vec2 p = carriers.at[k];
        const auto here = [&](const Meeting& m) { return near_enough(m.at, p, 2 * noise); };
        if (std::any_of(out.begin(), out.begin() + contacts, here)) continue;  // says nothing new
        if (!finite(p) || !touches(a, box_a, p, noise) || !touches(b, box_b, p, noise)) continue;
        Meeting m{p, share_at(a, p), share_at(b, p), carriers.tangent};
        bool known = false;
        for (std::size_t j = 0; j < out.count && !known; ++j) {
            known = same_meeting(a, b, out.all[j], m, noise);
            if (known && j >= contacts) out.all[j].touching = true;  // two crossings within noise: a touch
        }
        if (!known) add(out, m);
    }
    const auto later = [](const Meeting& m, const Meeting& n) {
        return m.t_a != n.t_a ? m.t_a > n.t_a : m.t_b > n.t_b;
    };
    for (std::size_t k = 1; k < out.count; ++k)
        for (std::size_t j = k; j > 0 && later(out.all[j - 1], out.all[j]); --j)
            std::swap(out.all[j - 1], out.all[j]);
    return out;
}

std::vector<Meeting> meet(const Edge& a, const Edge& b) {
    if (a.a == a.b || b.a == b.b) return {};
    if (!finite(a.a) || !finite(a.b) || !finite(b.a) || !finite(b.b)) return {};
    const double most = std::max(std::max(largest(a.a), largest(a.b)), std::max(largest(b.a), largest(b.b)));
    const Meetings found = meet(a, b, noise_mm(most));
    return {found.begin(), found.end()};
}

}  // namespace spile
