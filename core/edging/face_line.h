// The face line of a panel that is turned along some of its edges only: walked edge by edge.
#pragma once

#include "core/edging/flaps.h"

namespace spile {

/// Two edges of the net outline whose goods are asked for twice.
struct FlapCollision {
    std::size_t flap = 0, with = 0;
};

/// The end of a flap that had to keep clear of the edge beside it at an inside corner.
struct FlapShort {
    std::size_t flap = 0;
    bool at_start = false;
    double bare_mm = 0;  ///< from the corner along the fold until the least flap lies behind the edge
};

struct FaceLine {
    std::vector<Outline>
        parts;  ///< one when all is well; tags: edge k of the net outline, or -1 - k for ends of its flap
    std::vector<FlapCollision> collisions;
    std::vector<FlapShort> shorts;
};

/// `core` is the net outline with bound edges moved in and the fold of turned edges where it lies, traced (tags are edges of
/// the net outline). Along each run of turned edges the line leaves it: out along the end of the first flap, along the
/// edges moved out by their turn (corners prolonged until they meet), and back along the end of the last. At an inside
/// corner where the edge beside it leaves a flap no room for its end, the end keeps `end_trim` clear of it.
FaceLine face_line(const Outline& core, const FlapPlan& plan, const FinishSettings& settings);

}  // namespace spile
