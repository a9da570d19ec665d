// Small pieces of SVG that both drawings share.
#pragma once

#include <string>

#include "core/geom/outline.h"

namespace spile {

/// Bound on how far a drawn line leaves its outline because numbers are written to 0.0001 mm.
inline constexpr double svg_error_mm = 0.001;

std::string svg_number(double mm);  ///< Requires: finite

/// Text or attribute value in well-formed XML 1.0, whatever the bytes.
std::string xml_escaped(const std::string& utf8);

/// `d` of a path element, in SVG's own coordinates (y down, a bulge > 0 turns clockwise as seen). Arcs stay
/// arcs; one well over a quarter circle is written as two, because the centre of a half circle hangs on
/// the last digit.
std::string svg_path(const Outline& outline);
std::string svg_path(const Path& path);

}  // namespace spile
