// Slits from openings to an edge, for what cannot be lifted over.
#pragma once

#include "core/base/reporter.h"
#include "core/shape/panel.h"

namespace spile {

/// Opens every hole of the net line whose opening asks for a slit: the outer outline runs in along the slit, round the rim
/// and out again, and the panel gains four corners, "ID 1" to "ID 4", and the edges between them. A slit runs straight from the
/// middle of the opening to the nearest place of its edge: of the edge named, else of the least seen that can be reached,
/// the nearest of those alike. A slit that cannot be is left out with a stop. Requires: make_openings.
void cut_slits(Panel& panel, const FinishSettings& finish, Reporter& report);

}  // namespace spile
