// Growing a closed chain: of all moved edges and joins, what lies at its true distance, walked round.
#include "core/geom/grow.h"

#include <algorithm>
#include <cmath>

#include "core/geom/chain.h"
#include "core/geom/edge_math.h"
#include "core/geom/measure_of.h"
#include "core/geom/parity.h"
#include "core/geom/strips.h"

namespace spile::grow {

using namespace edge_math;
using chain::Piece;

namespace {

Outline outline_of(const Chain& chain) {
    Outline out;
    out.vertices.reserve(chain.size());
    for (const Link& link : chain) out.vertices.push_back({link.edge.a, link.edge.bulge, link.edge.tag});
    return out;
}

Strips index_of(const std::vector<Cell>& cells, double skin) {
    std::vector<Box> boxes;
    boxes.reserve(cells.size());
    for (const Cell& cell : cells) {
        // Edges that do not move sweep nothing.
        const bool none = cell.side_a == cell.apex_a && cell.side_b == cell.apex_b;
        boxes.push_back(none ? Box{cell.apex_a, cell.apex_a} : cell.box());
    }
    return Strips(std::move(boxes), skin);
}

/// Two stretches in a row of one edge that does not move, as one; false where they are not, or make more than half a circle.
bool put_together(const Candidate& a, Link& before, const Candidate& b, const Link& after) {
    if (a.stretch_of == SIZE_MAX || a.stretch_of != b.stretch_of) return false;
    const double s = before.edge.bulge, t = after.edge.bulge;
    const double whole = s == 0 ? t : t == 0 ? s : (s + t) / (1 - s * t);
    if (s * t >= 1 || std::fabs(whole) > 1) return false;
    before.edge.b = after.edge.b;
    before.edge.bulge = whole;
    return true;
}

struct Attempt {
    std::vector<Chain> chains;
    std::size_t loose = 0;  ///< pieces that should have been part of a loop
};

Attempt attempt(const Chain& chain, const How& how, double noise) {
    const double skin = 4 * noise;
    const Raw raw = raw_of(chain, how, noise);
    std::vector<Edge> edges;
    std::vector<bool> on_outline;
    edges.reserve(raw.candidates.size());
    for (const Candidate& c : raw.candidates) {
        edges.push_back(c.link.edge);
        on_outline.push_back(c.on_outline);
    }
    std::vector<Piece> pieces = chain::cut_at_meetings(edges, noise);
    chain::join_ends(pieces, noise);
    chain::drop_doubles(pieces, on_outline, noise);

    const Outline old = outline_of(chain);
    const bool material_inside = area_mm2(old) > 0;
    const Parity inside(old, noise);
    const Strips index = index_of(raw.cells, skin);
    pieces.erase(std::remove_if(pieces.begin(), pieces.end(),
                                [&](const Piece& piece) {
                                    const Candidate& c = raw.candidates[piece.of];
                                    const Vec2 p = midpoint_of(piece.edge);
                                    // A little to the outside, so as not to lie on the side of what it borders.
                                    const Vec2 q = p - skin / 2 * left_of(direction_at(piece.edge, 0.5));
                                    const bool deep = index.any_at(q, [&](std::size_t k) {
                                        return k != c.exempt[0] && k != c.exempt[1] &&
                                               raw.cells[k].deep(q, skin);
                                    });
                                    return deep || (!c.on_outline && inside.odd(p) == material_inside);
                                }),
                 pieces.end());

    Attempt out;
    out.loose = chain::drop_loose(pieces);
    // What grows hangs together, so where it touches itself it is what lies outside that falls apart.
    const chain::Loops loops = chain::walk(pieces, edges, chain::Keep::right_apart);
    out.loose += loops.open;
    for (const std::vector<Piece>& loop : loops.closed) {
        Chain links;
        std::vector<const Candidate*> of;
        for (const Piece& piece : loop) {
            const Candidate& c = raw.candidates[piece.of];
            Link link = c.link;
            link.edge = piece.edge;
            if (!links.empty() && put_together(*of.back(), links.back(), c, link)) continue;
            links.push_back(link);
            of.push_back(&c);
        }
        if (links.size() > 2 && put_together(*of.back(), links.back(), *of.front(), links.front()))
            links.erase(links.begin());
        const Outline outline = outline_of(links);
        const double area = area_mm2(outline);
        if (std::fabs(area) <= noise * length_mm(outline)) continue;
        if ((area > 0) == material_inside || how.keep_voids) out.chains.push_back(std::move(links));
    }
    return out;
}

}  // namespace

std::vector<Chain> grown(const Chain& chain, const How& how, double noise) {
    Attempt first = attempt(chain, how, noise);
    if (first.loose == 0) return std::move(first.chains);
    // A short edge was swept over whole, and what lies beside it ends at the side of some other edge's ground.
    How all = how;
    all.all_sides = true;
    Attempt second = attempt(chain, all, noise);
    return std::move(second.chains.empty() ? first.chains : second.chains);
}

}  // namespace spile::grow
