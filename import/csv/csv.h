// CSV: points of outlines, one a line.
#pragma once

#include <string>

#include "core/base/result.h"
#include "import/outlines/drawing.h"

namespace spile::import {

/// Closed outlines from lines of two numbers, over and up, behind them anything. An empty line, or another word in a third
/// column headed "layer" or "outline", begins the next outline. Columns stand between commas, semicolons or tabs; beside
/// semicolons and tabs a comma is a decimal one. A first line of words is a heading; the unit comes from it ("x mm", "over (in)").
/// Lines that begin with # are passed over.
/// On bad input: a stop "not-csv" with the line, "drawing-too-large".
Result<Drawing> read_csv(const std::string& bytes);

}  // namespace spile::import
