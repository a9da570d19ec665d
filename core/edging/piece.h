// The result header of edging: pieces of goods to cut.
#pragma once

#include <string>
#include <vector>

#include "core/base/finding.h"
#include "core/base/result.h"
#include "core/base/run_context.h"
#include "core/geom/transform.h"
#include "core/shape/panel.h"

namespace spile {

/// A length of sewing or binding along one or more edges, piece space.
struct Seam {
    std::string name;  ///< "binding, all round", "turned edge A B", "round the post"
    Path path;         ///< of the stitch line; closed seams repeat their first point
    double length_mm = 0;
    bool closed = false;
};

/// What one edge of the piece becomes, for the papers.
struct EdgeReport {
    std::string from, to;
    EdgePlan plan;
    double net_length_mm = 0;  ///< between the net corners as they would be unrounded
    double cut_length_mm = 0;
};

/// A finished hole: net (backing) and face cuts are circles about one centre.
struct HoleReport {
    std::string id;
    Vec2 centre_mm;  ///< piece space
    Finish finish = Finish::turned;
    double post_diameter_mm = 0;
    double net_diameter_mm = 0;
    double face_cut_diameter_mm = 0;
    double backing_cut_diameter_mm = 0;
    double stitch_diameter_mm = 0;
    int slits = 0;  ///< from the face cut outward, evenly spaced
    double slit_outer_diameter_mm = 0;
};

/// The cut lines of a piece, in piece space: seen from the face, direction arrow along +x, lower left of the
/// face cut's box at the origin.
struct CutLines {
    Region face;     ///< CUT THROUGH: face and backing together
    Region backing;  ///< BACKING ONLY; equals `face` where bound or sealed
};

struct Piece {
    std::string id;  ///< of the panel
    int number = 0;  ///< 1, 2, ... in the order of the panels; what is chalked on the back
    std::string name;
    Rigid piece_from_boat;
    CutLines cut;
    Region net;               ///< piece space
    std::vector<Path> slits;  ///< piece space
    std::vector<Seam> seams;
    std::vector<EdgeReport> edges;
    std::vector<HoleReport> holes;
    std::vector<Stud> studs;
    double binding_mm = 0;  ///< length of binding with overlaps
    double area_mm2 = 0;    ///< of the face cut
};

/// Pieces of goods for panels, numbered in their order.
///
/// Cut lines, per edge, from the net line: bound: face and backing moved into the material by the binding's
/// growth (outside edges smaller, holes larger); turned: face moved out by the turn, backing at the net line;
/// sealed: both at the net line. Where finishes meet the lines are prolonged until they cross.
/// An edge left long has both lines so much further out. Seams stay where the finished edge will be.
///
/// Requires: panels as `shape` guarantees them; settings without faults.
/// Guarantees: (1) all findings collected; (2) a panel that cannot be cut is left out with a stop that says
/// why, its number is not used again; (3) the face contains the backing; (4) piece_from_boat only moves,
/// never turns or mirrors: +x stays toward the bow. `lengths`: how findings say a length.
Result<std::vector<Piece>> edge_pieces(const std::vector<Panel>& panels, const FinishSettings& finish,
                                       const RunContext& run, const LengthStyle& lengths = {});

}  // namespace spile
