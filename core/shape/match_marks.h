// Match marks across joints, at the same place on both neighbours.
#pragma once

#include "core/shape/panel.h"

namespace spile {

/// The marks of every joint: along lines two panels share where one of them calls it joint or lid, across slits, and between a
/// lid and its surround; one in the middle of a stretch, more where it is long. Named M1, M2, ... in the order of the panels.
/// Guarantees: both marks of a name lie on one line square to the joint, through the same `at_mm`.
class MatchMarks {
  public:
    /// Adds the marks of the panels that are no twins. Plain mats have marks across their slits alone.
    void of_originals(const std::vector<Panel*>& panels);

    /// Twins come with the marks of their originals, mirrored. Those toward a neighbour that has a twin are kept and say it; those
    /// toward another are taken away, and where a twin has a place it gets marks toward its neighbours there.
    void of_twins(std::vector<Panel>& panels);

  private:
    int count_ = 0;
};

}  // namespace spile
