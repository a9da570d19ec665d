#include "core/geom/offset.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/geom/chain.h"
#include "core/geom/edge_math.h"
#include "core/geom/grow.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {

using namespace edge_math;
using grow::Chain;
using grow::Link;

namespace {

/// The outline without edges shorter than noise; distances below noise are none.
Chain chain_of(const Outline& outline, const std::vector<double>& distances, double noise) {
    Chain chain;
    Vec2 at = outline.vertices[0].p;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        Edge e = outline.edge(i);
        e.a = at;
        if (distance(e.a, e.b) <= noise) continue;
        at = e.b;
        if (std::fabs(e.bulge) > 1) e.bulge = sign_of(e.bulge);
        chain.push_back({e, std::fabs(distances[i]) <= noise ? 0 : distances[i], i, false});
    }
    if (!chain.empty()) chain.back().edge.b = chain.front().edge.a;
    return chain;
}

Chain reversed(const Chain& chain) {
    Chain out(chain.rbegin(), chain.rend());
    for (Link& link : out) link.edge = spile::reversed(link.edge);
    return out;
}

bool moves(const Chain& chain) {
    return std::any_of(chain.begin(), chain.end(), [](const Link& link) { return link.distance > 0; });
}

/// Growth and shrinking are two passes, each to one side: shrinking is growth of what lies outside.
std::vector<Chain> both_passes(const Chain& chain, const std::vector<double>& distances, grow::How how,
                               double noise) {
    const auto with = [&](Chain c, double sign) {
        for (Link& link : c) {
            const double d = link.is_join ? 0 : sign * distances[link.source];
            link.distance = d > noise ? d : 0;
        }
        return c;
    };
    std::vector<Chain> out{with(chain, 1)};
    if (moves(out[0])) out = grow::grown(out[0], how, noise);
    how.reversed = true;
    std::vector<Chain> shrunk;
    for (const Chain& c : out) {
        const Chain inward = reversed(with(c, -1));
        if (!moves(inward)) {
            shrunk.push_back(c);
            continue;
        }
        for (const Chain& s : grow::grown(inward, how, noise)) shrunk.push_back(reversed(s));
    }
    return shrunk;
}

/// Begins every chain at its lowest source and puts them in that order.
std::vector<Outline> in_order(std::vector<Chain> chains) {
    for (Chain& c : chains) {
        std::size_t first = 0;
        const std::size_t n = c.size();
        for (std::size_t k = 0; k < n; ++k) {
            const auto rank = [&](std::size_t i) {
                // Of several stretches of one edge in a row, the first.
                const bool goes_on = c[(i + n - 1) % n].source == c[i].source;
                return std::pair(c[i].source, goes_on);
            };
            if (rank(k) < rank(first)) first = k;
        }
        std::rotate(c.begin(), c.begin() + static_cast<std::ptrdiff_t>(first), c.end());
    }
    std::stable_sort(chains.begin(), chains.end(),
                     [](const Chain& a, const Chain& b) { return a[0].source < b[0].source; });
    std::vector<Outline> out;
    for (const Chain& c : chains) {
        Outline o;
        o.vertices.reserve(c.size());
        for (const Link& link : c) o.vertices.push_back({link.edge.a, link.edge.bulge, link.edge.tag});
        out.push_back(std::move(o));
    }
    return out;
}

std::vector<Outline> offset_by(const Outline& outline, const std::vector<double>& distances,
                               const OffsetOptions& options, Join join) {
    double most = 0;
    for (const double d : distances) {
        if (!std::isfinite(d)) return {};
        most = std::fmax(most, std::fabs(d));
    }
    if (outline.empty() || !chain::fit_for_work(outline)) return {};
    const double noise = noise_mm(largest(outline) + most);
    const Chain chain = chain_of(outline, distances, noise);
    if (chain.size() < 2) return {};
    return in_order(
        both_passes(chain, distances, {join, options.mitre_limit, false, options.keep_voids}, noise));
}

#ifdef SPILE_CHECKS
/// The guarantee of round joins, and half of that of mitres, asked place by place of every edge there was. Shapes for which
/// that would take longer than a moment are taken on trust.
bool keeps_its_distance(const Outline& outline, const std::vector<Outline>& moved, double d, Join join) {
    constexpr std::size_t kMostPairs = 4096;
    std::size_t edges = 0;
    for (const Outline& part : moved) edges += part.size();
    if (edges * outline.size() > kMostPairs) return true;
    const double bound = offset_error_mm(largest(outline) + std::fabs(d));
    for (const Outline& part : moved) {
        for (std::size_t k = 0; k < part.size(); ++k) {
            for (const Vec2 p : {part.vertices[k].p, midpoint_of(part.edge(k))}) {
                const double away = nearest_on(outline, p).distance;
                if (away < std::fabs(d) - bound) return false;
                if (join == Join::round && away > std::fabs(d) + bound) return false;
            }
        }
    }
    return true;
}
#endif

}  // namespace

double offset_error_mm(double largest_coordinate_mm) {
    return 8 * noise_mm(largest_coordinate_mm);
}

std::vector<Outline> offset(const Outline& outline, double distance_mm, const OffsetOptions& options) {
    std::vector<Outline> moved =
        offset_by(outline, std::vector<double>(outline.size(), distance_mm), options, options.join);
    SPILE_SLOW_CHECK(keeps_its_distance(outline, moved, distance_mm, options.join));
    return moved;
}

std::vector<Outline> offset_each(const Outline& outline, const std::vector<double>& distances_mm,
                                 const OffsetOptions& options) {
    SPILE_CHECK(distances_mm.size() == outline.size());
    return offset_by(outline, distances_mm, options, Join::mitre);
}

}  // namespace spile
