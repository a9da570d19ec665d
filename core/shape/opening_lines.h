// What passes through an opening, and the rim of the opening round it.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// Finds the points of an opening and fills its middle, what passes, and its rim. `survey`: null for a plain mat, whose
/// openings are placed by size. False, with a stop, when a point is not known, a measure is no size, or an outline
/// encloses nothing, crosses itself or closes up.
bool place_opening(const Survey* survey, OpeningPlan& opening, Reporter& report);

/// Fills the openings for lids: what passes is the net line of the lid's panel. `made`: panels with their net lines, by id. A lid
/// that is not among them, or lies in another space, is a stop.
void place_lids(Panel& panel, const std::map<std::string, const Panel*>& made, Reporter& report);

/// The rim with another ease, clockwise; empty when it falls into parts. Requires: place_opening returned true.
Outline rim_with_ease(const OpeningPlan& opening, double ease_mm);

/// "2 1/2 in across", or "12 1/2 x 4 1/2 in": the finished opening, along its length by across.
std::string finished_size(const OpeningPlan& opening, const Reporter& report);

}  // namespace spile
