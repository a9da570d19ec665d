// Offsetting: moving every edge sideways by its own distance, and what becomes of the corners.
#pragma once

#include <functional>
#include <vector>

#include "core/geom/outline.h"

namespace spile {

enum class Join {
    mitre,  ///< edges are prolonged until they meet (bevelled beyond `mitre_limit`)
    round,  ///< an arc about the old corner
};

struct OffsetOptions {
    Join join = Join::mitre;
    /// Longest mitre as a multiple of the distance, measured from the old corner; sharper corners are cut off square there.
    /// Below 1 it is taken as 1.
    double mitre_limit = 4.0;
    /// Also return what the offset closes up against its sense: the open water inside a horseshoe whose mouth grows
    /// shut, as an outline of the other sense. Left out by default.
    bool keep_voids = false;
};

/// Moves a simple outline sideways by `distance_mm`, positive to the right of its edges.
/// Guarantees:
/// 1. Sense: d > 0 grows a counter-clockwise outline and shrinks a clockwise one (a hole), i.e. material grows.
/// 2. Exact edges: lines stay lines, arcs stay arcs about the same centre; joins are lines or arcs.
/// 3. No result crosses itself; stretches nearer than |d| to the old outline are removed (round joins: every point of
///    the result is at distance |d| within `offset_error_mm`).
/// 4. The result may be empty (collapsed), one or several outlines; each keeps the sense of the input.
/// 5. Tags: each edge carries the tag of the edge it came from; round joins and bevels the tag of the edge before.
std::vector<Outline> offset(const Outline& outline, double distance_mm, const OffsetOptions& options = {});

/// The same with a distance per edge, by index of the edge. Corners always meet by mitre; where neighbouring edges run
/// on tangentially with different distances they are joined by a short square step. Requires
/// distances.size() == outline.size().
std::vector<Outline> offset_each(const Outline& outline, const std::vector<double>& distances_mm,
                                 const OffsetOptions& options = {});

/// Bound on the distance of any point of a round-joined offset from its true place, for coordinates up to `largest`.
double offset_error_mm(double largest_coordinate_mm);

struct FilletResult {
    Outline outline;
    std::vector<std::size_t>
        too_short;  ///< corners (vertex indices of the input) that had no room, left as they were
    std::vector<double> largest_radius_mm;  ///< for each of too_short, the largest radius that fits alone
    std::vector<double>
        largest_beside_mm;  ///< the same, the neighbouring corners rounded as asked (0: no room)
};

/// Rounds the corners named by (vertex index, radius). Works between any mix of lines and arcs. The new arc carries
/// `tag_of_arc`. Corners that are already tangent are left alone. The remaining edges keep their carriers and tags.
/// Two neighbouring corners that each fit but not side by side on their common edge are both named in too_short.
/// On bad input: indices past the end and radii that are not above 0 are passed over; an outline with numbers that are
/// not finite, or with bulges over 1, comes back as it is.
struct CornerRadius {
    std::size_t vertex = 0;
    double radius_mm = 0;
};
FilletResult fillet(const Outline& outline, const std::vector<CornerRadius>& corners, int tag_of_arc);

}  // namespace spile
