// Plane vectors. Millimetres unless a name says otherwise; the space is in the name of what holds them.
#pragma once

#include <cmath>

namespace spile {

struct Vec2 {
    double x = 0;
    double y = 0;

    bool operator==(const Vec2&) const = default;
    friend Vec2 operator+(Vec2 a, Vec2 b) { return {a.x + b.x, a.y + b.y}; }
    friend Vec2 operator-(Vec2 a, Vec2 b) { return {a.x - b.x, a.y - b.y}; }
    friend Vec2 operator-(Vec2 a) { return {-a.x, -a.y}; }
    friend Vec2 operator*(double s, Vec2 a) { return {s * a.x, s * a.y}; }
    friend Vec2 operator*(Vec2 a, double s) { return {s * a.x, s * a.y}; }
    friend Vec2 operator/(Vec2 a, double s) { return {a.x / s, a.y / s}; }
};

inline double dot(Vec2 a, Vec2 b) {
    return a.x * b.x + a.y * b.y;
}
inline double cross(Vec2 a, Vec2 b) {
    return a.x * b.y - a.y * b.x;
}
inline double norm2(Vec2 a) {
    return dot(a, a);
}
inline double norm(Vec2 a) {
    return std::sqrt(norm2(a));
}
inline double distance(Vec2 a, Vec2 b) {
    return norm(b - a);
}
inline Vec2 left_of(Vec2 direction) {
    return {-direction.y, direction.x};
}  ///< turned a quarter left
inline Vec2 lerp(Vec2 a, Vec2 b, double t) {
    return a + t * (b - a);
}

/// Unit vector. Requires: a is not the zero vector.
inline Vec2 unit(Vec2 a) {
    return a / norm(a);
}

struct Box {
    Vec2 min{1e300, 1e300};
    Vec2 max{-1e300, -1e300};

    bool empty() const { return min.x > max.x || min.y > max.y; }
    double width() const { return max.x - min.x; }
    double height() const { return max.y - min.y; }
    void add(Vec2 p) {
        min = {p.x < min.x ? p.x : min.x, p.y < min.y ? p.y : min.y};
        max = {p.x > max.x ? p.x : max.x, p.y > max.y ? p.y : max.y};
    }
    void add(const Box& b) {
        if (!b.empty()) {
            add(b.min);
            add(b.max);
        }
    }
};

/// Symmetric 2x2 covariance, mm2.
struct Cov2 {
    double xx = 0;
    double xy = 0;
    double yy = 0;
};

}  // namespace spile
