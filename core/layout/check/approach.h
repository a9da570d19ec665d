// How near two placed pieces come, and how deep one lies in the other.
#pragma once

#include <vector>

#include "core/geom/outline.h"
#include "core/geom/transform.h"

namespace spile {

/// A piece where it lies: every loop of its outline as edges with their boxes. Roll space.
struct PlacedPiece {
    struct BoxedEdge {
        Edge edge;
        Box box;
    };
    Region region;
    std::vector<BoxedEdge> edges;  ///< of the outer outline, then of the holes
    Box box;                       ///< of the outer outline
};
PlacedPiece placed(const Region& outline, const Rigid& roll_from_piece);

struct Approach {
    double distance_mm = 0;  ///< least distance of the two boundaries; not followed up beyond `enough_mm`
    double depth_mm = 0;     ///< how far a point of one lies inside the other; 0 when none does
    Vec2 at;                 ///< where
};

/// Requires: simple outlines, outer counter-clockwise, holes clockwise.
/// Guarantees: distance_mm is the least distance when that is below `enough_mm`, else some value at or above it.
/// depth_mm > 0 exactly when the surfaces overlap by more than noise. It is the greatest depth found at all vertices, all
/// meetings of the boundaries, the feet of vertices on the other's edges and halfway between these along each edge.
Approach approach(const PlacedPiece& a, const PlacedPiece& b, double enough_mm);

}  // namespace spile
