// Inside geom: cutting a heap of directed edges where they meet, and walking what is kept round into closed loops.
// Used by offset and split.
#pragma once

#include <vector>

#include "core/geom/outline.h"

namespace spile::chain {

/// A stretch of one of the edges that went in.
struct Piece {
    Edge edge;
    std::size_t of = 0;  ///< which edge
    double t0 = 0;       ///< share of its length at the start and end
    double t1 = 1;
    std::size_t from = 0;  ///< nodes: ends within noise of one another are one
    std::size_t to = 0;
};

/// Every edge cut where it meets another, pieces in order of edge and share; those shorter than noise are dropped.
std::vector<Piece> cut_at_meetings(const std::vector<Edge>& edges, double noise);

/// Gives ends that lie together the same node; drops pieces that start and end in one.
void join_ends(std::vector<Piece>& pieces, double noise);

/// Pieces that lie on one another: of those that run the same way the first that `prefer` marks stays, those that run
/// both ways all go, since the material lies on both sides. `prefer` is by edge.
void drop_doubles(std::vector<Piece>& pieces, const std::vector<bool>& prefer, double noise);

/// Drops pieces that nothing leads to or from, until none is left; returns how many.
std::size_t drop_loose(std::vector<Piece>& pieces);

struct Loops {
    std::vector<std::vector<Piece>>
        closed;            ///< in order of their first piece; stretches of one edge put together again
    std::size_t open = 0;  ///< pieces that belong to no loop
};

/// Which turn to take where loops touch: the sharpest left keeps apart what lies on the left of the pieces.
enum class Keep { left_apart, right_apart };
Loops walk(const std::vector<Piece>& pieces, const std::vector<Edge>& edges, Keep keep);

/// True when the outline has no fault but touching itself and edges without length, which the operations step over.
bool fit_for_work(const Outline& outline);

}  // namespace spile::chain
