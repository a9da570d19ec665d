// Text as a DXF file can hold it.
#pragma once

#include <string>

namespace spile {

/// One line of ASCII: other characters as \U+XXXX (above U+FFFF as U+FFFD), U+2044 as a slash, control characters as
/// spaces, and nothing that a reader would take for one of DXF's own codes (%%, ^, \).
/// Source: published DXF reference, release 2000, TEXT and "String group codes" (from memory).
std::string dxf_text(const std::string& utf8);

}  // namespace spile
