#include "core/layout/solve/no_fit.h"

#include <algorithm>
#include <polyclipping/clipper.hpp>

namespace spile::lay {
namespace {

namespace cl = ClipperLib;

constexpr double kTidy = 1.5;  // units; crossings are rounded to whole ones

/// Direction order counter-clockwise from +x; exact.
int half_of(IPoint d) {
    return d.y > 0 || (d.y == 0 && d.x > 0) ? 0 : 1;
}
bool earlier(IPoint a, IPoint b) {
    const int ha = half_of(a), hb = half_of(b);
    return ha != hb ? ha < hb : cross(a, b) > 0;
}
bool same_direction(IPoint a, IPoint b) {
    return cross(a, b) == 0 && dot(a, b) > 0;
}

/// Is d in the turn from `from` counter-clockwise to `to` (less than a half turn)? Which end belongs to it is the caller's.
bool within_turn(IPoint from, IPoint to, IPoint d, bool with_from, bool with_to) {
    if (same_direction(d, from)) return with_from;
    if (same_direction(d, to)) return with_to;
    return cross(from, d) > 0 && cross(d, to) > 0;
}

struct Corner {
    IPoint in, out;
    bool convex;
};

std::vector<Corner> corners_of(const Poly& p) {
    std::vector<Corner> corners(p.size());
    for (std::size_t i = 0, n = p.size(); i < n; ++i) {
        const IPoint in = p[i] - p[i == 0 ? n - 1 : i - 1], out = p[i + 1 == n ? 0 : i + 1] - p[i];
        corners[i] = {in, out, cross(in, out) > 0};
    }
    return corners;
}

/// All steps of the convolution as closed walks. A corner that turns left takes the other's edges within its turn forwards,
/// one that turns right takes them backwards. For parallel edges b counts as turned a little further than a.
cl::Paths convolution(const Poly& a, const Poly& b) {
    const std::size_t n = a.size(), m = b.size();
    const std::vector<Corner> ca = corners_of(a), cb = corners_of(b);
    struct Step {
        std::uint32_t to;
        std::int32_t next;  // further step out of the same state
        bool used;
    };
    std::vector<Step> steps;
    std::vector<std::int32_t> first(n * m, -1);
    std::vector<std::uint32_t> starts;
    const auto add = [&](std::size_t from, std::size_t to, bool forwards) {
        if (!forwards) std::swap(from, to);
        steps.push_back({static_cast<std::uint32_t>(to), first[from], false});
        first[from] = static_cast<std::int32_t>(steps.size() - 1);
        starts.push_back(static_cast<std::uint32_t>(from));
    };
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t j = 0; j < m; ++j) {
            const Corner &p = ca[i], &q = cb[j];
            // Edge of a leaving i, beside corner j of b.
            const bool a_in = q.convex ? within_turn(q.in, q.out, p.out, false, true)
                                       : within_turn(q.out, q.in, p.out, false, true);
            if (a_in) add(i * m + j, (i + 1 == n ? 0 : i + 1) * m + j, q.convex);
            const bool b_in = p.convex ? within_turn(p.in, p.out, q.out, true, false)
                                       : within_turn(p.out, p.in, q.out, true, false);
            if (b_in) add(i * m + j, i * m + (j + 1 == m ? 0 : j + 1), p.convex);
        }
    cl::Paths walks;
    for (std::size_t s = 0; s < steps.size(); ++s) {
        if (steps[s].used) continue;
        cl::Path walk;
        std::size_t at = starts[s];
        while (first[at] >= 0) {
            Step& step = steps[first[at]];
            first[at] = step.next;
            step.used = true;
            const IPoint p = a[at / m] + b[at % m];
            walk.push_back({p.x, p.y});
            at = step.to;
        }
        walks.push_back(std::move(walk));
    }
    return walks;
}

/// Minkowski sum of two convex polygons: their edges in order of direction.
Poly convex_sum(const Poly& a, const Poly& b) {
    const auto lowest = [](const Poly& p) {
        return static_cast<std::size_t>(
            std::min_element(p.begin(), p.end(),
                             [](IPoint u, IPoint v) { return u.y != v.y ? u.y < v.y : u.x < v.x; }) -
            p.begin());
    };
    const std::size_t n = a.size(), m = b.size(), i0 = lowest(a), j0 = lowest(b);
    Poly sum{a[i0] + b[j0]};
    for (std::size_t i = 0, j = 0; i < n || j < m;) {
        const IPoint da = a[(i0 + i + 1) % n] - a[(i0 + i) % n], db = b[(j0 + j + 1) % m] - b[(j0 + j) % m];
        const bool take_a = j == m || (i < n && earlier(da, db));
        const bool both = i < n && j < m && same_direction(da, db);
        if (both) {
            sum.push_back(sum.back() + da + db);
            ++i, ++j;
        } else if (take_a) {
            sum.push_back(sum.back() + da);
            ++i;
        } else {
            sum.push_back(sum.back() + db);
            ++j;
        }
    }
    sum.pop_back();
    return sum;
}

Polys to_polys(const cl::Paths& paths) {
    Polys out;
    for (const cl::Path& path : paths) {
        Poly p;
        p.reserve(path.size());
        for (const cl::IntPoint& q : path) p.push_back({q.X, q.Y});
        p = tidied(p, kTidy);
        if (!p.empty()) out.push_back(std::move(p));
    }
    return out;
}

cl::Path to_path(const Poly& poly) {
    cl::Path path;
    for (IPoint p : poly) path.push_back({p.x, p.y});
    return path;
}

Polys sum_of(const Poly& a, bool a_convex, const Poly& b, bool b_convex) {
    if (a_convex && b_convex) return {cleaned(convex_sum(a, b))};
    cl::Clipper clipper;
    clipper.AddPaths(convolution(a, b), cl::ptSubject, true);
    cl::Paths result;
    clipper.Execute(cl::ctUnion, result, cl::pftPositive, cl::pftPositive);
    return to_polys(result);
}

/// All p for which `item` moved by p lies inside `room` (a counter-clockwise polygon). The band swept by the outline of
/// the item along the outline of the room is taken from all places of the item's first point inside it.
Polys fits_inside(const Poly& room, const Poly& item) {
    const IBox r = box_of(room), t = box_of(item);
    if (t.width() > r.width() || t.height() > r.height()) return {};
    const Poly mirrored = negated(item);
    cl::Clipper sweep;
    for (std::size_t i = 0; i < room.size(); ++i)
        for (std::size_t j = 0; j < mirrored.size(); ++j) {
            const IPoint a = room[i], b = room[(i + 1) % room.size()];
            const IPoint c = mirrored[j], d = mirrored[(j + 1) % mirrored.size()];
            Poly quad{a + c, b + c, b + d, a + d};
            if (area_of(quad) < 0) std::reverse(quad.begin(), quad.end());
            sweep.AddPath(to_path(quad), cl::ptSubject, true);
        }
    cl::Paths band;
    sweep.Execute(cl::ctUnion, band, cl::pftNonZero, cl::pftNonZero);
    Poly places;
    for (IPoint p : room) places.push_back(p - item[0]);
    cl::Clipper rest;
    rest.AddPath(to_path(places), cl::ptSubject, true);
    rest.AddPaths(band, cl::ptClip, true);
    cl::Paths result;
    rest.Execute(cl::ctDifference, result, cl::pftNonZero, cl::pftNonZero);
    return to_polys(result);
}

}  // namespace

Shape make_shape(Poly outer, Polys holes) {
    Shape shape;
    shape.box = box_of(outer);
    shape.convex = is_convex(outer);
    shape.outer = std::move(outer);
    shape.holes = std::move(holes);
    return shape;
}

Polys no_fit(const Shape& fixed, const Shape& moving) {
    const Poly mirrored = negated(moving.outer);
    Polys forbidden = sum_of(fixed.outer, fixed.convex, mirrored, moving.convex);
    Polys free;
    const auto as_room = [](const Poly& hole) { return Poly(hole.rbegin(), hole.rend()); };
    for (const Poly& hole : fixed.holes)
        for (Poly& p : fits_inside(as_room(hole), moving.outer)) free.push_back(std::move(p));
    // The fixed shape inside a hole of the moving one: the same with the roles, and so the sign of p, exchanged.
    for (const Poly& hole : moving.holes)
        for (const Poly& p : fits_inside(as_room(hole), fixed.outer)) free.push_back(negated(p));
    if (free.empty()) return forbidden;
    cl::Clipper clipper;
    for (const Poly& p : forbidden) clipper.AddPath(to_path(p), cl::ptSubject, true);
    for (const Poly& p : free) clipper.AddPath(to_path(p), cl::ptClip, true);
    cl::Paths result;
    clipper.Execute(cl::ctDifference, result, cl::pftNonZero, cl::pftNonZero);
    return to_polys(result);
}

}  // namespace spile::lay
