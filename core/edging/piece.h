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
    Path
        path;  ///< of the stitch line, tagged with the edges of the panel, below 0 round a hole; closed seams
               ///< repeat their first point
    double length_mm = 0;
    bool closed = false;
    double binding_mm = 0;  ///< to cut for it, overlap included; 0 where it is not bound
};

/// What one edge of the piece becomes, for the papers.
struct EdgeReport {
    std::string from, to;
    EdgePlan plan;
    double net_length_mm = 0;  ///< between the net corners as they would be unrounded
    double cut_length_mm = 0;
    // Turned edges; else 0.
    double turn_mm = 0;   ///< the least width of its flap, of what is left beyond the net line
    int turn_round = 0;   ///< 1, 2, ...: edges of round 1 are turned and sewn first, then the corners notched
    int relief_cuts = 0;  ///< along its curve
    double relief_pitch_mm = 0;  ///< the shortest stretch of its fold from one relief cut to the next
};

/// A cut in the flap of a turned edge, made before it is folded: beside the cut lines, not part of them.
struct FlapCut {
    enum class Kind {
        corner_notch,  ///< where two turned edges meet in an outside corner: goods to be taken out
        corner_slit,   ///< the same in an inside corner: one cut
        notch,         ///< on an outside curve
        slit,          ///< on an inside curve
    };
    Kind kind = Kind::slit;
    Path path;       ///< piece space; from the face cut inward; a notch comes back to the face cut
    std::string at;  ///< the corner, or the edge as the person named it; of an opening its id
};

/// A finished hole. Of a round one net, face and backing cuts are circles about one centre; of another form they are the
/// holes of the piece's regions at the same index, the diameters 0 and its relief cuts among `flap_cuts`.
struct HoleReport {
    std::string id;
    Vec2 centre_mm;  ///< piece space; of other forms than round the middle of its box
    Finish finish = Finish::turned;
    double post_diameter_mm = 0;
    double net_diameter_mm = 0;
    double face_cut_diameter_mm = 0;
    double backing_cut_diameter_mm = 0;
    double stitch_diameter_mm = 0;
    int slits = 0;  ///< from the face cut outward, evenly spaced
    double slit_outer_diameter_mm = 0;

    bool round = true;
    double along_mm = 0, across_mm = 0;  ///< finished, of other forms than round
    double rim_mm = 0;                   ///< length of the net line round it
    double turn_mm = 0;                  ///< of what is folded back; 0 when it is not turned
};

/// A match mark on the goods: a stroke square to the joint, piece space.
struct MatchStroke {
    std::string name, other;  ///< as in MatchMark
    Vec2 from_mm;             ///< on the face cut
    Vec2 to_mm;               ///< in the piece, beyond what the finish will cover
};

/// The cut lines of a piece, in piece space: seen from the face, direction arrow along +x, lower left of the
/// face cut's box at the origin.
struct CutLines {
    Region face;     ///< CUT THROUGH: face and backing together
    Region backing;  ///< BACKING ONLY; equals `face` where bound or sealed
};

struct Piece {
    std::string id;           ///< of the panel
    int number = 0;           ///< 1, 2, ... in the order of the panels; what is chalked on the back
    std::string letter = {};  ///< of an applied piece: "a" of the first on panel `number`
    std::string name;
    Rigid piece_from_boat;
    CutLines cut;
    Region net;               ///< piece space
    std::vector<Path> slits;  ///< of turned round holes, piece space
    std::vector<FlapCut> flap_cuts;
    std::vector<Seam> seams;
    std::vector<EdgeReport> edges;
    std::vector<HoleReport> holes;
    std::vector<Stud> studs;
    std::vector<MatchStroke> match_strokes;
    double binding_mm = 0;         ///< length of binding with overlaps
    double area_mm2 = 0;           ///< of the face cut
    double cut_margin_mm = 0;      ///< flap cuts stop this far outside the net line; 0 when nothing is turned
    double tape_from_edge_mm = 0;  ///< middle of the free end of the flap, where it is taped; 0 likewise
};

/// What is chalked on a piece and said of it: "3", of an applied piece "3a".
inline std::string called(const Piece& piece) {
    return std::to_string(piece.number) + piece.letter;
}

/// A piece of its own that is put on a panel, with its own cut lines.
struct AppliedPiece {
    std::string panel;  ///< id
    AppliedPlan plan;
    Outline square;  ///< as `set`, its corners not rounded
    Outline
        set;  ///< piece space of its panel, seen from the panel's face: the line it is set to, its finished edge
    std::optional<Seam> sewn_on;  ///< piece space of its panel
    /// In a space of its own, seen from its own face; id "panel/applied". Of the panel's own goods: direction along +x. Of
    /// other goods: as it is cut from them, +x along the roll or tape.
    Piece piece;

    bool own_goods() const { return plan.goods.empty(); }
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

/// Pieces for what is put on the panels, in their order; those of one panel have letters a, b, ... in theirs. One that lies on
/// the back is seen from its own face, mirrored to the panel's. Cut lines as those of panels; goods other than the panel's are of
/// one layer. `pieces`: of the panels.
/// Guarantees: what cannot be cut or sewn is left out, or kept, with a stop that says why.
Result<std::vector<AppliedPiece>> edge_applied(const std::vector<Panel>& panels,
                                               const std::vector<Piece>& pieces, const FinishSettings& finish,
                                               const RunContext& run, const LengthStyle& lengths = {});

}  // namespace spile
