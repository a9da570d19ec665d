// One line of the tape book, read into numbers.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/length.h"

namespace spile {

/// A B 96 1/4 -- the taped distance between two points. "near" or "far" behind it: taped to the near or far side of the
/// round thing about the second point, whose diameter another line gives.
struct Tie {
    enum class To { point, near_side, far_side };
    std::string from, to;
    TypedLength distance;
    To touches = To::point;
};

/// P on A B at 34 1/2 off 12 1/4 left -- along the baseline from A towards B, then square to it. `left` of A->B, or
/// `right`. Without "off", the point lies on the line; without "at" as well (P on A B), that is all that is said.
struct BaselineOffset {
    std::string point, base_from, base_to;
    TypedLength station, offset;
    bool left = true;
    bool only_in_line = false;
};

/// A B running P 12, Q 24 1/2 -- points on the line from A to B, read from one zero at A.
struct Running {
    struct Stop {
        std::string point;
        TypedLength station;
    };
    std::string from, to;
    std::vector<Stop> stops;
};

/// B square A C -- the corner at B between the arms to A and C is a right angle, by a square; "by 3-4-5" behind it: by a
/// triangle of these sides.
struct Square {
    std::string corner, one_arm, other_arm;
    bool by_triangle = false;
};

/// K diameter 2 1/2 -- a round thing stands about K.
struct Diameter {
    std::string point;
    TypedLength diameter;
};

/// K rim P Q R -- the points lie on the rim of the round thing about K.
struct Rim {
    std::string point;
    std::vector<std::string> on_rim;
};

/// E round 2, or E round to T U -- the straight sides meet in E, but the corner is rounded: by its radius, or by the points
/// where the rounding begins and ends.
struct CornerRound {
    std::string corner;
    TypedLength radius;                ///< of the first form
    std::vector<std::string> tangent;  ///< two points of the second form, else empty
};

/// P height 12 1/2 -- how high something stands above the sole at P: a lip, the underside of a lid. A plain number.
struct Height {
    std::string point;
    TypedLength height;
};

/// C D rise 4 1/4 out -- the edge C-D is an arc whose middle stands off its chord by the rise, away from the floor
/// (out) or into it (in).
struct Rise {
    std::string from, to;
    TypedLength rise;
    bool outward = true;
};

/// C D through P Q -- the edge C-D is a curve that passes the points named, in this order.
struct Through {
    std::string from, to;
    std::vector<std::string> points;
};

/// P over 24 1/4 up 3 -- read from two square lines: over along the first (x), up along the second (y).
struct OverUp {
    std::string point;
    TypedLength over, up;
};

struct Reading {
    std::string id;     ///< of the document; may be empty for a line not yet saved
    std::string line;   ///< exactly as typed
    std::string where;  ///< place in the document, for findings
    std::variant<Tie, BaselineOffset, Rise, Through, OverUp, Running, Square, Diameter, Rim, CornerRound,
                 Height>
        what;
};

/// The points a reading names, in its own order.
std::vector<std::string> points_named(const Reading& reading);

/// Point names: a letter, then letters, digits, `'` or `_`, at most 12 characters. Names are told apart by case.
/// On bad input: a stop naming the word and a line that would be right.
Result<Reading> parse_reading_line(std::string_view line, Unit default_unit);

}  // namespace spile
