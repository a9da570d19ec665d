#include "core/geom/untangle.h"

#include <algorithm>
#include <cmath>

#include "core/geom/chain.h"
#include "core/geom/edge_math.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {

using namespace edge_math;

namespace {

/// How often the walk goes round p: by its chords, then by the ground between each chord and its arc.
int winding(const std::vector<Edge>& walk, Vec2 p) {
    int rounds = 0;
    for (const Edge& e : walk) {
        const double side = cross(e.b - e.a, p - e.a);
        if (e.a.y <= p.y && e.b.y > p.y && side > 0) ++rounds;
        if (e.a.y > p.y && e.b.y <= p.y && side < 0) --rounds;
        if (flat(e) || scaled_power(e, p) >= 0) continue;
        if (e.bulge > 0 && side < 0) ++rounds;
        if (e.bulge < 0 && side > 0) --rounds;
    }
    return rounds;
}

}  // namespace

std::vector<Outline> untangled(const Outline& walk) {
    if (walk.size() < 2) return {};
    for (const Vertex& v : walk.vertices)
        if (!finite(v.p) || !std::isfinite(v.bulge)) return {};
    if (faults_of(walk).empty()) return {walk};

    const double noise = noise_mm(box_of(walk));
    const double skin = 4 * noise;
    std::vector<Edge> edges;
    for (std::size_t k = 0; k < walk.size(); ++k)
        if (distance(walk.edge(k).a, walk.edge(k).b) > noise) edges.push_back(walk.edge(k));
    std::vector<chain::Piece> pieces = chain::cut_at_meetings(edges, noise);
    chain::join_ends(pieces, noise);
    chain::drop_doubles(pieces, std::vector<bool>(edges.size(), false), noise);
    pieces.erase(std::remove_if(pieces.begin(), pieces.end(),
                                [&](const chain::Piece& piece) {
                                    const Vec2 p = midpoint_of(piece.edge);
                                    const Vec2 left = skin * left_of(direction_at(piece.edge, 0.5));
                                    return winding(edges, p + left) < 1 || winding(edges, p - left) >= 1;
                                }),
                 pieces.end());
    chain::drop_loose(pieces);
    std::vector<Outline> out;
    for (const auto& loop : chain::walk(pieces, edges, chain::Keep::right_apart).closed) {
        Outline outline;
        for (const chain::Piece& piece : loop)
            outline.vertices.push_back({piece.edge.a, piece.edge.bulge, piece.edge.tag});
        if (std::fabs(area_mm2(outline)) > noise * length_mm(outline)) out.push_back(std::move(outline));
    }
    return out;
}

}  // namespace spile
