// Inside geom: meetings of two edges at a noise given by the whole operation.
#pragma once

#include <array>

#include "core/geom/intersect.h"

namespace spile {

/// At most the four ends and two crossings.
struct Meetings {
    std::array<Meeting, 6> all;
    std::size_t count = 0;

    const Meeting* begin() const { return all.data(); }
    const Meeting* end() const { return all.data() + count; }
};

/// As meet(a, b), with edges that come within `noise` counted as meeting. Requires: both have length.
Meetings meet(const Edge& a, const Edge& b, double noise);

/// Meeting points of the whole line or circle each edge lies on, at most two; `count` of them.
struct CarrierMeetings {
    std::array<Vec2, 2> at;
    std::size_t count = 0;
    bool tangent = false;  ///< the carriers miss: `at[0]` is where they come nearest
};
CarrierMeetings meet_carriers(const Edge& a, const Edge& b);

}  // namespace spile
