// The folding oracle: folds the flaps of a piece on polygons and looks how they lie. Shares no code with core/edging or with
// the offsets of core/geom: its own flattening, Clipper's polygons, and only the lines of the piece.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "core/edging/piece.h"

namespace spile::testing_folds {

/// SPILE_FOLDS=5000 runs that many of whatever is random instead.
int how_many(int usual);

struct Folding {
    std::vector<std::string> faults;  ///< empty: every flap lies right
    double bare_mm2 = 0;  ///< of the bands behind turned edges that no flap covers, exceptions apart
    int flaps = 0, tabs = 0;
};

struct FoldWants {
    double margin_mm = 0;  ///< cuts stop this far outside the net line
    double facet_mm = 0;   ///< between two relief cuts
    double least_mm = 0;   ///< flap that must lie behind an edge
    double thick_mm = 0;   ///< backing
    double trim_mm = 0;    ///< the over flap stops short by this
    double turn_mm = 0;
    bool mitred = false;
    double growth_mm = 0;  ///< of bound edges
};

/// By the settings; the margin worked out here, not asked of the program.
inline FoldWants wants_of(const FinishSettings& s) {
    FoldWants w;
    w.margin_mm = std::max(s.slit_short_mm, s.backing_thickness_mm + 25.4 / 8);
    w.facet_mm = s.facet_mm;
    w.least_mm = 2 * s.stitch_from_edge_mm;
    w.thick_mm = s.backing_thickness_mm;
    w.trim_mm = s.end_trim_mm;
    w.turn_mm = s.turn_mm;
    w.mitred = s.mitred_corners;
    w.growth_mm = s.binding_growth_mm;
    return w;
}

/// Its faults in one line; empty when there are none.
inline std::string said(const Folding& folding) {
    std::string all;
    for (const std::string& f : folding.faults) all += f + "; ";
    return all;
}

/// Finish of each edge of the net line by its tag: -1 is a rounded corner, bound where a neighbour is, else as before it.
/// The piece's flaps: face less net, cut along the flap cuts, what they cut off taken away. Each is reflected over its edge
/// (straight edges and smooth arcs exactly, arcs with relief cuts tab by tab over the chord between two cuts). Required:
/// 1. folded it lies inside the net line (by 0.03 mm, along arcs by the facet), but for the goods at the root of a corner
///    notch, within margin / sin(min(angle, 90 degrees)) of the corner, that are folded twice;
/// 2. no place has more than two flaps, roots apart;
/// 3. the band of least width inside each turned edge is covered, but for the roots of corner notches, the sides of relief
///    slits (2 s per radian at depth s), and inside corners, within least / tan(half the outer angle) of them, inside curves
///    too tight for the goods among them;
/// 4. the chord from one relief cut to the next stands off the net line by no more than the facet;
/// 5. no cut comes nearer to the net line than the margin, or lies inside it;
/// 6. long edges have a flap as wide as the turn.
/// What is less than 2 mm2 is let pass: slivers beside arcs, where an end is straight and its mirror image is not.
Folding fold(const Piece& piece, const FoldWants& wants);

/// The same for a turned hole, by its index: its flaps, folded, lie outside its rim, in the goods round it.
Folding fold_hole(const Piece& piece, std::size_t hole, const FoldWants& wants);

}  // namespace spile::testing_folds
