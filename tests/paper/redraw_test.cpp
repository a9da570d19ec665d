// Read back: from the words and figures of a marking sheet alone the piece is drawn again, and compared with the line
// that was to be cut.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/paper/marking_parts.h"
#include "tests/base/repeats.h"
#include "tests/paper/pieces.h"
#include "tests/paper/sheet_reader.h"

namespace spile {
namespace {

using test::Chance;
using test::Papers;
using test::ReadSheet;

/// The back of an outline by the test's own hand: y reversed, sense kept.
Outline mirrored(const Outline& o) {
    Outline out;
    const std::size_t n = o.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Edge e = o.edge(n - 1 - i);
        out.vertices.push_back({{e.b.x, -e.b.y}, e.bulge, e.tag});
    }
    return out;
}

double away(const std::vector<Vec2>& chain, Vec2 p) {
    double best = 1e300;
    for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
        const Vec2 d = chain[i + 1] - chain[i];
        const double l2 = norm2(d);
        const double t = l2 > 0 ? std::clamp(dot(p - chain[i], d) / l2, 0.0, 1.0) : 0;
        best = std::min(best, distance(p, chain[i] + t * d));
    }
    return best;
}

/// Largest distance of the drawn points from the outline and of points of the outline from the drawn line.
double departure(const std::vector<Vec2>& drawn, const Outline& truth) {
    double worst = 0;
    for (const Vec2 p : drawn) worst = std::max(worst, nearest_on(truth, p).distance);
    for (std::size_t i = 0; i < truth.size(); ++i) {
        const Edge e = truth.edge(i);
        const int n = 2 + static_cast<int>(length_of(e) / 10);
        for (int k = 0; k < n; ++k)
            worst = std::max(worst, away(drawn, point_at(e, static_cast<double>(k) / n)));
    }
    return worst;
}

void check_piece(const Papers& papers, const Piece& piece, const std::string& what) {
    SCOPED_TRACE(what);
    const ReadSheet sheet = test::read_marking_sheet(marking_sheet(papers.input, piece));
    EXPECT_EQ(sheet.back, papers.input.mark_on_back);
    EXPECT_EQ(sheet.mirrored, papers.input.mark_on_back);
    ASSERT_GT(sheet.within_mm, 0);
    const Rigid mark_from_side =
        paper::mark_frame(piece, paper::marking_options(papers.input, piece)).mark_from_side;
    const auto truth = [&](const Outline& o) {
        return mark_from_side(papers.input.mark_on_back ? mirrored(o) : o);
    };
    bool outer = false, backing = false;
    for (const test::ReadLine& line : sheet.lines) {
        if (line.hole) continue;
        const std::vector<Vec2> drawn = test::draw_by_hand(sheet, line);
        const Outline o = truth(line.through ? piece.cut.face.outer : piece.cut.backing.outer);
        if (line.closed) {
            // A hair for the polygons of this test.
            EXPECT_LE(departure(drawn, o), sheet.within_mm + 0.02);
        } else {
            for (const Vec2 p : drawn) EXPECT_LE(nearest_on(o, p).distance, sheet.within_mm + 0.02);
        }
        (line.through ? outer : backing) = true;
    }
    EXPECT_TRUE(outer);
    EXPECT_EQ(backing, !(piece.cut.backing.outer == piece.cut.face.outer));
    for (const test::ReadCircle& c : sheet.circles) {
        ASSERT_EQ(piece.holes.size(), 1u);
        const HoleReport& h = piece.holes[0];
        const Vec2 side = papers.input.mark_on_back ? Vec2{h.centre_mm.x, -h.centre_mm.y} : h.centre_mm;
        const double d = c.name == "CUT THROUGH"    ? h.face_cut_diameter_mm
                         : c.name == "BACKING ONLY" ? h.backing_cut_diameter_mm
                                                    : h.stitch_diameter_mm;
        EXPECT_LE(distance(sheet.marks.at(c.mark), mark_from_side(side)) + std::fabs(c.radius_mm - d / 2),
                  sheet.within_mm + 1e-9);
    }
    EXPECT_EQ(sheet.circles.size(), 3 * piece.holes.size());
    // The check diagonals are those of the marks as the tape puts them, within half a mark.
    const double half = papers.input.lengths.unit == Unit::inch ? 25.4 / 32 : 0.5;
    for (const test::ReadCheck& c : sheet.checks)
        EXPECT_NEAR(distance(sheet.marks.at(c.a), sheet.marks.at(c.b)), c.reads_mm, half + 1e-9);
}

TEST(Redraw, ARectangleReadsAsItIs) {
    Papers papers({test::turned_piece(1, "mat", rectangle({0, 0}, {38 * 25.4, 26 * 25.4}))});
    const ReadSheet s = test::read_marking_sheet(marking_sheet(papers.input, papers.pieces[0]));
    ASSERT_EQ(s.order, (std::vector<std::string>{"1", "2", "3", "4", "a", "b", "c", "d"}));
    EXPECT_EQ(s.marks.at("3"), (Vec2{38 * 25.4, 26 * 25.4}));
    EXPECT_EQ(s.marks.at("c"), (Vec2{37 * 25.4, 25 * 25.4}));
    EXPECT_EQ(s.marks.at("a"), (Vec2{25.4, 25.4}));
    ASSERT_EQ(s.lines.size(), 2u);
    EXPECT_EQ(s.lines[0].chain, (std::vector<std::string>{"1", "2", "3", "4", "1"}));
    ASSERT_EQ(s.checks.size(), 4u);  // beside the diagonals and in the steps
    // 38^2 + 26^2 = 46.04^2: the nearest sixteenth is 46 1/16.
    EXPECT_DOUBLE_EQ(s.checks[0].reads_mm, 46.0625 * 25.4);
}

TEST(Redraw, ThePostHoleOfTheTrade) {
    std::vector<Piece> pieces{test::bound_piece(1, "round the post", rectangle({0, 0}, {900, 700}))};
    test::add_post_hole(pieces[0], {16.5 * 25.4, 12 * 25.4});
    Papers papers(pieces);
    const ReadSheet s = test::read_marking_sheet(marking_sheet(papers.input, papers.pieces[0]));
    // Common practice for a 2 in post: face cut 1 in, backing 2 1/2 in, stitch circle 3 in across.
    ASSERT_EQ(s.circles.size(), 3u);
    EXPECT_EQ(s.circles[0].name, "CUT THROUGH");
    EXPECT_DOUBLE_EQ(s.circles[0].radius_mm, 0.5 * 25.4);
    EXPECT_EQ(s.circles[1].name, "BACKING ONLY");
    EXPECT_DOUBLE_EQ(s.circles[1].radius_mm, 1.25 * 25.4);
    EXPECT_DOUBLE_EQ(s.circles[2].radius_mm, 1.5 * 25.4);
    EXPECT_NE(s.words.find("8 slits out to 1"), std::string::npos);
}

TEST(Redraw, RandomPanelsFromTheWordsAlone) {
    Chance chance(41);
    for (int i = 0; i < test::repeats(120); ++i) {
        std::vector<Piece> pieces{test::random_piece(chance, 1, {3, 11, 150, 1500, true, true})};
        if (chance.one_in(3)) test::add_post_hole(pieces[0], paper::inside_of(pieces[0].cut.backing));
        Papers papers(pieces);
        papers.input.mark_on_back = i % 3 != 0;
        papers.input.bench_paper = i % 2 == 0 ? a4() : letter();
        papers.input.lengths.unit = i % 4 == 3 ? Unit::mm : Unit::inch;
        papers.input.lengths.mm_step = i % 8 == 3 ? 1 : 0.5;
        check_piece(papers, papers.pieces[0], "panel " + std::to_string(i));
    }
}

TEST(Redraw, FortyEdgesFromTheWordsAlone) {
    Chance chance(42);
    for (int i = 0; i < 6; ++i) {
        Papers papers({test::random_piece(chance, 1, {40, 40, 800, 1500, i % 2 == 0, false})});
        check_piece(papers, papers.pieces[0], "panel " + std::to_string(i));
    }
}

// The structured numbers, for many more: what the plan states is what comes of drawing it.
TEST(Redraw, RandomPanelsFromThePlan) {
    Chance chance(43);
    double worst = 0;
    int finer = 0, over = 0;
    constexpr int panels = 2000;
    for (int i = 0; i < panels; ++i) {
        const Piece piece = test::random_piece(chance, 1, {3, 9, 150, 1200, i % 4 == 0, true});
        paper::MarkingOptions options;
        options.on_back = i % 2 == 0;
        if (i % 5 == 0) {
            options.lengths.unit = Unit::mm;
            options.lengths.mm_step = 1;
        }
        const paper::MarkingPlan plan = paper::plan_marking(piece, options);
        for (const paper::PlanMark& m : plan.marks) {
            const double half = plan.lengths.unit == Unit::inch ? 12.7 / plan.lengths.inch_denominator
                                                                : plan.lengths.mm_step / 2;
            EXPECT_LE(std::fabs(m.over.printed_mm - m.true_mm.x), half + 1e-9);
            EXPECT_LE(std::fabs(m.up.printed_mm - m.true_mm.y), half + 1e-9);
            EXPECT_GE(m.over.printed_mm, 0);
            EXPECT_GE(m.up.printed_mm, 0);
        }
        const Outline truth = plan.view.face.outer;
        const std::vector<Edge> drawn = paper::drawn_from_numbers(plan, plan.lines.front());
        for (const Edge& e : drawn)
            for (const double t : {0.0, 0.25, 0.5, 0.75})
                EXPECT_LE(nearest_on(truth, point_at(e, t)).distance, plan.departure_mm + 0.81)
                    << "panel " << i;
        worst = std::max(worst, plan.departure_mm);
        finer += plan.lengths.inch_denominator == 32 || plan.lengths.mm_step == 0.5 ? 1 : 0;
        over += plan.departure_mm > options.departure.mm ? 1 : 0;
    }
    RecordProperty("worst_departure_um", static_cast<int>(worst * 1000));
    RecordProperty("finer_marks", finer);
    // The allowance of 1/16 in holds but for a stated few (corners sharper than the rounding of their ends allows).
    EXPECT_LE(over, panels / 50);
}

}  // namespace
}  // namespace spile
