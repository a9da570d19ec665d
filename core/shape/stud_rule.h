// New snaps by rule: one in each corner, more along the edges.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// Adds the studs of a rule to panel.studs, named "n1", "n2", ...: on the line `from_edge_mm` inside the net line, one in each corner
/// and between two of them as many as keep the pitch, evenly. One that a stud of the boat stands nearer to than half the
/// pitch (at corners: than `from_edge_mm`) is left out, as that one does; so is one nearer to an opening than a snap wants, with a note that counts them.
/// A line that collapses is a stop with the largest distance from the edge that leaves one. Requires: openings and slits are made.
void place_studs(Panel& panel, const StudRule& rule, const FinishSettings& finish, Reporter& report);

}  // namespace spile
