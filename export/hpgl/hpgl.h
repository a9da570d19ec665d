// Cut lines for plotters and cutters that read HP-GL.
#pragma once

#include <string>
#include <vector>

#include "core/base/result.h"
#include "export/lines/machine_drawing.h"

namespace spile {

/// Bound on how far what is drawn leaves the drawing: units of 0.025 mm, and arcs about a centre of such units.
inline constexpr double hpgl_error_mm = 0.06;

/// Coordinates a device can hold.
enum class HpglRange {
    wide,         ///< 32 bit: any drawing in one file
    sixteen_bit,  ///< 0 .. 32767 units, 819 mm each way: the drawing is split along the goods
};

/// One file for each strip, in order from the cut end; strip k begins at x = k x hpgl_strip_mm, which is its own 0, and is
/// fed on by exactly that length. One strip when the range is wide.
/// Guarantees: pens 1 to 6 for goods, marks, stitch, slits, backing only, cut through; lines in the order of the
/// drawing, within `hpgl_error_mm`; arcs as AA with the chord angle that keeps the bound, as chords where a centre lies out
/// of range; lines that cross a strip's end go on in the next; plain ASCII. Same drawing, same bytes.
/// On bad input: a stop "too-wide-for-plotter" when the drawing is wider than a sixteen-bit device can reach.
/// Source: HP-GL of the HP 7475A and later pen plotters (from memory): IN, SP, PU, PD, PA, AA, SI, LO, LB.
Result<std::vector<std::string>> hpgl_strips(const MachineDrawing& drawing, HpglRange range);

inline constexpr double hpgl_strip_mm = 800;

}  // namespace spile
