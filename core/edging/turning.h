// Turned edges: which flaps there are, in which order they are folded, and the cuts that let them lie flat.
#pragma once

#include "core/base/reporter.h"
#include "core/edging/piece.h"

namespace spile {

/// A panel's outer lines, boat space, as far as turning looks at them.
struct TurningLines {
    const Panel& panel;
    const FinishSettings& settings;
    const Outline& net;                   ///< corners rounded
    const std::vector<Finish>& finishes;  ///< along `net`
    const Outline& face;                  ///< traced: tags are indices of edges of `net`
};

/// How far the flap of edge k reaches outside the net line, mm; 0 where it is not turned. On an outside curve no further
/// than its radius, where the flap comes to a point.
double flap_outside_mm(const Outline& net, std::size_t k, Finish finish, const FinishSettings& settings);

/// How far short of the fold every relief cut stops, mm: so that no cut shows when the fold takes the backing's thickness.
double relief_short_mm(const FinishSettings& settings);

/// Edges of a net outline that are folded in one: between square corners.
struct Strip {
    std::vector<std::size_t> edges;  ///< of the net outline, in order
    double length_mm = 0;
    int step = 1;
};

struct Turning {
    std::vector<Strip> strips;
    std::vector<ReliefCut> relief;  ///< boat space
    std::vector<TurnedCorner> corners;
    std::vector<EdgeReport> edges;  ///< of the panel; only what concerns turning is filled in
};

/// Folds, notches and slits of a panel's turned edges.
///
/// Outside corner between two turned edges of interior angle a: each flap ends on a line through the corner, at
/// the angle min(a, 90 degrees) from its own fold, so that folded it lies inside the other edge; below 60 degrees the flap
/// over is cut to a / 2. What lies between the two ends is notched out, down to `relief_short_mm` from the corner.
/// Outside corner between a turned edge and another, sharper than 90 degrees: the flap is cut to the mirror image of the other cut
/// line. Inside corner: a slit from the face cut to `relief_short_mm` from the corner.
/// Curves of radius R and turn h, facet t: pitch sqrt(8 R t) along the fold, cuts in the middle of their pitch; outside curves
/// are notched by 2 y per radian at depth y (what a circle of R + y has more than one of R - y), inside curves slit.
/// Strips are folded alternately, so that of two that meet at a corner one is first.
Turning turn_edges(const TurningLines& lines, Reporter& report);

/// What the settings of the turn mean for the panels that have turned edges; said once, about the goods.
void judge_turn_settings(const std::vector<Panel>& panels, const FinishSettings& settings, Reporter& report);

/// Relief cuts along the curves of one strip. Adds to `out`.
void relieve_curves(const TurningLines& lines, const Strip& strip, bool all_round, Turning& out,
                    Reporter& report);

/// The panel edge an edge of the net outline belongs to: a rounded corner to the edge before it.
std::size_t panel_edge_of(const Outline& net, std::size_t k);

}  // namespace spile
