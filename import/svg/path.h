// The path data of SVG (SVG 1.1, 8.3).
#pragma once

#include <string_view>
#include <vector>

#include "core/geom/vec2.h"

namespace spile::import {

struct SubPath {
    std::vector<Vec2> points;
    bool closed = false;
};

/// Subpaths as chains of points, curves cut into `chords` each. What follows a fault in the data is left out, and `sound` set false.
std::vector<SubPath> read_path(std::string_view data, int chords, bool& sound);

/// Points of the ellipse arc of the path command A, from `a` (left out) to `b` (SVG 1.1, F.6.5).
void add_ellipse_arc(std::vector<Vec2>& points, Vec2 a, double rx, double ry, double turn_deg, bool large,
                     bool sweep, Vec2 b, int chords);

/// The numbers of a list with spaces or commas; stops at what is none.
std::vector<double> read_numbers(std::string_view text);

}  // namespace spile::import
