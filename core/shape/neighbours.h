// Panels of one space against each other: overlaps and shared edges.
#pragma once

#include "core/shape/panel.h"

namespace spile {

/// Panels whose net regions overlap by more than the shop can see, each pair named once with the place.
void judge_overlaps(const std::vector<Panel>& panels, const LengthStyle& lengths,
                    std::vector<Finding>& findings);

/// Edges that two panels share but speak of differently, and joints that nothing meets.
void judge_shared_edges(const std::vector<Panel>& panels, const LengthStyle& lengths,
                        std::vector<Finding>& findings);

}  // namespace spile
