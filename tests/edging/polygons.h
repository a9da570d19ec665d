// Polygons for the folding oracle: its own flattening of lines and arcs, and Clipper's set operations. Nothing of core/geom.
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <polyclipping/clipper.hpp>
#include <string>
#include <vector>

#include "core/geom/outline.h"

namespace spile::testing_folds {

using ClipperLib::Paths;
inline constexpr double kScale = 1e4;  // 0.1 um
inline constexpr double kFlat = 0.02;  // mm, sagitta
inline constexpr double kInside = 0.03, kCut = 0.002, kArea = 2;
inline constexpr double kPi = 3.14159265358979323846;

struct P {
    double x, y;
};
inline P operator+(P a, P b) {
    return {a.x + b.x, a.y + b.y};
}
inline P operator-(P a, P b) {
    return {a.x - b.x, a.y - b.y};
}
inline P operator*(double s, P a) {
    return {s * a.x, s * a.y};
}
inline double dot(P a, P b) {
    return a.x * b.x + a.y * b.y;
}
inline double cross(P a, P b) {
    return a.x * b.y - a.y * b.x;
}
inline double len(P a) {
    return std::hypot(a.x, a.y);
}
inline P unit(P a) {
    return (1 / len(a)) * a;
}
inline P right(P d) {
    return {d.y, -d.x};
}
inline P p_of(Vec2 v) {
    return {v.x, v.y};
}

/// An edge by its circle: direction and place at a share of it.
struct Side {
    P a, b;
    double bulge = 0;
    int tag = 0;
    P centre{0, 0};
    double radius = 0, start = 0, sweep = 0;

    explicit Side(const Edge& e) : a(p_of(e.a)), b(p_of(e.b)), bulge(e.bulge), tag(e.tag) {
        if (bulge == 0) return;
        sweep = 4 * std::atan(bulge);
        const double chord = len(b - a);
        radius = chord / 2 / std::sin(std::fabs(sweep) / 2);
        const P d = unit(b - a), left{-d.y, d.x};
        centre = 0.5 * (a + b) + (radius * std::cos(sweep / 2) * (bulge > 0 ? 1 : -1)) * left;
        start = std::atan2(a.y - centre.y, a.x - centre.x);
    }
    P at(double t) const {
        if (bulge == 0) return a + t * (b - a);
        const double w = start + t * sweep;
        return centre + radius * P{std::cos(w), std::sin(w)};
    }
    P along(double t) const {
        if (bulge == 0) return unit(b - a);
        const double w = start + t * sweep;
        return (sweep > 0 ? 1.0 : -1.0) * P{-std::sin(w), std::cos(w)};
    }
    P out(double t) const { return right(along(t)); }
    double length() const { return bulge == 0 ? len(b - a) : radius * std::fabs(sweep); }
    int steps() const {
        if (bulge == 0) return 1;
        return std::max(2, static_cast<int>(std::ceil(std::fabs(sweep) / std::sqrt(8 * kFlat / radius))));
    }
    /// Share of the foot of p.
    double share(P p) const {
        if (bulge == 0) return dot(p - a, b - a) / dot(b - a, b - a);
        const double w = std::atan2(p.y - centre.y, p.x - centre.x);
        return std::remainder(w - start - sweep / 2, 2 * kPi) / sweep + 0.5;
    }
};

using Poly = std::vector<P>;

inline ClipperLib::Path ints(const Poly& poly) {
    ClipperLib::Path path;
    for (const P p : poly)
        path.push_back(ClipperLib::IntPoint(std::llround(p.x * kScale), std::llround(p.y * kScale)));
    return path;
}
inline Paths one(const Poly& poly) {
    Paths out{ints(poly)};
    if (!ClipperLib::Orientation(out[0])) ClipperLib::ReversePath(out[0]);
    return out;
}
/// A place just inside a path, beside the middle of one of its sides; nothing where it is too thin to have one.
inline std::optional<ClipperLib::IntPoint> place_inside(const ClipperLib::Path& path) {
    constexpr double off = 4;  // 0.4 um
    for (std::size_t i = 0; i < path.size(); ++i) {
        const auto &a = path[i], &b = path[(i + 1) % path.size()];
        const P d{static_cast<double>(b.X - a.X), static_cast<double>(b.Y - a.Y)};
        if (len(d) < 8 * off) continue;
        for (const double way : {off, -off}) {
            const P to = way * unit(right(d));
            const ClipperLib::IntPoint at(a.X + std::llround(d.x / 2 + to.x),
                                          a.Y + std::llround(d.y / 2 + to.y));
            if (ClipperLib::PointInPolygon(at, path) == 1) return at;
        }
    }
    return std::nullopt;
}

/// Parts counter-clockwise, holes clockwise, counted by what lies round each. Clipper 6 gets that wrong now and then where
/// many parts touch, and then drops what two such sets have in common. Parts too thin to tell are left out.
inline Paths oriented(Paths paths) {
    Paths out;
    std::vector<ClipperLib::IntPoint> inside;
    for (auto& path : paths) {
        if (std::fabs(ClipperLib::Area(path)) < 1e4) continue;  // 1e-4 mm2
        const auto at = place_inside(path);
        if (!at) continue;
        inside.push_back(*at);
        out.push_back(std::move(path));
    }
    std::vector<bool> hole(out.size(), false);
    for (std::size_t i = 0; i < out.size(); ++i)
        for (std::size_t j = 0; j < out.size(); ++j)
            if (i != j && ClipperLib::PointInPolygon(inside[i], out[j]) != 0) hole[i] = !hole[i];
    for (std::size_t i = 0; i < out.size(); ++i)
        if (ClipperLib::Orientation(out[i]) == hole[i]) ClipperLib::ReversePath(out[i]);
    return out;
}

inline Paths op(ClipperLib::ClipType type, const Paths& a, const Paths& b) {
    ClipperLib::Clipper c;
    c.AddPaths(a, ClipperLib::ptSubject, true);
    c.AddPaths(b, ClipperLib::ptClip, true);
    Paths out;
    c.Execute(type, out, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return oriented(std::move(out));
}
inline Paths minus(const Paths& a, const Paths& b) {
    return op(ClipperLib::ctDifference, a, b);
}
inline Paths both(const Paths& a, const Paths& b) {
    return op(ClipperLib::ctIntersection, a, b);
}
inline Paths either(const Paths& a, const Paths& b) {
    return op(ClipperLib::ctUnion, a, b);
}
inline double area(const Paths& paths) {
    double sum = 0;
    for (const auto& p : paths) sum += ClipperLib::Area(p);
    return sum / kScale / kScale;
}
/// What is left of an area when a skin is taken off all round: slivers of rounding are not goods.
inline Paths thick(const Paths& paths, double skin) {
    ClipperLib::ClipperOffset o;
    o.AddPaths(paths, ClipperLib::jtMiter, ClipperLib::etClosedPolygon);
    Paths out;
    o.Execute(out, -skin * kScale);
    return oriented(std::move(out));
}
inline Paths grown(const Paths& paths, double by) {
    return thick(paths, -by);
}
inline Paths disc(P at, double r) {
    Poly poly;
    for (int i = 0; i < 48; ++i) {
        const double w = 2 * kPi * i / 48;
        poly.push_back(at + r * P{std::cos(w), std::sin(w)});
    }
    return one(poly);
}

inline Poly flat(const Outline& outline) {
    Poly poly;
    for (std::size_t k = 0; k < outline.size(); ++k) {
        const Side s(outline.edge(k));
        for (int i = 0; i < s.steps(); ++i) poly.push_back(s.at(static_cast<double>(i) / s.steps()));
    }
    return poly;
}

/// "(612, 40)": a corner of the largest part.
inline std::string place_in(const Paths& region) {
    const auto largest = std::max_element(region.begin(), region.end(), [](const auto& a, const auto& b) {
        return ClipperLib::Area(a) < ClipperLib::Area(b);
    });
    const auto whole = [](ClipperLib::cInt v) {
        return std::to_string(std::lround(static_cast<double>(v) / kScale));
    };
    return "(" + whole(largest->front().X) + ", " + whole(largest->front().Y) + ")";
}

inline bool holds(const Paths& region, P p) {
    const ClipperLib::IntPoint at(std::llround(p.x * kScale), std::llround(p.y * kScale));
    int rounds = 0;
    for (const auto& path : region)
        if (ClipperLib::PointInPolygon(at, path) != 0) ++rounds;
    return rounds % 2 == 1;
}

}  // namespace spile::testing_folds
