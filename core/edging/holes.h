// Finished holes: cut circles, slits and stitch circle.
#pragma once

#include "core/base/reporter.h"
#include "core/edging/piece.h"

namespace spile {

/// The cuts of one hole, boat space.
struct HoleCuts {
    HoleReport report;
    Outline net, face, backing;      ///< clockwise, tags as on the net line
    std::vector<Path> slits;         ///< of a round one, from the face cut outward
    std::vector<FlapCut> flap_cuts;  ///< of another form
    Seam seam;                       ///< empty path for a sealed hole
};

/// Slits round a fold of radius `radius_mm`: enough that the straight stretch between two stands off the
/// curve by no more than `facet_mm` (sagitta w^2 / 8R of a chord w), at least 8, even so that they face one
/// another.
int slits_round(double radius_mm, double facet_mm);

/// The cuts of opening `index`. A turned hole that is too small is cut as a sealed one, with a stop.
HoleCuts hole_cuts(const Panel& panel, std::size_t index, const FinishSettings& settings, Reporter& report);

/// The same for an opening that is not round: its rim is cut, turned and relieved as the outer edge of a panel is, material on
/// the left all the same. The turn is narrowed until the face cut stays in one and is nowhere narrower than that of a turned
/// round hole.
HoleCuts shaped_hole_cuts(const Panel& panel, std::size_t index, const FinishSettings& settings,
                          Reporter& report);

/// Folded-back goods of turned holes against edges and other holes.
void judge_hole_flaps(const Panel& panel, const std::vector<HoleCuts>& holes, const FinishSettings& settings,
                      Reporter& report);

}  // namespace spile
