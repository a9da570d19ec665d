// Inside of the marking sheet: its drawing and its words.
#pragma once

#include <string>
#include <vector>

#include "core/paper/marking_plan.h"

namespace spile::paper {

/// What the hand does, in order; `strong` stretches.
std::vector<std::string> steps_of(const MarkingPlan& plan, const Piece& piece, const PaperInput& in);

/// Rows of the table of marks. A heading row has only `mark`.
struct MarkRow {
    std::string mark, over, up, check;
    bool heading = false;
};
std::vector<MarkRow> rows_of(const MarkingPlan& plan);

/// "bound all round", "bound and turned".
std::string finish_words(const Piece& piece);

/// The drawing, in `area` and nowhere else; what to chalk goes to `spare` (may be empty) when the piece is too small for it.
/// Guarantees: the arrow with its flag is drawn, once.
void draw_marking(Canvas& canvas, const Box& area, const Box& spare, const MarkingPlan& plan,
                  const Piece& piece);

/// The scale the drawing would have in that area, page mm per mm of the piece.
double marking_scale(const Box& area, const MarkingPlan& plan, const Piece& piece);

/// Where a piece lies on the roll, on the side that is marked: distances `along` from the cut end (x) and `across` from the
/// near edge of the usable width as that side shows it (y). Its datum line is given by two points that lie on the piece,
/// so on the goods: zero may lie beyond their edge.
struct OnRoll {
    struct Point {
        PrintedLength over;  ///< of the datum line; exact
        Vec2 at;
    };
    Point first, second;
    Box box;  ///< of the piece
    Rigid roll_from_mark;
    std::string cut_from;  ///< "roll 3, lot 0417", of a layout over several lengths
    std::string turned;    ///< "bow to the cut end", of a piece that does not lie along the goods
};
std::optional<OnRoll> on_roll(const PaperInput& in, const Piece& piece, const MarkFrame& frame);

/// Options of the plan of a piece as the papers ask for it: neighbours from the layout.
MarkingOptions marking_options(const PaperInput& in, const Piece& piece);

}  // namespace spile::paper
