// What a drawing made elsewhere holds, as read: nothing joined, nothing judged.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/geom/outline.h"

namespace spile::import {

/// One line of a drawing, in the drawing's own units, x to the right and y up.
struct DrawnLine {
    std::string layer;
    std::vector<Edge> edges;  ///< each begins where the one before ends
    bool closed = false;      ///< the last ends where the first begins
    int line = 0;             ///< of the file, from 1; 0 when not known
};

struct Drawing {
    std::optional<double> mm_per_unit;  ///< what the file says; nothing when it does not
    std::vector<DrawnLine> lines;
    std::vector<std::string>
        passed_over;  ///< kinds of things that are no lines, each once, in order of appearance
};

/// What no drawing of a boat's panels needs; a file beyond is refused, so that none becomes a long wait.
namespace limits {
inline constexpr std::size_t bytes = 20'000'000;
inline constexpr std::size_t lines = 20'000;
inline constexpr std::size_t edges = 200'000;
inline constexpr int depth = 64;  ///< of groups within groups
}  // namespace limits

/// How finely curves that are no arcs are cut into chords, as a share of the drawing's size: far finer than any arc that is
/// laid through the chords afterwards.
inline constexpr double chord_share = 2e-6;

}  // namespace spile::import
