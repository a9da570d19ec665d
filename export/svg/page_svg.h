// A page as an SVG file at true size, for screens and browsers.
#pragma once

#include <string>
#include <vector>

#include "core/paper/display_list.h"

namespace spile {

/// Draws a QR code: the dark squares of a text within a square whose upper left is `at_mm`, y down, `size_mm` a side.
using CodeSquares = std::vector<Outline> (*)(const std::string& utf8, Vec2 at_mm, double size_mm);

/// `code` is `qr_squares` wherever its library is to be had.
/// Guarantees: width and height in mm with a viewBox of the same numbers; texts are text, each character at
/// the place lay_out gives it whatever font the viewer has (Inter is asked for); fractions are fractions in every
/// viewer; arcs stay arcs. Same page, same bytes.
std::string page_svg(const Page& page, const std::string& title, CodeSquares code);

}  // namespace spile
