// Cuts in the flaps of turned edges: notches and slits at corners, relief cuts along curves.
#pragma once

#include "core/base/reporter.h"
#include "core/edging/flaps.h"
#include "core/edging/piece.h"

namespace spile {

/// Relief cuts along one edge of the panel or one rounded corner.
struct Relief {
    int tag = 0;  ///< of the net outline
    int cuts = 0;
    double pitch_mm = 0;  ///< the shortest
};

struct FlapCuts {
    std::vector<FlapCut> cuts;  ///< boat space, in order round the outline: corners, then curves
    std::vector<Relief> reliefs;
};

/// Name of an edge of the net outline: the panel's edge, or the corner that it rounds.
std::string net_edge_name(const Panel& panel, std::size_t k);

/// Cuts of the flaps of a panel whose face is cut along `face` (boat space). Edges left long get none: they are folded
/// aboard, after trimming.
///
/// Corners: a notch between the ends of the two flaps, with a root that stops `cut_margin_mm` outside the folds; at an inside
/// corner one slit half-way between them. Curves: along a stretch of arcs that run on into one another with one sense there
/// are as many cuts as keep the facet between two of them within `facet_mm` (pitch w = sqrt(8 R t)) and their turn within
/// 45 degrees, spread evenly; none where all of the stretch has less than `facet_mm` too much or missing at the cut.
/// Outside curves are notched by the surplus 2 s - T at depth s per radian, inside curves slit.
FlapCuts flap_cuts(const Panel& panel, const FlapPlan& plan, const Outline& face,
                   const FinishSettings& settings, Reporter& report);

}  // namespace spile
