// Cut lines as a DXF file.
#pragma once

#include <string>

#include "export/lines/machine_drawing.h"

namespace spile {

enum class DxfVersion {
    r2000,  ///< AC1015: LWPOLYLINE, units
    r12,    ///< AC1009: POLYLINE, for machines that read nothing newer; it has no place for units
};

/// Guarantees: 1. millimetres ($INSUNITS 4, $MEASUREMENT 1), written to 1e-9 mm; 2. one polyline for each line, arcs as
/// bulges, closed ones flagged closed, in the order of the drawing; 3. layers named by `layer_for`, and on a layer
/// CHECK_100MM a square of 100 mm below the drawing with the title, which says the side; 4. ASCII throughout, see
/// dxf_text; 5. same drawing, same bytes.
std::string dxf_bytes(const MachineDrawing& drawing, DxfVersion version = DxfVersion::r2000);

inline constexpr double check_square_mm = 100;
inline constexpr const char* check_layer = "CHECK_100MM";

}  // namespace spile
