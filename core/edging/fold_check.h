// Do the folded flaps lie under the panel, and apart from one another?
#pragma once

#include "core/base/reporter.h"
#include "core/edging/flaps.h"

namespace spile {

/// Every flap is folded over its edge, exactly, and must cross no other edge of the net line: a stop ("turn-sticks-out")
/// with the widest turn that would lie inside, by halving. Flaps that lie on one another other than at the corner
/// they share are a look ("flaps-meet"), and so is a step shorter than the turn ("step-too-short-to-turn").
void judge_folds(const Panel& panel, const FlapPlan& plan, const FinishSettings& settings, Reporter& report);

}  // namespace spile
