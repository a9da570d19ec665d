// A made-up piece with no symmetry, and the means to run general tools on what was exported.
#pragma once

#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "core/paper/display_list.h"

namespace spile::sample {

/// 850 x 500 mm: right side bulging by 50, left side turned (backing 25.4 inside the face), a turned post hole at
/// (400, 250) with eight slits, two studs.
Piece piece();

Page page();  ///< A4 with a 200 mm rule, shapes with arcs, texts with fractions in several turns

/// Writes `bytes` to a file of this name in the folder of this test run; returns its path.
std::string written(const std::string& name, const std::string& bytes);

/// What a command writes to its standard output; fails the test when the command does.
std::string output_of(const std::string& command);

/// A script of this folder run by Debian's python (which has ezdxf), as lines.
std::vector<std::string> script(const std::string& name, const std::string& arguments);

std::vector<std::string> lines_of(const std::string& text);

/// While it lives the program is in a far time zone and in a locale of which the decimal point is two bytes long.
class Elsewhere {
  public:
    Elsewhere();
    ~Elsewhere();
};

}  // namespace spile::sample
