#include "core/layout/check/approach.h"

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/geom/transform.h"

namespace spile {
namespace {

double distance_between(const Box& a, const Box& b) {
    const double dx = std::max({0.0, a.min.x - b.max.x, b.min.x - a.max.x});
    const double dy = std::max({0.0, a.min.y - b.max.y, b.min.y - a.max.y});
    return std::sqrt(dx * dx + dy * dy);
}

double distance_between(const Box& box, Vec2 p) {
    return distance_between(box, Box{p, p});
}

struct Foot {
    double distance = 1e300;
    Edge edge;
};

/// The nearest edge of a piece, ties to the first.
Foot nearest_edge(const PlacedPiece& piece, Vec2 p) {
    Foot best;
    for (const auto& [edge, box] : piece.edges) {
        if (distance_between(box, p) >= best.distance) continue;
        const double d = spile::distance_between(edge, Edge{p, p});
        if (d < best.distance) best = {d, edge};
    }
    return best;
}

/// Where along `edge` (shares of its length) the vertices of `other` that are within reach stand abreast.
double share_abreast(const Edge& edge, Vec2 p) {
    if (edge.straight()) {
        const Vec2 along = edge.b - edge.a;
        const double length2 = norm2(along);
        return length2 > 0 ? dot(p - edge.a, along) / length2 : 0;
    }
    const Vec2 centre = centre_of(edge);
    const double turn = edge.bulge > 0 ? 1 : -1;
    const Vec2 from = edge.a - centre, to = edge.b - centre, at = p - centre;
    const auto swept = [&](Vec2 d) {
        const double angle = std::atan2(turn * cross(from, d), dot(from, d));
        return angle < 0 ? angle + 2 * std::acos(-1.0) : angle;
    };
    const double whole = swept(to);
    return whole > 0 ? swept(at) / whole : 0;
}

/// Looks for points of `a`'s boundary inside `b`; keeps the deepest.
void deepest_of(const PlacedPiece& a, const PlacedPiece& b, double noise, Approach& found) {
    std::vector<double> shares;
    for (const auto& edge_and_box : a.edges) {
        // Names of their own: clang 14 takes no structured binding into a lambda.
        const auto& edge = edge_and_box.edge;
        const auto& box = edge_and_box.box;
        if (distance_between(box, b.box) > noise) continue;
        shares = {0, 1};
        for (const auto& [other, other_box] : b.edges) {
            if (distance_between(box, other_box) > noise) continue;
            for (const Meeting& m : meet(edge, other)) shares.push_back(m.t_a);
            const double abreast = share_abreast(edge, other.a);
            if (abreast > 0 && abreast < 1) shares.push_back(abreast);
        }
        std::sort(shares.begin(), shares.end());
        const auto look_at = [&](double share) {
            const Vec2 p = point_at(edge, share);
            const Side side = side_of(b.region, p);
            if (side == Side::outside) return;
            const Foot foot = nearest_edge(b, p);
            if (side == Side::inside && foot.distance > noise) {
                if (foot.distance > found.depth_mm) {
                    found.depth_mm = foot.distance;
                    found.at = p;
                }
                return;
            }
            // On a shared stretch both surfaces lie on the same side only when the edges run the same way (two
            // copies of a piece in one place have no other sign); step inward while both are there.
            const double abreast = std::clamp(share_abreast(foot.edge, p), 0.0, 1.0);
            const Vec2 mine = direction_at(edge, share), theirs = direction_at(foot.edge, abreast);
            const bool along = std::fabs(cross(mine, theirs)) < 1e-3 && dot(mine, theirs) > 0;
            if (!along || share == 0 || share == 1) return;
            for (double step = 16 * noise;; step *= 2) {
                const Vec2 q = p + step * left_of(mine);
                if (side_of(a.region, q) != Side::inside || side_of(b.region, q) != Side::inside) break;
                const double depth = nearest_edge(b, q).distance;
                if (depth > found.depth_mm) {
                    found.depth_mm = depth;
                    found.at = q;
                }
            }
        };
        for (std::size_t i = 0; i < shares.size(); ++i) {
            look_at(shares[i]);
            if (i + 1 < shares.size() && shares[i + 1] > shares[i])
                look_at(0.5 * (shares[i] + shares[i + 1]));
        }
    }
}

}  // namespace

PlacedPiece placed(const Region& outline, const Rigid& roll_from_piece) {
    PlacedPiece out;
    out.region = roll_from_piece(outline);
    out.box = box_of(out.region.outer);
    const auto add = [&](const Outline& loop) {
        for (std::size_t i = 0; i < loop.size(); ++i)
            out.edges.push_back({loop.edge(i), box_of(loop.edge(i))});
    };
    add(out.region.outer);
    for (const Outline& hole : out.region.holes) add(hole);
    return out;
}

Approach approach(const PlacedPiece& a, const PlacedPiece& b, double enough_mm) {
    Approach found;
    found.distance_mm = std::max(enough_mm, distance_between(a.box, b.box));
    if (distance_between(a.box, b.box) >= enough_mm) return found;
    Box both = a.box;
    both.add(b.box);
    const double noise = noise_mm(both);

    for (const auto& [edge, box] : a.edges) {
        if (distance_between(box, b.box) >= found.distance_mm) continue;
        for (const auto& [other, other_box] : b.edges) {
            if (distance_between(box, other_box) >= found.distance_mm) continue;
            const double d = spile::distance_between(edge, other);
            if (d < found.distance_mm) {
                found.distance_mm = d;
                found.at = edge.a;
            }
        }
    }
    if (found.distance_mm > noise) {
        // Boundaries apart: one lies wholly in the other, or they share nothing.
        for (const auto& [inner, outer] : {std::pair(&a, &b), std::pair(&b, &a)}) {
            const Vec2 p = inner->region.outer.vertices.front().p;
            if (side_of(outer->region, p) != Side::inside) continue;
            for (const Vertex& v : inner->region.outer.vertices) {
                const double depth = nearest_edge(*outer, v.p).distance;
                if (depth > found.depth_mm) {
                    found.depth_mm = depth;
                    found.at = v.p;
                }
            }
        }
        return found;
    }
    deepest_of(a, b, noise, found);
    deepest_of(b, a, noise, found);
    return found;
}

}  // namespace spile
