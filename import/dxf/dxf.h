// DXF: the lines of a drawing.
#pragma once

#include <string>

#include "core/base/result.h"
#include "import/outlines/drawing.h"

namespace spile::import {

/// Lines, arcs, circles, ellipses, polylines (arcs by their bulge) and splines of the model, by layer, read with dxflib (ASCII DXF). The unit
/// is that of $INSUNITS; 0 or none leaves it open. Curves that are no arcs come as chords far finer than any use of them.
/// Guarantees: no exception leaves, time is linear in the file, whatever is in it.
/// On bad input: a stop "not-dxf" (a binary DXF too), "drawing-too-large".
Result<Drawing> read_dxf(const std::string& bytes);

}  // namespace spile::import
