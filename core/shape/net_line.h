// From the boat line to the net line: clearances, corners, openings.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// How far the net line of an edge lies outside its measured line (negative: inside), mm.
double net_outside_mm(const EdgePlan& edge, const FinishSettings& finish);

/// Fills panel.net_line (outer outline, corners rounded). False, with a stop, when nothing workable is left.
bool make_net_line(Panel& panel, const FinishSettings& finish, Reporter& report);

/// Puts the openings into panel.net_line as holes and judges them, then judges the studs. Openings that
/// cannot be are left out of the region. Requires: make_net_line.
void make_openings(Panel& panel, const FinishSettings& finish, Reporter& report);
void judge_studs(const Panel& panel, const FinishSettings& finish, Reporter& report);

/// How far rounding a corner to `radius_mm` would move the line there: r (1 / cos(half the turn) - 1).
/// `before`, `after`: unit directions of travel before and after the corner. Only + - * / sqrt.
double corner_moved_mm(Vec2 before, Vec2 after, double radius_mm);

}  // namespace spile
