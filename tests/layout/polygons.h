// Test helpers: random polygons and a second opinion on overlap.
#pragma once

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

#include "core/layout/solve/poly.h"
#include "core/layout/solve/random.h"

namespace spile::lay {

/// A star-shaped polygon with dents: radii drawn between low and high, simple by construction.
inline Poly star(Random& random, int corners, double low, double high) {
    Poly poly;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2 * std::acos(-1.0) * (i + 0.8 * random.share()) / corners;
        const double radius = low + (high - low) * random.share();
        poly.push_back({std::llround(radius * std::cos(angle)), std::llround(radius * std::sin(angle))});
    }
    return cleaned(poly);
}

inline Poly moved(Poly poly, IPoint by) {
    for (IPoint& p : poly) p = p + by;
    return poly;
}

/// Area two surfaces share, by the polygon clipper.
inline double shared_area(const Polys& a, const Polys& b) {
    namespace cl = ClipperLib;
    cl::Clipper clipper;
    const auto add = [&](const Polys& polys, cl::PolyType type) {
        for (const Poly& poly : polys) {
            cl::Path path;
            for (IPoint p : poly) path.push_back({p.x, p.y});
            clipper.AddPath(path, type, true);
        }
    };
    add(a, cl::ptSubject);
    add(b, cl::ptClip);
    cl::Paths result;
    clipper.Execute(cl::ctIntersection, result, cl::pftNonZero, cl::pftNonZero);
    double area = 0;
    for (const cl::Path& path : result) area += cl::Area(path);
    return area;
}

}  // namespace spile::lay
