// Reads a marking sheet as the hand does: from its words and figures alone.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/paper/display_list.h"

namespace spile::test {

struct ReadCurve {
    std::string from, to;
    enum class How { batten, disc, swing } how = How::batten;
    std::vector<std::string> via;
    double radius_mm = 0;
    bool into_the_waste = true;  ///< it bulges that way
};
struct ReadLine {
    bool through = true, hole = false, closed = true;
    std::vector<std::string> chain;  ///< a closed one ends where it began
};
struct ReadCircle {
    std::string mark, name;
    double radius_mm = 0;
};
struct ReadCheck {
    std::string a, b;
    double reads_mm = 0;
};

struct ReadSheet {
    bool back = false, mirrored = false;  ///< of the bar
    double within_mm = 0;                 ///< "line within"
    double unit_mm = 25.4;
    std::vector<std::string> order;  ///< of the marks in the table
    std::map<std::string, Vec2> marks;
    std::vector<ReadLine> lines;
    std::map<std::string, ReadCurve> curves;  ///< by the mark they begin at
    std::map<std::string, double> rounds;     ///< radius by mark
    std::vector<ReadCircle> circles;
    std::vector<ReadCheck> checks;
    std::string words;  ///< all texts in the order drawn
};
ReadSheet read_marking_sheet(const Sheet& sheet);

/// "48 1⁄4" or "1607.5" in units.
std::optional<double> read_figure(const std::string& text);

/// The line as drawn by hand: points close together.
std::vector<Vec2> draw_by_hand(const ReadSheet& sheet, const ReadLine& line);

/// The arrows with a flag on a page: open chains of three points whose second leg is square to the first and 3.15
/// times as long. Positive: the stroke turns right as seen.
std::vector<double> witness_turns(const Page& page);

}  // namespace spile::test
