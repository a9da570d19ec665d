// Cut lines as a DXF file.
#pragma once

#include <string>

#include "core/base/result.h"
#include "export/lines/machine_drawing.h"

namespace spile {

enum class DxfVersion {
    r2000,  ///< AC1015, LWPOLYLINE
    r12,    ///< AC1009, POLYLINE, for machines that read nothing newer; it has no entry for units
};

/// Guarantees: 1. millimetres ($INSUNITS 4, $MEASUREMENT 1); 2. one polyline for each line, arcs as bulges, closed ones
/// flagged closed; 3. layers named by `layer_for`, and a square of 100 mm below the drawing on a layer CHECK_100MM with
/// the title, which says the side; 4. ASCII throughout, other characters as \U+XXXX; 5. same drawing, same bytes.
/// On bad input: none; a stop "dxf-not-written" when the system gives no memory to write in.
Result<std::string> dxf_bytes(const MachineDrawing& drawing, DxfVersion version = DxfVersion::r2000);

inline constexpr double check_square_mm = 100;
inline constexpr const char* check_layer = "CHECK_100MM";

}  // namespace spile
