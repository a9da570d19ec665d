// Following the edges of a net outline through an offset.
#pragma once

#include <vector>

#include "core/shape/panel.h"

namespace spile {

/// The finish along each edge of a net outline. A rounded corner between two finishes is bound where either
/// is bound (it was rounded so that a binder can pass), else as the edge before it.
std::vector<Finish> finishes_along(const Outline& net, const std::vector<EdgePlan>& edges);

/// Moves every edge of `net` outside by its own distance. Tags of the result are indices of edges of `net`.
std::vector<Outline> traced_offset(const Outline& net, const std::vector<double>& outside_mm);

/// Puts the tags of `net` back on an outline whose tags are indices of its edges.
void restore_tags(Outline& traced, const Outline& net);

}  // namespace spile
