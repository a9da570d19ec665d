// Pieces of their own that are put on a panel: where they lie, and whether they may.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// How near to a net edge of that finish something may lie without lying under its binding: half the binding's flat width (common
/// practice, no source: what laps each side).
double clear_of_mm(Finish finish, const FinishSettings& settings);

/// The line of a piece that lies along an edge of the panel, `near_mm` to `far_mm` inside the net line and `from_mm` to
/// `to_mm` along the net line (corners unrounded), in the sense of the panel. Its long sides run parallel to the net line, arcs about
/// the same centres; its ends are square to it. Where the edge has a kink, the sides meet (inside it) or are joined
/// straight (outside). Empty where a curve of the edge is tighter than `far_mm`, or when nothing is left.
/// Requires: 0 <= near < far, 0 <= from < to <= the length of the edge.
Outline strip_along(const Panel& panel, std::size_t edge, double near_mm, double far_mm, double from_mm,
                    double to_mm);

/// Fills `panel.applied` with those of `wanted` that can be placed, and judges all of them against the net line, openings,
/// snaps, flaps and each other. `survey`: null for a plain mat. Requires: the panel has its net line, openings and snaps.
void place_applied(Panel& panel, const std::vector<AppliedPlan>& wanted, const Survey* survey,
                   const FinishSettings& finish, Reporter& report);

/// Stops and looks for each applied piece of the panel: outside the net line, over an opening, a snap or another piece, under a
/// binding, across the end of a flap, at an edge that is walked over.
void judge_applied(const Panel& panel, const FinishSettings& finish, Reporter& report);

}  // namespace spile
