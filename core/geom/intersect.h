// Where edges and outlines meet, and cutting an outline in two.
#pragma once

#include <vector>

#include "core/geom/outline.h"

namespace spile {

struct Meeting {
    Vec2 at;
    double t_a = 0;  ///< share of edge a's length, 0..1
    double t_b = 0;
    bool touching = false;  ///< they touch without crossing, or at an end
};

/// All single meeting points of two edges; for edges that lie on one another, the ends of the shared stretch
/// (touching). In order of t_a.
std::vector<Meeting> meet(const Edge& a, const Edge& b);

/// A fault of an outline, with its place.
struct OutlineFault {
    enum class Kind {
        too_few_edges,
        zero_edge,
        not_finite,
        bulge_too_large,
        crosses_itself,
        touches_itself,
        no_area
    };
    Kind kind;
    Vec2 at;
    std::size_t edge_a = 0;
    std::size_t edge_b = 0;
};
std::vector<OutlineFault> faults_of(const Outline& outline);

/// Cuts a simple counter-clockwise outline along a path whose ends lie on or outside it. Returns the parts
/// counter-clockwise, in order of their first original vertex; one part (the outline) when the path misses.
/// Edges made by the cut carry the path's tags.
std::vector<Outline> split(const Outline& outline, const Path& cut);

}  // namespace spile
