// What a cutting machine is given, before any file format: lines with a purpose, seen from one side of the goods.
#pragma once

#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "core/layout/layout.h"

namespace spile {

/// The side of the goods that lies uppermost on the table.
enum class SeenFrom { face, back };
const char* words_for(SeenFrom side);  ///< "face", "back, mirrored"
const char* file_word(SeenFrom side);  ///< for a file name: "face", "back-mirrored"

/// In the order a piece is worked, so that it is cut loose last.
enum class Purpose { goods, marks, stitch, slits, backing_only, cut_through };
const char* words_for(Purpose purpose);  ///< "cut through"
const char* layer_for(Purpose purpose);  ///< "CUT_THROUGH": name of a layer or group in every format

struct MachineLine {
    Purpose purpose = Purpose::cut_through;
    std::string piece;  ///< id; empty for the goods
    std::string
        name;  ///< "outside", "hole 1", "stud S1", ...; tells the lines of one purpose and piece apart
    bool closed = false;
    std::vector<Vertex> vertices;  ///< two or more; the last one's bulge is unused unless closed
};

struct MachineText {
    Purpose purpose = Purpose::marks;
    std::string piece;
    Vec2 at_mm;             ///< middle of its baseline
    double height_mm = 10;  ///< of capitals
    std::string utf8;
};

/// Millimetres, y up, the direction of the goods along +x, lower left of the piece or of the goods at the origin, all
/// as seen from `side`. Seen from the back everything is mirrored by BackFromFace, writing excepted.
struct MachineDrawing {
    SeenFrom side = SeenFrom::face;
    std::string title;
    Box box;  ///< of all lines
    std::vector<MachineLine> lines;
    std::vector<MachineText> texts;
};

/// One piece: face cut, what is cut in the backing alone, slits, stitch lines, studs, and the mark: a flag on the port
/// side, then an arrow along the goods (the path from flag to head turns left seen from the face, right from the back).
/// Guarantees: 1. a stretch of the backing cut that lies on the face cut is not cut twice; 2. within each piece marks
/// come first and the outside is cut last, holes before it.
MachineDrawing machine_drawing(const Piece& piece, SeenFrom side);

/// All pieces in their places on the goods as bought, with the outline of the goods (its cut end at x = 0).
/// Requires: every placement names a piece.
MachineDrawing machine_drawing(const std::vector<Piece>& pieces, const Layout& layout, const Goods& goods,
                               SeenFrom side);

}  // namespace spile
