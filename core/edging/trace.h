// Following the edges of a net outline through an offset.
#pragma once

#include <vector>

#include "core/shape/panel.h"

namespace spile {

/// The finish along each edge of a net outline. A rounded corner between two finishes is bound where either
/// is bound (it was rounded so that a binder can pass), else as the edge before it.
std::vector<Finish> finishes_along(const Outline& net, const std::vector<EdgePlan>& edges);

/// What is left long along each edge of a net outline, mm. A rounded corner takes the less of its two neighbours
/// (only inside corners are still round beside such an edge: see left_long.h).
std::vector<double> left_long_along(const Outline& net, const std::vector<EdgePlan>& edges);

/// Whether an edge in direction `to` runs on from one in direction `from`: it turns by less than 1e-6.
bool is_run_on(Vec2 from, Vec2 to);

/// Whether edge k of a traced outline is a step or a bevel: it carries the trace of the edge before, but turns away from it.
bool is_join(const Outline& traced, std::size_t k);

/// The outline with every edge tagged by its own index.
Outline traced(const Outline& net);

/// Moves a traced outline outside, each edge by the distance of the edge of `net` that it traces; steps and bevels between
/// edges stay where they are. The result is traced alike.
std::vector<Outline> traced_offset(const Outline& traced, const std::vector<double>& outside_mm);

/// Puts the tags of `net` back on an outline whose tags are indices of its edges.
void restore_tags(Outline& traced, const Outline& net);

}  // namespace spile
