// Snaps against what is sewn, folded and cut about them.
#pragma once

#include "core/base/reporter.h"
#include "core/edging/piece.h"

namespace spile {

/// Half the width of the base of a snap, of its socket and its cap (from memory: 15 mm and a little).
inline constexpr double snap_half_mm = 8;

/// Counts the flaps under each stud of a piece and says where the base of a snap would stand on a stitch line, on the edge of
/// a binding, on a folded relief cut or across the end of a folded flap, or on another snap: once for each such thing, with the
/// least distance and all that stand so; of cuts and ends with the nearest clear place along the edge. Requires: boat space; studs, seams, holes and cuts of the piece made.
void judge_snaps(const Panel& panel, const FinishSettings& finish, Piece& piece, Reporter& report);

}  // namespace spile
