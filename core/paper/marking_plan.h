// The numbers of a marking sheet: what a hand with tape, straightedge, trammel and batten needs, and nothing drawn.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/base/length.h"
#include "core/geom/tolerance.h"
#include "core/paper/view.h"

namespace spile::paper {

/// `mark` space: the piece as it lies on the side that is marked, the datum line along +x, zero at its left end, y away
/// from the datum into the piece. Every `over` and `up` is read from these two lines; none is chained.
struct PlanMark {
    std::string name;  ///< "1", "2", ... on CUT THROUGH and for hole centres; "a", "b", ... on BACKING ONLY
    Vec2 true_mm;      ///< where it belongs
    PrintedLength over, up;

    Vec2 at() const { return {over.printed_mm, up.printed_mm}; }  ///< where the tape puts it
};

/// One stroke of the chalk from mark to mark.
struct PlanStroke {
    enum class How {
        straight,  ///< by the straightedge
        swing,   ///< by the trammel: its centre is where the radius from both ends crosses, on the side named
        disc,    ///< round a disc of that radius laid against both marks: no pivot
        batten,  ///< a batten bent through the marks `via`
    };
    How how = How::straight;
    std::size_t from = 0, to = 0;  ///< indices of marks
    PrintedLength radius;          ///< swing and disc
    bool bulges_right = true;      ///< of from -> to: outwards on an outer line
    Vec2 centre_mm;                ///< swing: true centre
    std::vector<std::size_t> via;  ///< batten
};

/// A corner drawn square to its mark and then rounded with a disc that touches both edges.
struct PlanRound {
    std::size_t mark = 0;
    PrintedLength radius;
    PrintedLength touch_before,
        touch_after;  ///< from the mark to where the disc touches the edge before and after it
    Vec2 centre_mm;   ///< true, for the drawing; no pivot is needed there
};

enum class Cut { through, backing_only };

/// A line to cut. Closed lines come back to the mark they began at; a line of the backing that runs on along the cut of
/// the face is open and begins and ends on it.
struct PlanLine {
    Cut cut = Cut::through;
    bool hole = false;
    std::string name;  ///< of a hole: the opening's id
    bool closed = true;
    std::vector<PlanStroke> strokes;
    std::vector<PlanRound> rounds;
    double departure_mm =
        0;  ///< of the line drawn from the printed numbers, from the true one: largest distance
    std::vector<Edge> true_edges;  ///< mark space
};

struct PlanCircle {
    std::optional<Cut> cut;  ///< none: the stitch line
    PrintedLength radius;
    double true_radius_mm = 0;
};
const char* name_of(Cut cut);                   ///< "CUT THROUGH", "BACKING ONLY"
const char* name_of(const PlanCircle& circle);  ///< likewise, or "stitch line"

struct PlanHole {
    std::string id;
    std::size_t centre = 0;  ///< a mark; it lies in waste
    double post_mm = 0;      ///< diameter of what passes; 0: not said
    Finish finish = Finish::turned;
    std::vector<PlanCircle> circles;  ///< smallest first
    int slits = 0;
    PrintedLength slit_radius;  ///< to which the slits run from the CUT THROUGH circle
    double departure_mm = 0;
};

struct PlanSlit {
    std::size_t from = 0, to = 0;
};

/// A distance to try with the tape before a line is drawn.
struct PlanCheck {
    std::size_t a = 0, b = 0;
    PrintedLength reads;  ///< between the marks as the printed sizes place them
};

/// Where an applied piece is set on this one: a line to chalk, never to cut.
struct PlanSet {
    std::string name, words;      ///< "3a", "heel pad"
    bool on_marked_side = true;   ///< else it goes on the side that lies down while this sheet is worked from
    Outline line;                 ///< mark space
    std::vector<PlanMark> marks;  ///< its corners, in order; of a round one its middle
    std::optional<PrintedLength> radius;  ///< of a round one
};

/// Where the two datum lines lie.
struct MarkFrame {
    bool on_back = true;
    bool datum_is_edge = false;  ///< else: the lines of the box along the goods
    Rigid mark_from_side;        ///< from the view's space (view_of)
    PieceView view;              ///< in mark space
    Box box;                     ///< of the line and its square corners, mark space
    double datum_from_mm = 0,
           datum_to_mm = 0;  ///< the stretch of the datum line, `over`, that is the piece's own edge
                             ///< (what rounds leave of it), else from zero to the far side of the box
};

struct MarkingPlan : MarkFrame {
    LengthStyle lengths;  ///< as rounded; may be finer than asked for, to keep within the allowance
    std::size_t datum_from = 0, datum_to = 0;  ///< marks at its ends when it is an edge

    std::vector<PlanMark> marks;
    std::vector<PlanLine> lines;  ///< the outer line first, then holes that are no circles, then BACKING ONLY
    std::vector<PlanHole> holes;
    std::vector<PlanSlit> slits;
    std::vector<PlanSet> sets;
    std::vector<PlanCheck> checks;       ///< the two diagonals
    std::vector<PlanCheck> side_checks;  ///< each mark of the outer line to the next
    std::vector<PlanCheck> hole_checks;  ///< each hole's centre from mark 1
    double turned_in_mm = 0;  ///< BACKING ONLY lies this far inside along turned edges; 0: no such line
    double departure_mm = 0;  ///< largest of all lines and holes: "line within"
    std::string within;       ///< that, rounded up, with its unit: "3⁄64 in"
};

struct MarkingOptions {
    bool on_back = true;
    LengthStyle lengths;
    double trammel_reach_mm = 72 * 25.4;  ///< common practice: a 6 ft beam
    double disc_most_mm = 12 * 25.4;      ///< largest disc cut of card for a corner; common practice
    Allowance departure{25.4 / 16};
    std::vector<const AppliedPiece*> applied;  ///< of this piece
    std::vector<Region>
        neighbours;  ///< other pieces on the roll, in the view's space: no pivot may prick them
};

/// Fills `plan.sets` from the applied pieces of the options. Requires: the plan's frame and lengths are settled.
void plan_sets(MarkingPlan& plan, const MarkingOptions& options);

/// The datum is the longest straight edge that has the whole piece on one side (of edges at least 9/10 as long the one
/// that turns the sheet least), if it is at least a third of the piece's length along it; else the lower and left line of
/// the piece's box along the goods. Requires: piece.cut.face.outer is a simple counter-clockwise outline.
MarkFrame mark_frame(const Piece& piece, const MarkingOptions& options);

/// Guarantees:
/// 1. `over` and `up` of marks are the true places rounded to the tape (ties to even), none negative.
/// 2. Datum lines as `mark_frame` says.
/// 3. Trammel pivots lie in waste: outside the face cut and every neighbour.
/// 4. `departure_mm` is computed by drawing each line from the printed numbers alone. When the marks asked for leave it
///    above the allowance, the next finer marks (to 1/32 in or 0.5 mm) are used; what is then left is stated.
/// Requires: piece.cut.face.outer is a simple counter-clockwise outline.
MarkingPlan plan_marking(const Piece& piece, const MarkingOptions& options);

/// The line as a hand draws it from the printed numbers alone.
std::vector<Edge> drawn_from_numbers(const MarkingPlan& plan, const PlanLine& line);

/// Largest distance of any point of one chain from the other, both ways, within `resolution`.
double departure_between(const std::vector<Edge>& a, const std::vector<Edge>& b, Resolution resolution);

}  // namespace spile::paper
