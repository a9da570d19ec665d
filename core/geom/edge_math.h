// Inside geom: the arithmetic of one edge. Everything here uses only + - * / sqrt and stays accurate for arcs from
// half a circle down to a rise of less than an ulp, because it works from the chord and never from a far centre.
#pragma once

#include <algorithm>
#include <cmath>

#include "core/geom/outline.h"

namespace spile::edge_math {

/// Below this bulge the rise of an arc is less than an ulp of its chord: it is calculated as a line.
inline bool flat(double bulge) {
    return std::fabs(bulge) < 0x1p-60;
}
inline bool flat(const Edge& e) {
    return flat(e.bulge);
}

inline double sign_of(double x) {
    return x < 0 ? -1.0 : 1.0;
}

/// `d` turned left by half the sweep of an arc of this bulge: cos = (1 - s^2) / (1 + s^2), sin = 2 s / (1 + s^2).
inline Vec2 turned_half_sweep(Vec2 d, double bulge) {
    const double q = 1 + bulge * bulge;
    const double c = (1 - bulge * bulge) / q;
    const double s = 2 * bulge / q;
    return {c * d.x - s * d.y, s * d.x + c * d.y};
}

/// Unit tangents at the ends. Require: the edge has length.
inline Vec2 start_tangent(const Edge& e) {
    return turned_half_sweep(unit(e.b - e.a), -e.bulge);
}
inline Vec2 end_tangent(const Edge& e) {
    return turned_half_sweep(unit(e.b - e.a), e.bulge);
}

/// tan(x / 2) from t = tan x.
inline double tan_of_half(double t) {
    return t / (1 + std::sqrt(1 + t * t));
}

/// atan(s) / s for |s| <= 1 (1 at 0), by halving twice and a series: the same bits on every machine.
double atan_over(double s);

/// Area between an arc and its chord, per chord squared; positive for positive bulge.
double segment_area_over_chord2(double bulge);

/// Scaled power of p: F(p) = 2|s| (|p - c|^2 - r^2), positive outside the circle; finite for any bulge.
inline double scaled_power(const Edge& e, Vec2 p) {
    const double s = e.bulge;
    return 2 * std::fabs(s) * dot(p - e.a, p - e.b) - sign_of(s) * (1 - s * s) * cross(e.b - e.a, p - e.a);
}

/// |s| (p - c): direction from the centre without the centre.
inline Vec2 scaled_from_centre(const Edge& e, Vec2 p) {
    const double s = e.bulge;
    return std::fabs(s) * (p - lerp(e.a, e.b, 0.5)) - sign_of(s) * ((1 - s * s) / 4) * left_of(e.b - e.a);
}

/// Signed distance of p from the carrier: for a line positive on the right; for an arc positive on the right as well,
/// that is outside a left-turning arc's circle and inside a right-turning one's. Requires: the edge has length.
inline double right_of_carrier(const Edge& e, Vec2 p) {
    const Vec2 chord = e.b - e.a;
    if (flat(e)) return cross(p - e.a, chord) / norm(chord);
    const double scaled_radius = norm(chord) * (1 + e.bulge * e.bulge) / 4;
    const double denominator = 2 * (norm(scaled_from_centre(e, p)) + scaled_radius);
    return sign_of(e.bulge) * scaled_power(e, p) / denominator;
}

/// Unit vector to the right of the carrier at the foot of p. Requires: p is not the centre.
inline Vec2 right_normal_at(const Edge& e, Vec2 p) {
    if (flat(e)) return -left_of(unit(e.b - e.a));
    return sign_of(e.bulge) * unit(scaled_from_centre(e, p));
}

/// True when the foot of p on the carrier lies on the edge itself (ends included).
inline bool foot_on_edge(const Edge& e, Vec2 p) {
    if (flat(e)) {
        const Vec2 chord = e.b - e.a;
        return dot(p - e.a, chord) >= 0 && dot(p - e.b, chord) <= 0;
    }
    return dot(p - e.a, start_tangent(e)) >= 0 && dot(p - e.b, end_tangent(e)) <= 0;
}

/// Bulge of the arc from p to q on the circle of `e`, turning as `e` does, at most half a circle.
double bulge_between(const Edge& e, Vec2 p, Vec2 q);

/// Share of the edge's length from a to p, for p on the edge within noise; kept in [0, 1]. Error: noise over length.
double share_at(const Edge& e, Vec2 p);

/// The point of the edge where its tangent is square to `n`, if its inside has one.
bool extreme_along(const Edge& e, Vec2 n, Vec2& at);

inline bool finite(Vec2 p) {
    return std::isfinite(p.x) && std::isfinite(p.y);
}

/// Largest size of a coordinate.
inline double largest(Vec2 p) {
    return std::max(std::fabs(p.x), std::fabs(p.y));
}
double largest(const Outline& outline);

}  // namespace spile::edge_math
