#include "core/layout/solve/convex_parts.h"

#include <algorithm>
#include <cmath>

namespace spile::lay {
namespace {

std::int64_t turn(IPoint a, IPoint b, IPoint c) {
    return cross(b - a, c - b);
}

bool in_triangle(IPoint a, IPoint b, IPoint c, IPoint p) {
    return cross(b - a, p - a) >= 0 && cross(c - b, p - b) >= 0 && cross(a - c, p - c) >= 0;
}

/// Triangles; empty when the polygon is not simple enough for it.
Polys triangles_of(Poly rest) {
    Polys out;
    while (rest.size() > 3) {
        const std::size_t n = rest.size();
        std::size_t ear = n;
        for (std::size_t i = 0; i < n && ear == n; ++i) {
            const IPoint a = rest[(i + n - 1) % n], b = rest[i], c = rest[(i + 1) % n];
            if (turn(a, b, c) <= 0) continue;
            const bool clear = std::none_of(rest.begin(), rest.end(), [&](IPoint p) {
                return !(p == a) && !(p == b) && !(p == c) && in_triangle(a, b, c, p);
            });
            if (clear) ear = i;
        }
        if (ear == n) return {};
        out.push_back({rest[(ear + n - 1) % n], rest[ear], rest[(ear + 1) % n]});
        rest.erase(rest.begin() + static_cast<std::ptrdiff_t>(ear));
        rest = cleaned(rest);
    }
    if (rest.size() == 3) out.push_back(std::move(rest));
    return out;
}

/// The two put together along a common edge, where that is convex; else empty.
Poly joined(const Poly& a, const Poly& b) {
    const std::size_t n = a.size(), m = b.size();
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < m; ++j) {
            if (!(a[i] == b[(j + 1) % m]) || !(a[(i + 1) % n] == b[j])) continue;
            Poly both;
            for (std::size_t k = 0; k < n; ++k) both.push_back(a[(i + 1 + k) % n]);
            for (std::size_t k = 2; k < m; ++k) both.push_back(b[(j + k) % m]);
            both = cleaned(both);
            return !both.empty() && is_convex(both) ? both : Poly{};
        }
    return {};
}

/// Corners nearer than that to the line past them are cut off, the flattest first.
Poly with_few_edges(Poly poly, double flat_units) {
    while (poly.size() > 3) {
        const std::size_t n = poly.size();
        std::size_t flattest = n;
        double least = flat_units;
        for (std::size_t i = 0; i < n; ++i) {
            const IPoint a = poly[(i + n - 1) % n], c = poly[(i + 1) % n];
            const double long_way =
                std::hypot(static_cast<double>(c.x - a.x), static_cast<double>(c.y - a.y));
            const double off = static_cast<double>(turn(a, poly[i], c)) / long_way;
            if (off < least) {
                least = off;
                flattest = i;
            }
        }
        if (flattest == n) break;
        poly.erase(poly.begin() + static_cast<std::ptrdiff_t>(flattest));
    }
    return poly;
}

}  // namespace

Polys convex_parts(const Poly& poly, double flat_units) {
    Polys parts = is_convex(poly) ? Polys{poly} : triangles_of(poly);
    for (bool any = true; any;) {
        any = false;
        for (std::size_t i = 0; i < parts.size() && !any; ++i)
            for (std::size_t j = i + 1; j < parts.size() && !any; ++j) {
                Poly both = joined(parts[i], parts[j]);
                if (both.empty()) continue;
                parts[i] = std::move(both);
                parts.erase(parts.begin() + static_cast<std::ptrdiff_t>(j));
                any = true;
            }
    }
    for (Poly& part : parts) part = with_few_edges(std::move(part), flat_units);
    return parts;
}

}  // namespace spile::lay
