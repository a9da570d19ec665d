#include "core/layout/solve/poly.h"

#include <algorithm>
#include <cmath>
#include <polyclipping/clipper.hpp>

namespace spile::lay {

double area_of(const Poly& poly) {
    double twice = 0;
    for (std::size_t i = 0, n = poly.size(); i < n; ++i) {
        const IPoint &a = poly[i], &b = poly[i + 1 == n ? 0 : i + 1];
        // Taken from the first point, so that a far origin costs no digits.
        twice += static_cast<double>(cross(a - poly[0], b - poly[0]));
    }
    return twice / 2;
}

IBox box_of(const Poly& poly) {
    IBox box;
    for (IPoint p : poly) box.add(p);
    return box;
}

Poly cleaned(const Poly& poly) {
    Poly out = poly;
    for (bool again = true; again && out.size() >= 3;) {
        again = false;
        Poly kept;
        const std::size_t n = out.size();
        for (std::size_t i = 0; i < n; ++i) {
            const IPoint before = kept.empty() ? out[n - 1] : kept.back();
            const IPoint here = out[i], after = out[i + 1 == n ? 0 : i + 1];
            if (here == before || cross(here - before, after - here) == 0)
                again = true;
            else
                kept.push_back(here);
        }
        out.swap(kept);
    }
    if (out.size() < 3) out.clear();
    return out;
}

Poly tidied(const Poly& poly, double units) {
    const auto off_segment = [](IPoint a, IPoint b, IPoint p) {
        const double dx = static_cast<double>(b.x - a.x), dy = static_cast<double>(b.y - a.y);
        const double px = static_cast<double>(p.x - a.x), py = static_cast<double>(p.y - a.y);
        const double length2 = dx * dx + dy * dy;
        const double t = length2 > 0 ? std::clamp((px * dx + py * dy) / length2, 0.0, 1.0) : 0.0;
        const double ex = px - t * dx, ey = py - t * dy;
        return std::sqrt(ex * ex + ey * ey);
    };
    Poly out = cleaned(poly);
    for (std::size_t kept = 0, i = 0; out.size() >= 3 && kept < out.size();) {
        const std::size_t n = out.size();
        i %= n;
        const IPoint before = out[(i + n - 1) % n], here = out[i], after = out[(i + 1) % n];
        const bool back = dot(here - before, after - here) < 0;
        const bool straight = !back && off_segment(before, after, here) <= units;
        const bool spike =
            back && (off_segment(before, here, after) <= units || off_segment(here, after, before) <= units);
        if (straight || spike) {
            out.erase(out.begin() + static_cast<std::ptrdiff_t>(i));
            i = i + n - 2;  // look at the neighbour before again
            kept = 0;
        } else {
            ++i;
            ++kept;
        }
    }
    return cleaned(out);
}

bool is_convex(const Poly& poly) {
    for (std::size_t i = 0, n = poly.size(); i < n; ++i)
        if (cross(poly[(i + 1) % n] - poly[i], poly[(i + 2) % n] - poly[(i + 1) % n]) < 0) return false;
    return true;
}

Poly hull_of(const Poly& poly) {
    Poly p = poly;
    std::sort(p.begin(), p.end(), [](IPoint a, IPoint b) { return a.x != b.x ? a.x < b.x : a.y < b.y; });
    p.erase(std::unique(p.begin(), p.end()), p.end());
    if (p.size() < 3) return p;
    Poly hull;
    const auto chain = [&](auto begin, auto end) {
        const std::size_t base = hull.size();
        for (auto it = begin; it != end; ++it) {
            while (hull.size() >= base + 2 &&
                   cross(hull[hull.size() - 1] - hull[hull.size() - 2], *it - hull[hull.size() - 1]) <= 0)
                hull.pop_back();
            hull.push_back(*it);
        }
        hull.pop_back();
    };
    chain(p.begin(), p.end());
    chain(p.rbegin(), p.rend());
    return hull;
}

Poly turned(const Poly& poly, int quarter_turns) {
    Poly out = poly;
    for (IPoint& p : out) switch (((quarter_turns % 4) + 4) % 4) {
            case 1:
                p = {-p.y, p.x};
                break;
            case 2:
                p = -p;
                break;
            case 3:
                p = {p.y, -p.x};
                break;
            default:
                break;
        }
    return out;
}

Poly negated(const Poly& poly) {
    return turned(poly, 2);
}

Polys shrunk(const Poly& poly, double units) {
    namespace cl = ClipperLib;
    cl::Path path;
    for (IPoint p : poly) path.push_back({p.x, p.y});
    cl::ClipperOffset offset(4.0);  // beyond four times the offset a mitre is cut off
    offset.AddPath(path, cl::jtMiter, cl::etClosedPolygon);
    cl::Paths result;
    // A lone clockwise path is turned round by the library: a hole grows where an outline shrinks.
    const bool hole = area_of(poly) < 0;
    offset.Execute(result, hole ? units : -units);
    Polys out;
    for (const cl::Path& r : result) {
        Poly q;
        for (const cl::IntPoint& p : r) q.push_back({p.X, p.Y});
        q = cleaned(q);
        if (q.empty()) continue;
        if ((area_of(q) < 0) != hole) std::reverse(q.begin(), q.end());
        out.push_back(std::move(q));
    }
    return out;
}

Polys difference(const Poly& a, const Poly& b) {
    namespace cl = ClipperLib;
    const auto path_of = [](const Poly& poly) {
        cl::Path path;
        for (IPoint p : poly) path.push_back({p.x, p.y});
        return path;
    };
    cl::Clipper clipper;
    clipper.StrictlySimple(true);
    clipper.AddPath(path_of(a), cl::ptSubject, true);
    clipper.AddPath(path_of(b), cl::ptClip, true);
    cl::Paths result;
    clipper.Execute(cl::ctDifference, result, cl::pftNonZero, cl::pftNonZero);
    Polys out;
    for (const cl::Path& r : result) {
        Poly& poly = out.emplace_back();
        for (const cl::IntPoint& p : r) poly.push_back({p.X, p.Y});
    }
    return out;
}

}  // namespace spile::lay
