// Moves between spaces. Name a transform after both: roll_from_piece, piece_from_boat.
#pragma once

#include "core/geom/outline.h"

namespace spile {

/// Rotation then translation; never mirrors. Holds cosine and sine so that quarter turns are exact.
struct Rigid {
    double cos = 1;
    double sin = 0;
    Vec2 move;

    Vec2 operator()(Vec2 p) const { return Vec2{cos * p.x - sin * p.y, sin * p.x + cos * p.y} + move; }
    Vec2 turn(Vec2 d) const { return {cos * d.x - sin * d.y, sin * d.x + cos * d.y}; }
    Outline operator()(const Outline& outline) const;
    Path operator()(const Path& path) const;
    Region operator()(const Region& region) const;
};

Rigid translation(Vec2 move);
Rigid compose(const Rigid& second, const Rigid& first);  ///< second(first(p))
Rigid inverse(const Rigid& r);

/// The one place where anything is mirrored: from the face to the back, by rolling the goods over about the line
/// y = axis_y that runs along the roll, so that the direction arrow and the cut end stay where they are:
/// (x, y) -> (x, 2 axis_y - y). The same function takes a piece, the roll and the boat to their backs. Twice is exactly
/// the identity for axis_y = 0 (and wherever 2 axis_y - y is not rounded), else within noise. Outlines keep their sense (counter-clockwise stays so) by being reversed; edge i of the result is edge
/// size-1-i of the input.
struct BackFromFace {
    double axis_y = 0;

    Vec2 operator()(Vec2 p) const { return {p.x, 2 * axis_y - p.y}; }
    Outline operator()(const Outline& outline) const;
    Path operator()(const Path& path) const;
    Region operator()(const Region& region) const;
};

}  // namespace spile
