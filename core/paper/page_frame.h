// The design of a page: grid, type, header with the piece's number, the bar that says the side, footer.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "core/paper/sheets.h"

namespace spile::paper {

/// Type sizes, em in mm. Capitals and figures are 0.727 em high. From memory of ISO 9241-303: 16 minutes of arc is
/// the least for comfortable reading, 20 to 22 are better; at 1 m 16 minutes are 4.7 mm and 10 minutes, the least
/// that is read without effort word by word, are 2.9 mm.
namespace type {
inline constexpr double number = 19;   ///< of the piece, in the header
inline constexpr double title = 8.2;   ///< its name; the bar
inline constexpr double figure = 7.0;  ///< a size on a drawing: 17 minutes of arc at 1 m
inline constexpr double table = 6.0;   ///< a size in a table
inline constexpr double body = 4.4;    ///< steps and sentences
inline constexpr double small = 3.6;   ///< headings of columns, footer: read in the hand
inline constexpr double least = 2.8;   ///< nothing is ever set smaller
inline constexpr double line = 1.26;   ///< from baseline to baseline, in ems; boxes of text then never touch
}  // namespace type

namespace ink {
inline constexpr Ink black{0};
inline constexpr Ink white{1};
inline constexpr Ink soft{0.45};  ///< guide lines
inline constexpr Ink tint{0.92};  ///< a ground that still photocopies as nearly white
}  // namespace ink

/// A page being drawn.
struct Canvas {
    Page page;

    Canvas(double width_mm, double height_mm);
    /// Returns the box it takes. An empty text draws nothing.
    Box text(Vec2 at, const std::string& utf8, double size, Weight weight = Weight::regular,
             Anchor anchor = Anchor::start, Ink colour = ink::black, double angle_deg = 0);
    void line(Vec2 a, Vec2 b, const Stroke& stroke);
    void chain(const std::vector<Vec2>& points, const Stroke& stroke);
    void frame(const Box& box, const Stroke& stroke);
    void fill(const Box& box, Ink colour);
    void disc(Vec2 centre, double radius, const Stroke& stroke, bool filled, Ink colour = ink::white);
    void tick_box(Vec2 baseline, double size);  ///< an empty square to tick, standing on the baseline
};

// --- setting text -------------------------------------------------------------------------------------------

/// Marks a stretch to be set semibold by `wrapped`.
std::string strong(const std::string& text);

struct Run {
    std::string utf8;
    Weight weight = Weight::regular;
    double x_mm = 0;  ///< from the start of the line
};
struct TextLine {
    std::vector<Run> runs;
    double width_mm = 0;
};

/// Breaks a text with `strong` stretches into lines no wider than `width_mm`, between words, never between a figure
/// and its fraction or unit; a word wider than the line is broken within. At least one line.
std::vector<TextLine> wrapped(const std::string& text, double width_mm, double size_mm,
                              Weight weight = Weight::regular);
/// The first `most` lines of it, the last ending in "…" when something is left out.
std::vector<TextLine> wrapped_at_most(const std::string& text, double width_mm, double size_mm,
                                      std::size_t most, Weight weight = Weight::regular);

/// One line no wider than `width_mm`: smaller down to `least_mm`, then cut short with "…".
struct Fitted {
    std::string utf8;
    double size_mm = 0;
};
Fitted fitted(const std::string& text, double width_mm, double size_mm, Weight weight,
              double least_mm = type::least);

/// Draws lines from the baseline of the first; returns the baseline a next line would have.
double draw_lines(Canvas& canvas, Vec2 baseline, const std::vector<TextLine>& lines, double size_mm);

/// As `fitted`, drawn.
Box draw_fitted(Canvas& canvas, Vec2 at, const std::string& text, double width_mm, double size_mm,
                Weight weight = Weight::regular, Anchor anchor = Anchor::start, Ink colour = ink::black);

// --- the frame ----------------------------------------------------------------------------------------------

struct FrameText {
    std::string number;  ///< large; may be empty
    std::string name;
    std::string right_1, right_2;  ///< job and boat; how sizes are said
    std::string bar;               ///< the side in words; empty: no bar
    std::string bar_right;
    std::string foot_left;  ///< "Piece 3 of 5"
    std::string foot_right;
};

/// What is left for the content of a page of this size.
Box content_box(const PaperSize& paper, bool with_bar);
/// Draws header, bar and footer; `sheet` of `sheets` is added to the footer.
void draw_frame(Canvas& canvas, const FrameText& text, int sheet, int sheets);

PaperSize landscape(const PaperSize& paper);  ///< the longer side across

/// Pages filled from the top; a new one is begun when the next block does not fit.
class Flow {
  public:
    Flow(PaperSize paper, FrameText text);

    /// Makes room for a block `height_mm` high (at most a page); the block begins at `y()`.
    void need(double height_mm);
    void new_page();
    void skip(double height_mm) { y_ += height_mm; }
    double y() const { return y_; }
    double left() const { return area_.max.y - y_; }
    Canvas& canvas() { return pages_.back(); }
    const Box& area() const { return area_; }
    /// A heading with room for at least `with_mm` under it.
    void heading(const std::string& text, double with_mm = 12);
    void paragraph(const std::string& text, double size_mm = type::body);

    /// `before`, `after`: sheets of the same paper that were drawn by others, so that all are numbered through.
    std::vector<Page> finish(int before = 0, int after = 0);

  private:
    PaperSize paper_;
    FrameText text_;
    Box area_;
    double y_ = 0;
    std::vector<Canvas> pages_;
};

/// A table in a flow: columns by share of the width, rows no higher than they need, the head repeated on every page.
struct Column {
    std::string head;
    double share = 1;
    Anchor anchor = Anchor::start;
    Weight weight = Weight::regular;
    std::size_t most_lines = 1;
};
void draw_table(Flow& flow, const std::vector<Column>& columns,
                const std::vector<std::vector<std::string>>& rows, double size_mm = type::body);
/// The same in a place of its own, on this page alone; returns where it ends.
double draw_table(Canvas& canvas, Vec2 top_left, double width_mm, const std::vector<Column>& columns,
                  const std::vector<std::vector<std::string>>& rows, double size_mm = type::body);
double table_height(double width_mm, const std::vector<Column>& columns,
                    const std::vector<std::vector<std::string>>& rows, double size_mm = type::body);
/// Of a column's width what stays white, mm.
inline constexpr double kTablePads = 3;
/// Pitch of rows of one line, ems; the last line of a page is a little higher.
inline constexpr double kTableRow = 1.7;

// --- words --------------------------------------------------------------------------------------------------

/// "BACK, MIRRORED" or "FACE".
std::string side_words(bool on_back);
/// "inches, to the nearest 1⁄16" or "millimetres, to the nearest 0.5".
std::string units_words(const LengthStyle& style);
/// A length with its unit, "56 1⁄4 in".
std::string length_words(double mm, LengthStyle style);
/// "6 stitches to the inch (4.2 mm)" or "4.0 mm".
std::string stitch_words(double stitch_mm, const LengthStyle& style);
std::string joined(const std::string& a, const std::string& between,
                   const std::string& b);  ///< of two that may be empty

}  // namespace spile::paper
