// What the hand does at the bench with the printed words and figures alone: pricks the trammel's pivots, sets each piece in its
// place on the roll, marks an edge that is left long. The truth beside it is worked out by this file's own arithmetic.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/edging/piece.h"
#include "core/geom/measure_of.h"
#include "core/paper/marking_parts.h"
#include "tests/base/repeats.h"
#include "tests/paper/pieces.h"
#include "tests/paper/sheet_reader.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {

using test::Chance;
using test::Papers;
using test::ReadSheet;

using Points = std::vector<Vec2>;

/// An outline as points close together, arcs by their own centre and angle.
Points points_of(const Outline& outline) {
    Points out;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vertex &v = outline.vertices[i], &w = outline.vertices[(i + 1) % outline.size()];
        out.push_back(v.p);
        if (v.bulge == 0) continue;
        const Vec2 d = w.p - v.p;
        const double angle = 4 * std::atan(v.bulge), r = std::hypot(d.x, d.y) / (2 * std::sin(angle / 2));
        const Vec2 centre = v.p + 0.5 * d + r * std::cos(angle / 2) * Vec2{-d.y, d.x} / std::hypot(d.x, d.y);
        const double from = std::atan2(v.p.y - centre.y, v.p.x - centre.x);
        for (int k = 1; k < 200; ++k)
            out.push_back(centre + std::fabs(r) * Vec2{std::cos(from + angle * k / 200),
                                                       std::sin(from + angle * k / 200)});
    }
    return out;
}

/// Where a piece lies on the roll as its marked side shows it: turned, moved to its place, then turned over about the middle
/// line.
Points on_roll(const Papers& papers, const Piece& piece) {
    Points out;
    for (const Placement& p : papers.layout.placements)
        if (p.piece == piece.id)
            for (Vec2 v : points_of(piece.cut.face.outer)) {
                for (int k = 0; k < p.turns; ++k) v = {-v.y, v.x};
                const Vec2 at{v.x + static_cast<double>(p.x_um) / 1000,
                              v.y + static_cast<double>(p.y_um) / 1000};
                out.push_back(papers.input.mark_on_back ? Vec2{at.x, papers.goods.usable_width_mm - at.y}
                                                        : at);
            }
    return out;
}

/// Crossings of a ray to the right: odd is inside.
bool inside(const Points& around, Vec2 p) {
    bool in = false;
    for (std::size_t i = 0, k = around.size() - 1; i < around.size(); k = i++) {
        const Vec2 a = around[i], b = around[k];
        if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x)) in = !in;
    }
    return in;
}

double away(const Points& chain, Vec2 p) {
    double best = 1e300;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const Vec2 a = chain[i], d = chain[(i + 1) % chain.size()] - a;
        const double l2 = d.x * d.x + d.y * d.y;
        const double t = l2 > 0 ? std::clamp(((p.x - a.x) * d.x + (p.y - a.y) * d.y) / l2, 0.0, 1.0) : 0;
        best = std::min(best, std::hypot(p.x - a.x - t * d.x, p.y - a.y - t * d.y));
    }
    return best;
}

/// A row of the roll sheet's table.
struct RollRow {
    double starts = 0, datum_1 = 0, along_1 = 0, across_1 = 0, datum_2 = 0, along_2 = 0, across_2 = 0;
};

/// The table as the eye reads it: what stands under each heading, in mm.
std::map<std::string, RollRow> read_roll(const Sheet& sheet, double unit_mm) {
    const std::vector<std::string> heads{"piece",  "name",   "starts", "datum at", "lies along",
                                         "across", "and at", "along",  "across"};
    std::map<std::string, RollRow> rows;
    for (const Page& page : sheet.pages) {
        std::vector<const Text*> texts;
        for (const Item& item : page.items)
            if (const Text* t = std::get_if<Text>(&item)) texts.push_back(t);
        for (std::size_t i = 0; i + heads.size() <= texts.size(); ++i) {
            bool head = true;
            for (std::size_t c = 0; c < heads.size(); ++c) head = head && texts[i + c]->utf8 == heads[c];
            if (!head) continue;
            std::map<double, std::map<std::size_t, std::string>> lines;  // by height on the page
            for (const Text* t : texts)
                for (std::size_t c = 0; c < heads.size(); ++c)
                    if (t->at_mm.x == texts[i + c]->at_mm.x && t->at_mm.y > texts[i]->at_mm.y)
                        lines[t->at_mm.y][c] = t->utf8;
            for (const auto& [y, cells] : lines) {
                const auto mm = [&](std::size_t c) {
                    const auto cell = cells.find(c);
                    if (cell == cells.end() || cell->second.empty()) return std::nan("");
                    // The datum of a piece without a straight edge may lie a little outside the near edge.
                    const bool outside = cell->second[0] == '-';
                    const auto read = test::read_figure(cell->second.substr(outside ? 1 : 0));
                    return read ? (outside ? -unit_mm : unit_mm) * *read : std::nan("");
                };
                const RollRow row{mm(2), mm(3), mm(4), mm(5), mm(6), mm(7), mm(8)};
                if (!std::isnan(row.across_2)) rows[cells.at(0)] = row;
            }
        }
    }
    return rows;
}

/// A roll of a few pieces packed one behind another.
std::vector<Piece> some_pieces(Chance& chance) {
    std::vector<Piece> pieces;
    const int n = 2 + chance.below(3);
    for (int k = 0; k < n; ++k)
        pieces.push_back(test::random_piece(chance, k + 1, {3, 9, 150, 900, true, true}));
    return pieces;
}

/// Every other piece in so many quarter turns, one behind another.
void lay_turned(Papers& papers, int turns) {
    double x = papers.goods.gap_mm;
    papers.goods.turning = Turning::quarter;
    for (std::size_t k = 0; k < papers.pieces.size(); ++k) {
        Placement& p = papers.layout.placements[k];
        p.turns = k % 2 == 0 ? turns : 0;
        Box box;
        for (Vec2 v : points_of(papers.pieces[k].cut.face.outer)) {
            for (int t = 0; t < p.turns; ++t) v = {-v.y, v.x};
            box.add(v);
        }
        p.x_um = std::llround((x - box.min.x) * 1000);
        p.y_um = std::llround((papers.goods.gap_mm - box.min.y) * 1000);
        x += box.width() + papers.goods.gap_mm;
        papers.goods.usable_width_mm =
            std::max(papers.goods.usable_width_mm, box.height() + 2 * papers.goods.gap_mm);
    }
    papers.goods.width_mm = papers.goods.usable_width_mm;
    papers.layout.used_mm = papers.layout.bought_mm = x;
}

// From the roll sheet's table and the marking sheets alone, every piece is drawn in its place on the goods; it lies where the
// layout has it, on the side that is marked, in any quarter turn, and starts where the table says.
TEST(Bench, EveryPieceIsDrawnInItsPlaceFromItsTwoSheets) {
    Chance chance(71);
    double worst = 0;
    const int rolls = test::repeats(44);
    for (int i = 0; i < rolls; ++i) {
        Papers papers(some_pieces(chance));
        papers.input.mark_on_back = i % 2 == 0;
        papers.input.lengths.unit = i % 4 == 3 ? Unit::mm : Unit::inch;
        if (2 * i >= rolls) lay_turned(papers, 1 + i % 3);
        const double unit = papers.input.lengths.unit == Unit::inch ? 25.4 : 1;
        const double half_mark = unit == 1 ? 0.5 : 25.4 / 32;
        const auto rows = read_roll(roll_sheet(papers.input), unit);
        ASSERT_EQ(rows.size(), papers.pieces.size());
        for (const Piece& piece : papers.pieces) {
            const RollRow& row = rows.at(std::to_string(piece.number));
            const Points truth = on_roll(papers, piece);
            double first = 1e300;
            for (const Vec2 p : truth) first = std::min(first, p.x);
            EXPECT_NEAR(row.starts, first, half_mark + 1e-6);

            const ReadSheet sheet = test::read_marking_sheet(marking_sheet(papers.input, piece));
            const Vec2 a{row.along_1, row.across_1}, b{row.along_2, row.across_2};
            const double length = std::hypot(b.x - a.x, b.y - a.y);
            ASSERT_GT(length, 0);
            // Two places each rounded both ways: the sum of what they may be off.
            EXPECT_NEAR(length, row.datum_2 - row.datum_1, 4 * std::sqrt(2) * half_mark);
            const Vec2 along{(b.x - a.x) / length, (b.y - a.y) / length}, up{-along.y, along.x};
            for (const test::ReadLine& line : sheet.lines) {
                if (line.hole || !line.through) continue;
                for (const Vec2 p : test::draw_by_hand(sheet, line)) {
                    const Vec2 at = a + (p.x - row.datum_1) * along + p.y * up;
                    // The points the datum is struck through are off by half a mark each way; away from them it turns by
                    // that over their distance.
                    const double lever = 1 + 2 * std::hypot(p.x - row.datum_1, p.y) / length;
                    const double off = away(truth, at);
                    EXPECT_LE(off, sheet.within_mm + std::sqrt(2) * half_mark * lever + 0.05)
                        << "roll " << i << " piece " << piece.number;
                    worst = std::max(worst, off);
                }
            }
        }
    }
    RecordProperty("worst_um", static_cast<int>(1000 * worst));
}

/// Where the hand finds the trammel's pivot: the radius crossed from both marks, on the side the words name.
Vec2 pivot_of(const ReadSheet& sheet, const test::ReadCurve& curve) {
    const Vec2 a = sheet.marks.at(curve.from), b = sheet.marks.at(curve.to);
    const Vec2 d = b - a, middle = a + 0.5 * d;
    const double half = 0.5 * std::hypot(d.x, d.y);
    const double out = std::sqrt(std::max(0.0, curve.radius_mm * curve.radius_mm - half * half));
    const Vec2 left{-d.y / (2 * half), d.x / (2 * half)};
    // An arc that bulges into the waste has its centre on the side of the piece: left of the way round.
    return curve.into_the_waste ? middle + out * left : middle - out * left;
}

/// Pricks every pivot of a job's marking sheets on the roll; none may meet a piece. Returns how many.
int prick_all(const Papers& papers, const std::string& what) {
    int pivots = 0;
    for (const Piece& piece : papers.pieces) {
        const ReadSheet sheet = test::read_marking_sheet(marking_sheet(papers.input, piece));
        const Rigid mark_from_side =
            paper::mark_frame(piece, paper::marking_options(papers.input, piece)).mark_from_side;
        Vec2 move;
        for (const Placement& p : papers.layout.placements)
            if (p.piece == piece.id)
                move = {static_cast<double>(p.x_um) / 1000, static_cast<double>(p.y_um) / 1000};
        if (papers.input.mark_on_back) move.y = papers.goods.usable_width_mm - move.y;
        for (const auto& [from, curve] : sheet.curves) {
            if (curve.how != test::ReadCurve::How::swing) continue;
            ++pivots;
            EXPECT_LE(curve.radius_mm, papers.input.trammel_reach_mm + 1);
            const Vec2 at = inverse(mark_from_side)(pivot_of(sheet, curve)) + move;
            for (const Piece& other : papers.pieces)
                EXPECT_FALSE(inside(on_roll(papers, other), at))
                    << what << ": the pivot for " << from << " of piece " << piece.number << " pricks piece "
                    << other.number;
        }
    }
    return pivots;
}

TEST(Bench, PivotsPrickWasteAlone) {
    Chance chance(72);
    int pivots = 0;
    const int rolls = test::repeats(60);
    for (int i = 0; i < rolls; ++i) {
        Papers papers(some_pieces(chance));
        papers.input.mark_on_back = i % 2 == 0;
        pivots += prick_all(papers, "roll " + std::to_string(i));
    }
    EXPECT_GT(6 * pivots, rolls);
}

// A hollow side of 20 in radius: its centre is free while nothing lies there, and taken as soon as a neighbour does.
TEST(Bench, ANeighbourOnTheRollTakesThePivotAway) {
    Outline hollow = rectangle({0, 0}, {700, 400});
    hollow.vertices[1].bulge =
        -std::tan(std::asin(200 / 508.0) / 2);  // chord 400, radius 508, into the piece
    for (const bool back : {true, false})
        for (const bool near : {false, true}) {
            Papers papers({test::bound_piece(1, "hollow", hollow),
                           test::bound_piece(2, "neighbour", rectangle({0, 0}, {900, 400}))});
            papers.input.mark_on_back = back;
            // 100 mm behind the hollow's ends, or a yard: the pivot stands 467 mm behind them.
            papers.layout.placements[1].x_um =
                papers.layout.placements[0].x_um + (near ? 800'000 : 1'800'000);
            EXPECT_EQ(prick_all(papers, "hollow"), near ? 0 : 1);
        }
}

// --- left long ----------------------------------------------------------------------------------------------

// One edge left long between rounded corners: the marking sheet's own numbers give the cut line with that much beyond, and
// say so; the same holds for both edges of a corner.
TEST(Bench, AnEdgeLeftLongIsMarkedWithWhatIsLeft) {
    using namespace testing_panels;
    constexpr double left = 25.4;
    for (const Finish finish : {Finish::bound, Finish::turned, Finish::sealed})
        for (const double radius : {0.0, 2 * kIn})
            for (const bool both : {false, true})
                for (const bool back : {true, false}) {
                    SCOPED_TRACE(std::string(word_for(finish)) + " r " + std::to_string(radius) +
                                 (both ? " both" : " one") + (back ? " back" : " face"));
                    PanelInput in = panel_of({"A", "B", "C", "D"}, finish, 0, radius);
                    in.edges[1].left_long_mm = left;
                    if (both) in.edges[2].left_long_mm = left;
                    const auto panels = shaped({in}, rectangle_survey(1000, 600));
                    ASSERT_TRUE(panels);
                    const auto pieces = edge_pieces(*panels, FinishSettings{}, RunContext{});
                    ASSERT_TRUE(pieces);
                    Papers papers(*pieces);
                    papers.input.mark_on_back = back;
                    const Piece& piece = papers.pieces.front();
                    const ReadSheet sheet = test::read_marking_sheet(marking_sheet(papers.input, piece));
                    EXPECT_NE(sheet.words.find("Left long, trimmed aboard: B\u2013C 1 in"), std::string::npos)
                        << sheet.words;
                    EXPECT_EQ(sheet.words.find("cut square: round them once trimmed") != std::string::npos,
                              radius > 0);

                    // The marks reach as far as the plain rectangle with its finish, and what is left, reaches.
                    const FinishSettings settings;
                    const double grown = finish == Finish::turned  ? settings.turn_mm
                                         : finish == Finish::bound ? -settings.binding_growth_mm
                                                                   : 0;
                    const double want_x = 1000 + 2 * grown + left,
                                 want_y = 600 + 2 * grown + (both ? left : 0);
                    Box drawn;
                    for (const test::ReadLine& line : sheet.lines)
                        if (line.through && !line.hole)
                            for (const Vec2 p : test::draw_by_hand(sheet, line)) drawn.add(p);
                    const double low = std::min(drawn.width(), drawn.height()),
                                 high = std::max(drawn.width(), drawn.height());
                    EXPECT_NEAR(high, want_x, 2 * sheet.within_mm);
                    EXPECT_NEAR(low, want_y, 2 * sheet.within_mm);

                    // And everywhere on the line that is cut.
                    const Rigid mark_from_side =
                        paper::mark_frame(piece, paper::marking_options(papers.input, piece)).mark_from_side;
                    Points truth;
                    for (const Vec2 p : points_of(piece.cut.face.outer))
                        truth.push_back(mark_from_side(back ? Vec2{p.x, -p.y} : p));
                    for (const test::ReadLine& line : sheet.lines) {
                        if (!line.through || line.hole) continue;
                        for (const Vec2 p : test::draw_by_hand(sheet, line))
                            EXPECT_LE(away(truth, p), sheet.within_mm + 0.02);
                    }
                }
}

}  // namespace
}  // namespace spile
