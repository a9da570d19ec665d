#include "core/layout/solve/fit_field.h"

#include <algorithm>
#include <cmath>

namespace spile::lay {
namespace {

constexpr std::uint16_t kInside = 0x8000;
constexpr std::size_t kDeepSides = 6;  // looked at in cells wholly inside

}  // namespace

struct FitField::Part {
    int i0, i1, j0, j1;
    const std::uint16_t* sides;
    std::size_t count;
    int inside = -1;  ///< all of it, when 0 or 1
};

FitField::FitField(const Polys& loops, double cell) : cell_(cell), per_cell_(1 / cell) {
    IBox box;
    for (const Poly& loop : loops) {
        const std::size_t n = loop.size();
        const auto at = [&](std::size_t i) { return loop[i % n]; };
        const auto dent = [&](std::size_t i) { return cross(at(i) - at(i + n - 1), at(i + 1) - at(i)) < 0; };
        for (std::size_t i = 0; i < n; ++i) {
            const IPoint a = at(i), d = at(i + 1) - a;
            const double dx = static_cast<double>(d.x), dy = static_cast<double>(d.y);
            const double length = std::sqrt(dx * dx + dy * dy);
            sides_.push_back({static_cast<double>(a.x), static_cast<double>(a.y), dx / length, dy / length,
                              length, dent(i), dent(i + 1)});
            box.add(a);
        }
    }
    if (sides_.empty() || sides_.size() >= kInside) {
        sides_.clear();
        return;
    }
    const auto node = [&](std::int64_t v) {
        return static_cast<int>(std::floor(static_cast<double>(v) * per_cell_ + 0.5));
    };
    x0_ = node(box.min_x);
    y0_ = node(box.min_y);
    nx_ = node(box.max_x) - x0_ + 1;
    ny_ = node(box.max_y) - y0_ + 1;
    values_.assign(static_cast<std::size_t>(nx_ + kMargin) * static_cast<std::size_t>(ny_), 0.0F);
    codes_.assign(static_cast<std::size_t>(nx_) * static_cast<std::size_t>(ny_), 0);
    lists_.assign(1, 0);
    std::vector<std::uint16_t> all(sides_.size());
    for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<std::uint16_t>(i);
    std::vector<Near> near(sides_.size());
    fill({0, nx_, 0, ny_, all.data(), all.size()}, near);
}

double FitField::distance2(const Side& s, double x, double y) {
    const double dx = x - s.ax, dy = y - s.ay;
    const double along = std::min(std::max(dx * s.ux + dy * s.uy, 0.0), s.length);
    const double ex = dx - along * s.ux, ey = dy - along * s.uy;
    return ex * ex + ey * ey;
}

double FitField::signed_distance(const Side& s, double x, double y, Contact& out) {
    const double dx = x - s.ax, dy = y - s.ay;
    const double along = dx * s.ux + dy * s.uy, across = s.ux * dy - s.uy * dx;  // across > 0: left, inside
    if (along >= 0 && along <= s.length) {
        out.depth = across;
        out.nx = s.uy;
        out.ny = -s.ux;
        return std::fabs(across);
    }
    const bool at_a = along < 0;
    const double ex = at_a ? dx : dx - s.length * s.ux, ey = at_a ? dy : dy - s.length * s.uy;
    const double d = std::sqrt(ex * ex + ey * ey);
    const bool inside = at_a ? s.a_dent : s.b_dent;
    out.depth = inside ? d : -d;
    const double scale = d > 0 ? (inside ? -1 : 1) / d : 0;
    out.nx = ex * scale;
    out.ny = ey * scale;
    return d;
}

/// Whether the sides go round a point. Unlike the nearest side's word this does not hang on the finest detail.
bool FitField::winds_round(double x, double y) const {
    int winding = 0;
    for (const Side& s : sides_) {
        const double by = s.ay + s.length * s.uy;
        if ((s.ay <= y) == (by <= y)) continue;
        const double across = s.ux * (y - s.ay) - s.uy * (x - s.ax);
        if (s.ay <= y && across > 0) ++winding;
        if (s.ay > y && across < 0) --winding;
    }
    return winding != 0;
}

/// Halves the part until it is one cell; sides that are nearest nowhere in it are left behind on the way.
void FitField::fill(const Part& part, std::vector<Near>& near) {
    const double cx = (x0_ + 0.5 * (part.i0 + part.i1 - 1)) * cell_,
                 cy = (y0_ + 0.5 * (part.j0 + part.j1 - 1)) * cell_;
    const double rx = 0.5 * (part.i1 - part.i0) * cell_, ry = 0.5 * (part.j1 - part.j0) * cell_;
    const double reach = std::sqrt(rx * rx + ry * ry);
    near.resize(part.count);
    Near best{1e300, 0};
    for (std::size_t k = 0; k < part.count; ++k) {
        near[k] = {std::sqrt(distance2(sides_[part.sides[k]], cx, cy)), part.sides[k]};
        if (near[k].distance < best.distance) best = near[k];
    }
    const bool clear = best.distance > reach, leaf = part.i1 - part.i0 == 1 && part.j1 - part.j0 == 1;
    // Where no side comes near, all of it lies inside or all of it outside.
    const bool inside = part.inside >= 0 ? part.inside == 1 : (clear || leaf) && winds_round(cx, cy);
    if (clear && !inside) return;
    if (!leaf) {
        std::vector<std::uint16_t> kept;
        kept.reserve(part.count);
        for (const Near& n : near)
            if (n.distance <= best.distance + 2 * reach) kept.push_back(n.side);
        Part half{part.i0, part.i1, part.j0, part.j1, kept.data(), kept.size(), clear ? 1 : part.inside};
        Part other = half;
        if (part.i1 - part.i0 >= part.j1 - part.j0)
            half.i1 = other.i0 = (part.i0 + part.i1) / 2;
        else
            half.j1 = other.j0 = (part.j0 + part.j1) / 2;
        fill(half, near);
        fill(other, near);
        return;
    }
    const std::size_t at =
        static_cast<std::size_t>(part.j0) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(part.i0);
    values_[static_cast<std::size_t>(part.j0 * (nx_ + kMargin) + part.i0)] =
        inside ? static_cast<float>(best.distance) : 0.0F;
    near.erase(std::remove_if(near.begin(), near.end(),
                              [&](const Near& n) { return n.distance > best.distance + 2 * reach; }),
               near.end());
    std::sort(near.begin(), near.end(), [](const Near& a, const Near& b) {
        return a.distance != b.distance ? a.distance < b.distance : a.side < b.side;
    });
    if (clear && near.size() > kDeepSides) near.resize(kDeepSides);
    codes_[at] = static_cast<std::uint32_t>(lists_.size());
    lists_.push_back(static_cast<std::uint16_t>(near.size() | (clear ? kInside : 0)));
    for (const Near& n : near) lists_.push_back(n.side);
}

std::uint32_t FitField::code_at(DPoint p) const {
    const int i = static_cast<int>(std::floor(p.x * per_cell_ + 0.5)) - x0_;
    const int j = static_cast<int>(std::floor(p.y * per_cell_ + 0.5)) - y0_;
    if (i < 0 || j < 0 || i >= nx_ || j >= ny_) return 0;
    return codes_[static_cast<std::size_t>(j) * static_cast<std::size_t>(nx_) + static_cast<std::size_t>(i)];
}

double FitField::depth(DPoint p) const {
    const std::uint32_t code = code_at(p);
    if (code == 0) return 0;
    const std::uint16_t* list = &lists_[code];
    const std::size_t count = *list & ~kInside;
    if (*list & kInside) {
        double least = 1e300;
        for (std::size_t k = 1; k <= count; ++k)
            least = std::min(least, distance2(sides_[list[k]], p.x, p.y));
        return std::sqrt(least);
    }
    Contact c;
    double least = 1e300, depth = 0;
    for (std::size_t k = 1; k <= count; ++k) {
        const double d = signed_distance(sides_[list[k]], p.x, p.y, c);
        if (d < least) {
            least = d;
            depth = c.depth;
        }
    }
    return depth > 0 ? depth : 0;
}

bool FitField::contact(DPoint p, Contact& out) const {
    const std::uint32_t code = code_at(p);
    if (code == 0) return false;
    const std::uint16_t* list = &lists_[code];
    const std::size_t count = *list & ~kInside;
    double least = 1e300;
    for (std::size_t k = 1; k <= count; ++k) {
        Contact c;
        const double d = signed_distance(sides_[list[k]], p.x, p.y, c);
        if (d < least) {
            least = d;
            out = c;
        }
    }
    return true;
}

std::size_t FitField::bytes() const {
    return sizeof *this + sides_.capacity() * sizeof(Side) + values_.capacity() * 4 + codes_.capacity() * 4 +
           lists_.capacity() * 2;
}

}  // namespace spile::lay
