// A piece drawn small beside its words, always with the arrow that tells its hand and the side in words.
#pragma once

#include <string>
#include <vector>

#include "core/paper/view.h"

namespace spile::paper {

/// A corner as if it were square, and the point it is named after.
struct NamedCorner {
    Vec2 at;
    std::string name;
};
/// Where the straight edges of an outline of the piece would meet, in its order. `outline`: tagged by piece.edges.
std::vector<NamedCorner> corners_of(const Outline& outline, const Piece& piece, double disc_most_mm);

/// Corners of the finished outline: "4 of 2 in radius and 1 square".
std::string corner_words(const PaperInput& in, const Piece& piece);

struct PictureWants {
    bool from_back = false;
    bool finished = false;   ///< the finished edge with its stitch lines; else the cut lines
    bool corners = false;    ///< named
    bool diagonals = false;  ///< dashed between corners, as a check sheet measures them
    std::string words;       ///< under it; empty: the side
};

/// Diagonals that fix a figure of so many corners, with one to spare: pairs of indices.
std::vector<std::pair<std::size_t, std::size_t>> diagonals_of(std::size_t corners);

/// Guarantees: the arrow with its flag is drawn once; texts keep clear of one another and of the box.
void draw_piece_picture(Canvas& canvas, const Box& box, const PaperInput& in, const Piece& piece,
                        const PictureWants& wants);

}  // namespace spile::paper
