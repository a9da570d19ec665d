// A page as an SVG file at true size, for screens and browsers.
#pragma once

#include <string>

#include "core/paper/display_list.h"

namespace spile {

/// Guarantees: width and height in mm with a viewBox of the same numbers; texts are text, each character at
/// the place lay_out gives it whatever font the viewer has (Inter is asked for); fractions are fractions in every
/// viewer; arcs stay arcs. Same page, same bytes.
std::string page_svg(const Page& page, const std::string& title);

}  // namespace spile
