// From the net line to the cut lines of a panel's outside edge.
#pragma once

#include <optional>

#include "core/base/reporter.h"
#include "core/edging/flaps.h"
#include "core/edging/piece.h"

namespace spile {

/// The outer cut lines, boat space, tags as on the net line.
struct OuterCuts {
    Outline face, backing;
};

/// How far the backing is cut outside the net line (negative: inside), mm.
double backing_outside_mm(Finish finish, const FinishSettings& settings);

/// On bad input: nothing, with a stop, where the cut line collapses or falls apart. `plan` is of the panel's net line.
std::optional<OuterCuts> outer_cuts(const Panel& panel, const FlapPlan& plan, const FinishSettings& settings,
                                    Reporter& report);

/// Net and cut lengths edge by edge, between corners as they would be unrounded.
std::vector<EdgeReport> edge_reports(const Panel& panel, const FinishSettings& settings);

}  // namespace spile
