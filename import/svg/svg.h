// SVG: the lines of a drawing.
#pragma once

#include <string>

#include "core/base/result.h"
#include "import/outlines/drawing.h"

namespace spile::import {

/// Paths, lines, polylines, polygons, rectangles, circles and ellipses with their transforms, by the nearest group that has an id
/// (their layer), read with pugixml. y is turned up. The unit comes from a width in mm, cm, in, pt or pc and the viewBox (SVG 1.1, 7);
/// a width in px or none leaves it open. Curves come as chords far finer than any use of them.
/// Guarantees: no exception leaves, nothing outside the file is read.
/// On bad input: a stop "not-svg" with the place, "drawing-too-large".
Result<Drawing> read_svg(const std::string& bytes);

}  // namespace spile::import
