// Will a panel go in: the chance that an edge meets its wall, and the clearance that keeps it small.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/measure/survey.h"

namespace spile {

/// One edge of a panel with the clearance it gives up to the boat.
struct FitEdge {
    std::string from, to;
    double clearance_mm = 0;
};

struct EdgeFit {
    std::string from, to;
    double clearance_mm = 0;
    double from_sd_mm = 0,
           to_sd_mm = 0;   ///< of the wall square to the edge at its ends, the panel laid to fit best
    double touches = 0;    ///< chance that the wall is met somewhere along the edge
    double wanted_mm = 0;  ///< clearance that keeps that chance at 1 in 100
};

struct Fit {
    std::vector<EdgeFit> edges;  ///< in the order given
    std::size_t worst = 0;       ///< the edge likeliest to meet its wall
};

/// One chance in a hundred: what a shop can bear (common practice).
inline constexpr double kTouches = 0.01;

/// The panel is shifted and turned as a hand would lay it: what its corners have in common is taken out of their
/// covariance (inner constraints: no mean shift, no mean turn). Along a straight edge the doubt is largest at one of its
/// ends, so the chance is that either end of the wall stands further in than the clearance, both ends together as two
/// correlated normals. `corners`: of the panel, in order; `edges`: those that meet the boat.
/// Returns nothing when a corner has no place, when there are fewer than two, or when the survey holds no covariances.
/// Curved edges are judged at their ends. Requires: clearances finite.
std::optional<Fit> fit_of(const Survey& survey, const std::vector<std::string>& corners,
                          const std::vector<FitEdge>& edges);

/// Standard deviation square to the line from one point to another, at the share t of the way, in the survey's own datum.
/// Nothing when a point has no place, both are one, or the survey holds no covariances. Requires: 0 <= t <= 1.
std::optional<double> band_sd_mm(const Survey& survey, const std::string& from, const std::string& to,
                                 double t);

}  // namespace spile
