// The proof by trying every arrangement: against closed forms, brute force on grids, and the search. It may fail to prove;
// it must never claim what is not so.
#include "core/layout/solve/exact.h"

#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/layout/solve/convex_parts.h"
#include "core/layout/solve/feasible.h"
#include "core/layout/solve/solve.h"
#include "tests/base/repeats.h"
#include "tests/layout/grid.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

bool none_within(const std::vector<LayoutPiece>& pieces, const Goods& goods, double length_mm,
                 long nodes = 60'000) {
    lay::ProofBudget budget;
    budget.nodes = nodes;
    return lay::no_layout_within(pieces, goods, length_mm, budget);
}

TEST(Exact, AgreesWithBruteForceOnSmallGrids) {
    lay::Random random(3);
    int proved = 0;
    for (int k = 0; k < 40; ++k) {
        std::vector<Rectangle> all;
        std::vector<LayoutPiece> pieces;
        const int width = 5 + static_cast<int>(random.below(3));
        for (std::size_t i = 0; i < 4 + random.below(2); ++i) {
            all.push_back({1 + static_cast<int>(random.below(4)), 1 + static_cast<int>(random.below(5))});
            pieces.push_back(mat(std::to_string(i + 1), 100.0 * all.back().along, 100.0 * all.back().across));
        }
        const int shortest = shortest_on_grid(all, width);
        const Goods goods = goods_cut_anywhere(100.0 * width, 0);
        EXPECT_FALSE(none_within(pieces, goods, 100.0 * shortest)) << k << ": a proof that is false";
        proved += none_within(pieces, goods, 100.0 * shortest - 1);
    }
    EXPECT_EQ(proved, 40);
}

// Two of 500 x 400 lie side by side in 900, the third behind them: 1000, while the area alone says 667.
TEST(Exact, ThreeMatsOfWhichTwoLieSideBySide) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400), mat("3", 500, 400)};
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(900, 0), 999.9));
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(900, 0), 1000));
    const auto layout = solve_layout(pieces, goods_cut_anywhere(900, 0), {}, RunContext{});
    ASSERT_TRUE(layout);
    EXPECT_LE(layout->used_mm - layout->bound_mm, kProvedWithin_mm);
    EXPECT_GE(layout->used_mm, layout->bound_mm);
}

// With a gap g all round and between: 2 x 500 + 3 g.
TEST(Exact, KnowsTheGapAndWhatTheCheckerLetsPass) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400), mat("3", 500, 400)};
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(815, 5), 1014.9));
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(815, 5), 1015));
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(815, 5), 1014.995));
}

// Five tiles round a middle one: 300 x 200 and 200 x 300, the middle 100 x 100, fill 500 x 500.
TEST(Exact, APinwheelIsNotShorterThanItsSquare) {
    const std::vector<LayoutPiece> pieces{mat("1", 300, 200), mat("2", 200, 300), mat("3", 300, 200),
                                          mat("4", 200, 300), mat("5", 100, 100)};
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(500, 0), 499.9));
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(500, 0), 500));
}

// Two wedges of 1000 x 500: 2000 only moved, 1000 when one may be turned round.
TEST(Exact, TurnsAreTriedToo) {
    const Region wedge{polygon({{0, 0}, {1000, 0}, {0, 500}}), {}};
    const std::vector<LayoutPiece> pieces{{"1", wedge}, {"2", wedge}};
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(500, 0), 1999.9));
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(500, 0, Turning::half), 1000));
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(500, 0, Turning::half), 999.9));
    EXPECT_FALSE(none_within({mat("1", 300, 900)}, goods_cut_anywhere(900, 0, Turning::quarter), 300));
    EXPECT_TRUE(none_within({mat("1", 300, 900)}, goods_cut_anywhere(899, 0, Turning::quarter), 899.9));
}

// Two ells of 300 x 300 with arms of 100 hook into one another: 400 along in 300 across, 500 boxes apart.
TEST(Exact, EllsHookIntoOneAnother) {
    const Region ell{polygon({{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}}), {}};
    const std::vector<LayoutPiece> pieces{{"1", ell}, {"2", ell}};
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(300, 0), 599.9)) << "only moved they cannot";
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(400, 0), 400));
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(400, 0), 399.8));
}

// Discs of radius 100 in a strip of 300: the second stands beside the first, its centre 100 higher, 173.2 along.
TEST(Exact, DiscsToTheResolution) {
    Outline disc;
    disc.vertices = {{{200, 100}, 1, 0}, {{0, 100}, 1, 0}};
    const std::vector<LayoutPiece> pieces{{"1", {disc, {}}}, {"2", {disc, {}}}};
    const double shortest = 200 + std::sqrt(200.0 * 200 - 100 * 100);
    EXPECT_TRUE(none_within(pieces, goods_cut_anywhere(300, 0), shortest - 0.8));
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(300, 0), shortest));
}

// The oracle of all: whatever the search finds is no shorter than what is proved.
TEST(Exact, IsNeverAboveALayoutThatWasFound) {
    int proved = 0;
    const auto sets = static_cast<std::uint64_t>(test::repeats(24));
    for (std::uint64_t seed = 1; seed <= sets; ++seed) {
        const Turning turning = seed % 3 == 0   ? Turning::half
                                : seed % 3 == 1 ? Turning::one_way
                                                : Turning::quarter;
        const std::vector<LayoutPiece> pieces = panels(3 + static_cast<int>(seed % 3), seed);
        const Goods goods = goods_cut_anywhere(1250 + 40.0 * static_cast<double>(seed), 6.35, turning);
        SolveOptions options;
        options.rounds = 20;
        const auto layout = solve_layout(pieces, goods, options, RunContext{});
        ASSERT_TRUE(layout);
        EXPECT_LE(layout->bound_mm, layout->used_mm) << seed;
        EXPECT_FALSE(none_within(pieces, goods, layout->used_mm, 4'000)) << seed << ": a proof that is false";
        proved += layout->used_mm - layout->bound_mm <= kProvedWithin_mm;
    }
    RecordProperty("proved", proved);
    EXPECT_GT(4 * proved, static_cast<int>(sets));
}

TEST(Exact, ALittleBudgetIsNoProof) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400), mat("3", 500, 400)};
    EXPECT_FALSE(none_within(pieces, goods_cut_anywhere(900, 0), 999, 2));
    lay::ProofBudget called_off;
    called_off.nodes = 64 * 100;
    called_off.stop = [] { return true; };
    EXPECT_FALSE(lay::no_layout_within(pieces, goods_cut_anywhere(900, 0), 999, called_off));
}

TEST(Feasible, SaysNoOnlyWhatItCanProve) {
    // x + y <= 1 and x + y >= 1.00001 contradict; >= 1.0000001 is within what is let pass.
    for (const double least : {1.00001, 1.0000001}) {
        std::vector<lay::Condition> all{{{1, 0}, 5}, {{0, 1}, 5}, {{1, 1}, 1}, {{-1, -1}, -least}};
        lay::Feasible program({5, 5});
        for (const lay::Condition& c : all) program.add(c);
        EXPECT_EQ(program.solve(all) == lay::Feasible::Answer::no, least > 1.000001);
    }
}

TEST(ConvexParts, CoverAStarWithoutItsOutside) {
    lay::Poly star;
    const lay::Poly tips{{0, 1000}, {-951, 309}, {-588, -809}, {588, -809}, {951, 309}};
    const lay::Poly bays{{-225, 309}, {-363, -118}, {0, -382}, {363, -118}, {225, 309}};
    for (std::size_t i = 0; i < 5; ++i) {
        star.push_back(tips[i]);
        star.push_back(bays[i]);
    }
    ASSERT_GT(lay::area_of(star), 0);
    double area = 0;
    for (const lay::Poly& part : lay::convex_parts(star, 0)) {
        EXPECT_TRUE(lay::is_convex(part));
        area += lay::area_of(part);
    }
    EXPECT_NEAR(area, lay::area_of(star), 1e-6);
    EXPECT_EQ(lay::convex_parts({{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 0).size(), 1u);
}

}  // namespace
}  // namespace spile
