// Inside geom: the moved edges and joins an offset is made of, and the ground they sweep over.
#pragma once

#include <cstdint>
#include <vector>

#include "core/geom/offset.h"

namespace spile::grow {

/// An edge of a closed chain on its way through the offset. Growth is to the right of the edges.
struct Link {
    Edge edge;
    double distance = 0;     ///< how far it moves to its right, >= 0
    std::size_t source = 0;  ///< index of the edge it came from
    bool is_join = false;    ///< bevel, round or step: no moved edge itself
};
using Chain = std::vector<Link>;

struct How {
    Join join = Join::mitre;
    double mitre_limit = 4;
    bool reversed = false;  ///< the chain runs against the outline: a join takes the tag of the edge after it
    bool keep_voids = false;
    bool all_sides =
        false;  ///< the sides of all swept ground may border the result, not only those at corners
};

/// Grows a simple closed chain to its right. Requires: fit for work, no link shorter than `noise`.
std::vector<Chain> grown(const Chain& chain, const How& how, double noise);

/// Ground swept by one moved edge or join: a slab between an edge and its moved twin, or a wedge between a corner and the
/// join beyond it. A point deep inside any of them is nearer to the outline than it may be.
struct Cell {
    Edge rim;     ///< slab: the edge itself; wedge: the join, corner on its left
    Vec2 apex_a;  ///< where the side at the start begins: the edge's start, or the corner
    Vec2 apex_b;
    Vec2 side_a;  ///< where it ends, on the moved edge or join
    Vec2 side_b;
    double reach = 0;  ///< slab: how far the edge moves; wedge: 0

    /// More than `skin` inside of the rim it sweeps up to. The sides are taken a little too wide, so that no point
    /// falls between two cells.
    bool deep(Vec2 p, double skin) const;
    Box box() const;
};

/// An edge that may become part of the result.
struct Candidate {
    Link link;
    bool on_outline = false;  ///< an edge that does not move
    /// Cells whose side this is (a square step); being on their side does not make it deep.
    std::size_t exempt[2] = {SIZE_MAX, SIZE_MAX};
    /// The edge that does not move of which this is a stretch: such stretches are put together again.
    std::size_t stretch_of = SIZE_MAX;
};

struct Raw {
    std::vector<Candidate> candidates;
    std::vector<Cell> cells;
};

/// Every moved edge and join of the chain.
Raw raw_of(const Chain& chain, const How& how, double noise);

}  // namespace spile::grow
