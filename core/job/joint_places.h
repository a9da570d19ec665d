// Where a panel that is wider than the goods may be divided: joint lines along the direction, boat space.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/geom/outline.h"
#include "core/shape/panel.h"

namespace spile {

/// A line along the direction from one edge of a panel to another.
struct JointPlace {
    double y_mm = 0;
    double from_mm = 0, to_mm = 0;  ///< x of its ends, aft and fore
    std::string corner;             ///< an inside corner of the panel at one of its ends; empty: none
    bool corner_is_fore = false;

    double length_mm() const { return to_mm - from_mm; }
};

/// Every place at a whole `step_mm` from y = 0 where a line meets the outline twice, and one from every inside corner. None
/// runs through a box of `keep_off`, or nearer to a corner than kFromCorner_mm unless it ends in it. In order of y.
std::vector<JointPlace> joint_places(const Panel& panel, const std::vector<Box>& keep_off, double step_mm);

/// Nearer to a corner than this a joint leaves a sliver (2 in; common practice).
inline constexpr double kFromCorner_mm = 50.8;

/// What strips must keep.
struct StripRules {
    double low_mm = 0, high_mm = 0;  ///< y of the lower and the upper side of the cut piece
    double beyond_mm = 0;  ///< how far a strip's cut line lies beyond the joint; negative: short of it
    double widest_mm = 0;  ///< of a cut strip
};

/// The `count` - 1 places that leave `count` strips, none too wide: the shortest joints, and of those nearly alike the most even
/// strips (strips that are 16 mm uneven weigh as 1 mm of joint). Of equals the lowest. Nothing when there are none.
std::optional<std::vector<JointPlace>> best_places(const std::vector<JointPlace>& places,
                                                   const StripRules& rules, int count);

}  // namespace spile
