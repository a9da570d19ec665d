// Inside of shape: how an outline lies to a panel's net line.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// Whether `set` lies partly outside of an outer outline, or over a hole (clockwise). Touching is neither.
bool reaches_beyond(const Outline& boundary, const Outline& set);

/// How far `set` lies outside of an outer outline, or over a hole (clockwise); 0 where it does not. Within 0.05 mm.
double lies_beyond_mm(const Outline& boundary, const Outline& set);

/// Whether two outlines, of either sense, share ground deeper than 0.01 mm; touching is none.
bool share_ground(const Outline& a, const Outline& b);

/// The edge whose finish side `k` of the outer net line has: its own; of a rounded corner a bound one beside it, else the one
/// before it.
std::size_t edge_finished_as(const Panel& panel, std::size_t k);

/// "Heel pad \"helm\" of panel 3".
std::string applied_words(const AppliedPlan& applied, const Reporter& report);

/// An outline larger or smaller by `factor` about `centre`.
Outline scaled(Outline outline, Vec2 centre, double factor);

}  // namespace spile
