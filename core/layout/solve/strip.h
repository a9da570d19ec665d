// The packing kernel by itself, for the published instances of strip packing: polygons, quarter turns, any unit.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/base/result.h"
#include "core/base/run_context.h"
#include "core/geom/vec2.h"

namespace spile {

struct StripItem {
    int id = 0;
    int demand = 1;
    std::vector<int> quarter_turns{0};  ///< allowed ones, counter-clockwise
    std::vector<Vec2> polygon;          ///< simple, counter-clockwise
};

struct StripInstance {
    std::string name;
    double width = 0;  ///< across (y); the length (x) is minimised
    std::vector<StripItem> items;
};

/// The polygon turned about its own origin, then moved by `at`.
struct StripPlacement {
    int id = 0;
    int quarter_turns = 0;
    Vec2 at;
};

struct StripOptions {
    int rounds = 1 << 30;
    int threads = 1;                ///< never changes the result for the same rounds
    std::function<bool(int)> done;  ///< asked between rounds; may be empty
};

struct StripResult {
    double length = 0;
    double density = 0;  ///< per cent of width times length
    double bound = 0;    ///< of the length: area over width, or the longest item
    int rounds = 0;
    std::vector<StripPlacement> placements;
};

/// Items may touch. Overlaps and what stands over the edge stay below strip_tolerance().
/// On bad input: a stop for every item that has no area, crosses itself, has no allowed turn that fits the width, or whose
/// demand is not positive.
Result<StripResult> solve_strip(const StripInstance& instance, const StripOptions& options,
                                const RunContext& run);

/// 1e-7 of the larger of width and length (the field lets 1e-6 pass).
double strip_tolerance(double width, double length);

}  // namespace spile
