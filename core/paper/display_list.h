// The display list: what a page shows, in page millimetres (y down), and nothing about the trade.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "core/geom/outline.h"

namespace spile {

/// Black-and-white safe ink: 0 black .. 1 white.
struct Ink {
    double grey = 0;
};

struct Stroke {
    double width_mm = 0.35;
    Ink ink{};
    std::vector<double> dash_mm;  ///< on, off, ...; empty: solid
};

/// A line drawing: chains of lines and arcs, stroked and/or filled (even-odd). Arcs stay arcs.
/// Page space is y down, so a bulge > 0 turns clockwise as seen; core/paper makes the chains with page_from_X.
struct Shape {
    std::vector<Outline> closed;
    std::vector<Path> open;
    bool stroked = true;
    Stroke stroke;
    bool filled = false;
    Ink fill;
};

enum class Weight { regular, semibold };
enum class Anchor { start, middle, end };

/// One line of text, baseline at `at_mm`. U+2044 between digits is drawn as a true fraction.
struct Text {
    Vec2 at_mm;
    std::string utf8;
    double size_mm = 3.5;  ///< em size
    Weight weight = Weight::regular;
    Anchor anchor = Anchor::start;
    double angle_deg = 0;  ///< counter-clockwise as seen
    Ink ink{};
};

/// A QR code of a text, its quiet zone of 4 modules within the square. What is dark is worked out when it is drawn.
struct QrCode {
    Vec2 at_mm;  ///< upper left
    double size_mm = 25;
    std::string utf8;  ///< 1 to 2000 bytes
};

using Item = std::variant<Shape, Text, QrCode>;

struct Page {
    double width_mm = 210;
    double height_mm = 297;
    std::vector<Item> items;  ///< later ones on top
};

/// One paper: a file's worth of pages.
struct Sheet {
    std::string file_stem;  ///< "marking-3-round-the-post"
    std::string title;
    std::string purpose;   ///< one line for the index: who holds it and what for
    bool cutting = false;  ///< blocked while there is a stop
    std::vector<Page> pages;
};

/// Advance width of a text as every renderer will draw it, from the table of the shipped font (text_layout.h has more).
double text_width_mm(const std::string& utf8, double size_mm, Weight weight);
Box text_box_mm(const Text& text);  ///< ascender to descender, turned by the angle

}  // namespace spile
