// One line of the tape book, read into numbers.
#pragma once

#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "core/base/length.h"

namespace spile {

/// A B 96 1/4 -- the taped distance between two points.
struct Tie {
    std::string from, to;
    TypedLength distance;
};

/// P on A B at 34 1/2 off 12 1/4 left -- along the baseline from A towards B, then square to it. `left` of A->B, or
/// `right`. Without "off", the point lies on the line.
struct BaselineOffset {
    std::string point, base_from, base_to;
    TypedLength station, offset;
    bool left = true;
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
    std::variant<Tie, BaselineOffset, Rise, Through, OverUp> what;
};

/// Point names: a letter, then letters, digits, `'` or `_`, at most 12 characters. Names are told apart by case.
/// On bad input: a stop naming the word and a line that would be right.
Result<Reading> parse_reading_line(std::string_view line, Unit default_unit);

}  // namespace spile
