// Inside of the marking sheet: the drawing, laid out (marking_drawing.cpp) and labelled (marking_notes.cpp).
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/paper/marking_parts.h"

namespace spile::paper {

/// A running size at one of the two datum lines, with the marks it belongs to.
struct Rung {
    double mm = 0;
    std::string names, figure;
};

inline constexpr double kTop = 0.97;  ///< ascender and descender of the shipped font, em
inline constexpr double kDeep = 0.242;
inline constexpr double kNote = 4.2;  ///< em of a note on the drawing

/// One drawing of one plan. Text goes only where `field_` has room; what has none is in the table or the steps.
class Drawing {
  public:
    /// `kept` mm at the right (x) and at the top (y) are left free for what to chalk.
    Drawing(Canvas& canvas, const Box& area, const Box& spare, Vec2 kept, const MarkingPlan& plan,
            const Piece& piece)
        : canvas_(canvas),
          area_(area),
          spare_(spare),
          kept_(kept),
          plan_(plan),
          piece_(piece),
          field_(area) {}

    /// False when there was no room for the arrow, which cannot be when room is kept: the drawing is then unfinished.
    bool draw();

    /// Page mm per mm of the piece.
    double scale();

    /// What must be kept so that there is room beside the piece for what to chalk.
    Vec2 needs() const;

  private:
    enum class Overs { none, level, two_rows, upright };

    // How large, and the two datum lines (marking_drawing.cpp).
    std::vector<Rung> rungs(bool over) const;  ///< ascending, one for each printed size
    double rung_width(const Rung& r) const;
    void legend();
    bool has_backing_lines() const;
    /// Sets aside room for the running sizes where the drawing does not suffer from it, and fits the piece.
    void lay_out(const std::vector<Rung>& overs, const std::vector<Rung>& ups);
    void datum_lines();
    void zero();                                      ///< one zero, where the two lines cross
    void draw_ups(const std::vector<Rung>& ups);      ///< at the left, each beside its height
    void draw_overs(const std::vector<Rung>& overs);  ///< below, level or upright
    void draw_overs_in_two_rows(
        const std::vector<Rung>& overs);  ///< below, every second one under the others
    void over_tick(Vec2 tick, double x, double top, const Rung& r);
    void rung_text(const Rung& r, Vec2 at, double angle);
    /// Dotted from a tick across to the furthest of its marks; left out when there would be too many to follow.
    void guide(Vec2 tick, const Rung& r, bool over);
    void diagonals();
    void lines();

    // Labels (marking_notes.cpp).
    struct NoteLine {
        std::string text;
        double size = kNote;
        Weight weight = Weight::regular;
    };
    struct ArrowBlock {
        Witness witness;
        std::vector<Text> words;
        Box box;
    };
    /// Outwards at a mark of a line: between the normals of the two strokes that meet there.
    Vec2 outwards(const PlanLine& line, std::size_t mark) const;
    bool side_on_page(const Box& b) const;  ///< the middle of the box is inside the piece
    void white_under(const Box& box) { canvas_.fill(grown(box, -0.4), ink::white); }
    void lead(const LabelField::Placed& p);
    /// Lines of text as one label; true when there was room. `stop`: radius about `at` that it and its leader keep off.
    bool note(const std::vector<NoteLine>& lines, Vec2 at, Vec2 prefer, double near, double reach,
              double stop = 0);
    void marks();
    void mark_number(std::size_t mark, Vec2 prefer, double stop = 0);
    double hole_arm(const PlanHole& hole) const;  ///< half the cross over a hole, page mm
    void backing_letter(std::size_t mark, Vec2 prefer);
    void match_marks();
    void studs();
    void stud_notes();
    /// The arrow with its flag and what to chalk beside it, as one block inside the piece as large as there is
    /// room for, else in the spare place. False when neither has room.
    bool arrow();
    void arrow_aside();  ///< in the room kept for it
    ArrowBlock block_at(Vec2 middle, double length) const;
    void draw_block(const ArrowBlock& block);
    void set_notes();  ///< of applied pieces
    void hole_notes();
    void check_notes();
    void line_names();  ///< the words of each kind of line beside it, once

    Canvas& canvas_;
    Box area_, spare_;
    Vec2 kept_;
    const MarkingPlan& plan_;
    const Piece& piece_;
    LabelField field_;
    PageFrom page_;
    double top_ = 0;             ///< under the legend
    double left_ = 0, low_ = 0;  ///< room at the left; the datum line, page y
    double zero_x_ = 0;
    Vec2 bar_at_;
    bool show_ups_ = false;
    Overs show_overs_ = Overs::none;
};

}  // namespace spile::paper
