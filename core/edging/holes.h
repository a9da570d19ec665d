// Finished holes: cut circles, slits and stitch circle.
#pragma once

#include "core/base/reporter.h"
#include "core/edging/piece.h"

namespace spile {

/// The cuts of one round hole, boat space.
struct HoleCuts {
    HoleReport report;
    Outline net, face, backing;  ///< clockwise, tags as on the net line
    std::vector<Path> slits;     ///< from the face cut outward
    Seam seam;                   ///< empty path for a sealed hole
};

/// Slits round a fold of radius `radius_mm`: enough that the straight stretch between two stands off the
/// curve by no more than `facet_mm` (sagitta w^2 / 8R of a chord w), at least 8, even so that they face one
/// another.
int slits_round(double radius_mm, double facet_mm);

/// The cuts of opening `index`. A turned hole that is too small is cut as a sealed one, with a stop.
HoleCuts hole_cuts(const Panel& panel, std::size_t index, const FinishSettings& settings, Reporter& report);

/// Folded-back goods of turned holes against edges and other holes.
void judge_hole_flaps(const Panel& panel, const std::vector<HoleCuts>& holes, const FinishSettings& settings,
                      Reporter& report);

}  // namespace spile
