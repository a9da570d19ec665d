#include "core/geom/edge_math.h"

namespace spile::edge_math {

double atan_over(double s) {
    // atan s = 4 atan(s''), where each halving is tan_of_half; |s''| <= 0.199 makes the series short.
    const double h = tan_of_half(tan_of_half(s));
    const double x = h * h;
    double sum = 0;
    for (int k = 14; k >= 0; --k) sum = 1.0 / (2 * k + 1) - x * sum;
    return s == 0 ? 1 : 4 * h * sum / s;
}

double segment_area_over_chord2(double bulge) {
    const double s = std::fabs(bulge);
    if (s > 0.25) {
        // The triangle on the chord and two segments of half the sweep, chord^2 (1 + s^2) / 4 each.
        const double half = segment_area_over_chord2(tan_of_half(s));
        return sign_of(bulge) * (s / 4 + (1 + s * s) / 2 * half);
    }
    // r^2 / 2 (phi - sin phi) with r = chord (1 + s^2) / 4s, phi = 4 atan s, written as a series in s:
    // chord^2 s sum over k >= 1 of (-1)^k s^(2k-2) / ((2k+1)(2k-1)(2k-3)).
    const double x = s * s;
    double sum = 0;
    for (int k = 14; k >= 1; --k) {
        const double odd = 2.0 * k;
        const double sign = k % 2 == 0 ? 1.0 : -1.0;
        sum = sign / ((odd + 1) * (odd - 1) * (odd - 3)) + x * sum;
    }
    return bulge * sum;
}

double bulge_between(const Edge& e, Vec2 p, Vec2 q) {
    if (flat(e)) return 0;
    const Vec2 u = scaled_from_centre(e, p);
    const Vec2 v = scaled_from_centre(e, q);
    // tan(phi / 2) two ways, so that neither a short nor a half-circle arc divides two roundings.
    const double across = std::fabs(std::fabs(e.bulge) * cross(u, q - p));
    const double along = dot(u, v);
    const double both = norm(u) * norm(v);
    if (across == 0) return along < 0 ? sign_of(e.bulge) : 0;
    const double t = along >= 0 ? across / (both + along) : (both - along) / across;
    return sign_of(e.bulge) * tan_of_half(t);
}

double share_at(const Edge& e, Vec2 p) {
    const Vec2 chord = e.b - e.a;
    const double l2 = norm2(chord);
    if (l2 == 0) return 0;
    double t;
    if (flat(e)) {
        t = dot(p - e.a, chord) / l2;
    } else {
        // From the nearer end: the part's chord gives the sine of half its sweep, at most 45 degrees, and so its bulge.
        const double from_a = norm2(p - e.a);
        const double from_b = norm2(p - e.b);
        const double s = std::fabs(e.bulge);
        const double sine = std::sqrt(std::fmin(from_a, from_b) / l2) * 2 * s / (1 + s * s);
        const double part = sine < 1 ? sine / (1 + std::sqrt(1 - sine * sine)) : 1;
        t = part * atan_over(part) / (s * atan_over(s));
        if (from_b < from_a) t = 1 - t;
    }
    return t > 0 ? (t < 1 ? t : 1) : 0;
}

bool extreme_along(const Edge& e, Vec2 n, Vec2& at) {
    if (flat(e)) return false;
    const Vec2 t0 = start_tangent(e);
    const double up0 = dot(t0, n);
    const double up1 = dot(end_tangent(e), n);
    if (!((up0 > 0 && up1 < 0) || (up0 < 0 && up1 > 0))) return false;
    // Half the turn from t0 to the tangent g square to n gives the part's bulge and so its chord, all without the centre.
    const double turn = sign_of(e.bulge);
    const Vec2 n1 = unit(n);
    const Vec2 g = up0 > 0 ? turn * left_of(n1) : -turn * left_of(n1);
    const double sine = turn * cross(t0, g);
    const double cosine = dot(t0, g);
    const double t = cosine >= 0 ? sine / (1 + cosine) : (1 - cosine) / sine;  // tan of half the turn
    const double s = std::fabs(e.bulge);
    const double radius = norm(e.b - e.a) * (1 + s * s) / (4 * s);
    const double along = 1 / std::sqrt(1 + t * t);  // cos and sin of half the turn
    const double chord = 2 * radius * t * along;
    const Vec2 direction{along * t0.x - turn * t * along * t0.y, turn * t * along * t0.x + along * t0.y};
    at = e.a + chord * direction;
    return true;
}

double largest(const Outline& outline) {
    double most = 0;
    for (const Vertex& v : outline.vertices) most = std::max(most, largest(v.p));
    return most;
}

}  // namespace spile::edge_math
