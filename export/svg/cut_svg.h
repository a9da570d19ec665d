// Cut lines as an SVG file, 1:1.
#pragma once

#include <string>

#include "export/lines/machine_drawing.h"

namespace spile {

/// Guarantees: width and height in mm equal to the drawing's box, one user unit a millimetre; one group for each
/// purpose, with the names of `layer_for` as ids, each line with its piece and name; arcs stay arcs, lines within
/// `svg_error_mm`; closed lines end in Z. SVG counts y downwards: heights are counted from the top of the box instead,
/// and arcs told to turn the other way, so what is seen is the drawing itself, never its mirror image.
std::string cut_svg(const MachineDrawing& drawing);

}  // namespace spile
