// Panels that end at a joint line.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// Cuts the boat line of a panel along a joint and keeps one side; corners and edges are named anew.
/// Guarantees: the edge made lies on the joint line exactly, so that both neighbours have the same one.
/// On bad input: false, with a stop, when the line does not cross the panel or leaves several parts on that side.
/// Requires: a sound, counter-clockwise boat line whose tags are indices of panel.edges.
bool cut_by_joint(Panel& panel, const JointCut& cut, const Survey& survey, Reporter& report);

}  // namespace spile
