// The points of cut lines as a table.
#pragma once

#include <string>

#include "export/lines/machine_drawing.h"

namespace spile {

/// One row for each vertex: piece, seen_from, purpose, line, closed, index, x_mm, y_mm, bulge (of the edge to the next
/// vertex; tan of a quarter of the arc's sweep, counter-clockwise positive). Frame of the drawing, millimetres.
/// Guarantees: RFC 4180 (CRLF, a header row, quotes where needed), UTF-8, decimal point; x and y to 0.0001 mm, the
/// bulge as the shortest decimal that reads back the same.
std::string points_csv(const MachineDrawing& drawing);

}  // namespace spile
