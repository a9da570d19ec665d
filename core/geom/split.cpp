// Cutting an outline along a path.
#include <algorithm>

#include "core/geom/chain.h"
#include "core/geom/edge_math.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {

using namespace edge_math;
using chain::Piece;

namespace {

/// The stretches of the path that run inside and lead from the outline to the outline.
std::vector<Piece> stretches_inside(const Outline& outline, const std::vector<Piece>& pieces,
                                    std::size_t outline_edges) {
    std::size_t nodes = 0;
    for (const Piece& p : pieces) nodes = std::max({nodes, p.from + 1, p.to + 1});
    std::vector<std::size_t> degree(nodes, 0);
    std::vector<bool> reached(nodes, false);
    std::vector<Piece> inside;
    for (const Piece& p : pieces) {
        const bool of_outline = p.of < outline_edges;
        if (!of_outline && side_of(outline, midpoint_of(p.edge)) != Side::inside) continue;
        ++degree[p.from];
        ++degree[p.to];
        if (of_outline)
            reached[p.from] = reached[p.to] = true;
        else
            inside.push_back(p);
    }
    // A loose end cuts nothing; nor does a ring that never comes to the outline.
    for (bool again = true; again;) {
        again = false;
        for (std::size_t k = 0; k < inside.size(); ++k) {
            const Piece p = inside[k];
            if (degree[p.from] < 2 || degree[p.to] < 2) {
                --degree[p.from];
                --degree[p.to];
                inside.erase(inside.begin() + static_cast<std::ptrdiff_t>(k--));
                again = true;
            } else if (reached[p.from] != reached[p.to]) {
                reached[p.from] = reached[p.to] = true;
                again = true;
            }
        }
    }
    inside.erase(
        std::remove_if(inside.begin(), inside.end(), [&](const Piece& p) { return !reached[p.from]; }),
        inside.end());
    return inside;
}

struct Part {
    double key;  ///< index of its first original vertex; a place between two when it has none
    Outline outline;
};

Part part_of(const std::vector<Piece>& loop, std::size_t outline_edges) {
    std::size_t first = 0;
    double key = 1e300;
    bool at_vertex = false;
    for (std::size_t k = 0; k < loop.size(); ++k) {
        if (loop[k].of >= outline_edges) continue;
        const bool vertex = loop[k].t0 == 0;
        const double here = static_cast<double>(loop[k].of) + loop[k].t0;
        if ((vertex && !at_vertex) || (vertex == at_vertex && here < key)) {
            key = here;
            first = k;
            at_vertex = vertex;
        }
    }
    Part part{key, {}};
    for (std::size_t k = 0; k < loop.size(); ++k) {
        const Edge& e = loop[(first + k) % loop.size()].edge;
        part.outline.vertices.push_back({e.a, e.bulge, e.tag});
    }
    return part;
}

}  // namespace

std::vector<Outline> split(const Outline& outline, const Path& cut) {
    if (!chain::fit_for_work(outline)) return {};
    double most = largest(outline);
    for (const Vertex& v : cut.vertices) {
        if (!finite(v.p) || !std::isfinite(v.bulge) || std::fabs(v.bulge) > 1 + noise_mm(1)) return {};
        most = std::fmax(most, largest(v.p));
    }
    const double noise = noise_mm(most);

    std::vector<Edge> edges;
    for (std::size_t i = 0; i < outline.size(); ++i)
        if (distance(outline.edge(i).a, outline.edge(i).b) > noise) edges.push_back(outline.edge(i));
    const std::size_t outline_edges = edges.size();
    for (std::size_t i = 0; i < cut.edge_count(); ++i)
        if (distance(cut.edge(i).a, cut.edge(i).b) > noise) edges.push_back(cut.edge(i));
    const std::size_t all = edges.size();

    std::vector<Piece> pieces = chain::cut_at_meetings(edges, noise);
    chain::join_ends(pieces, noise);
    const std::vector<Piece> inside = stretches_inside(outline, pieces, outline_edges);
    if (inside.empty()) return {outline};

    // Each stretch bounds a part on either side: walk it both ways.
    for (std::size_t k = outline_edges; k < all; ++k) edges.push_back(reversed(edges[k]));
    pieces.erase(
        std::remove_if(pieces.begin(), pieces.end(), [&](const Piece& p) { return p.of >= outline_edges; }),
        pieces.end());
    for (const Piece& p : inside) {
        pieces.push_back(p);
        pieces.push_back({reversed(p.edge), p.of + all - outline_edges, 1 - p.t1, 1 - p.t0, p.to, p.from});
    }
    std::vector<Part> parts;
    for (const std::vector<Piece>& loop : chain::walk(pieces, edges, chain::Keep::left_apart).closed) {
        Part part = part_of(loop, outline_edges);
        if (area_mm2(part.outline) > noise * length_mm(part.outline)) parts.push_back(std::move(part));
    }
    if (parts.size() <= 1) return {outline};
    std::stable_sort(parts.begin(), parts.end(), [](const Part& a, const Part& b) { return a.key < b.key; });
    std::vector<Outline> out;
    for (Part& part : parts) out.push_back(std::move(part.outline));
    return out;
}

}  // namespace spile
