// The parts of a network that can be mirrored about a line without any size changing. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/network.h"

namespace spile::survey {

/// The points `part` hang by `hinge_a` and `hinge_b` alone: mirrored about the line through both they fit as well.
struct Mirrorable {
    int hinge_a, hinge_b;
    std::vector<int> part;  ///< ascending
};

/// All mirrorable parts, smallest side of every hinge line; parts that hold a left or right of their own are left out.
/// Every pair of points is tried as hinges by depth-first search (articulation points, Hopcroft and Tarjan 1973, from
/// memory), cost points x readings.
std::vector<Mirrorable> mirrorable_parts(const Network& network, const std::vector<bool>& takes_part);

Vec2 mirrored(Vec2 p, Vec2 line_a, Vec2 line_b);

}  // namespace spile::survey
