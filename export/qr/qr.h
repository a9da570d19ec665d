// QR codes: which squares are dark.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "core/geom/outline.h"

namespace spile {

struct QrModules {
    std::size_t side = 0;    ///< modules along a side, without the quiet zone
    std::vector<bool> dark;  ///< row by row from the top

    bool at(std::size_t row, std::size_t column) const { return dark[row * side + column]; }
};

/// The code of a text as bytes, with error correction M (15 %): ISO/IEC 18004, made by libqrencode.
/// Requires: 1 to 2000 bytes. Same text, same code.
QrModules qr_modules(const std::string& utf8);

/// Its dark squares as outlines within a square whose upper left is `at_mm`, y down, a quiet zone of 4 modules included; squares
/// of a row that touch are one.
std::vector<Outline> qr_squares(const std::string& utf8, Vec2 at_mm, double size_mm);

}  // namespace spile
