#include "core/layout/solve/solve.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/bound.h"
#include "core/layout/solve/prepare.h"
#include "tests/base/repeats.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr double kInch = 25.4;

Result<Layout> solved(const std::vector<LayoutPiece>& pieces, const Goods& goods, int rounds = 5) {
    SolveOptions options;
    options.rounds = rounds;
    const Result<Layout> result = solve_layout(pieces, goods, options, RunContext{});
    if (result) {
        EXPECT_THAT(check_layout(pieces, goods, *result), IsEmpty());
        EXPECT_GE(result->used_mm, result->bound_mm);
        EXPECT_FALSE(result->bound_reason.empty());
        EXPECT_GT(result->goods_share, 0);
        EXPECT_LE(result->goods_share, 1);
    }
    return result;
}

TEST(Solve, EveryLayoutPassesTheChecker) {
    const auto sets = static_cast<std::uint64_t>(test::repeats(12));
    for (std::uint64_t seed = 1; seed <= sets; ++seed)
        for (double gap : {0.0, 3.0, 6.35}) {
            const auto result = solved(panels(3 + static_cast<int>(seed), seed), goods_of(1400, gap));
            ASSERT_TRUE(result);
        }
}

TEST(Solve, MatsSideBySideAreProvedShortest) {
    // Two mats of 24 in fit across 60 in with 1/4 in gaps; the third lies behind.
    const std::vector<LayoutPiece> mats{mat("1", 36 * kInch, 24 * kInch), mat("2", 36 * kInch, 24 * kInch),
                                        mat("3", 30 * kInch, 30 * kInch)};
    const auto result = solved(mats, goods_of(60 * kInch, kInch / 4));
    ASSERT_TRUE(result);
    EXPECT_NEAR(result->used_mm, 66.75 * kInch, 0.001);
    EXPECT_NEAR(result->bought_mm, 72 * kInch, 1e-9);
}

// An exact fit across is found: 2 x 24 in and three gaps of 1/4 in in 48 3/4 in.
TEST(Solve, ExactFitAcross) {
    const std::vector<LayoutPiece> mats{mat("1", 36 * kInch, 24 * kInch), mat("2", 36 * kInch, 24 * kInch)};
    const auto result = solved(mats, goods_of(48.75 * kInch, kInch / 4));
    ASSERT_TRUE(result);
    EXPECT_NEAR(result->used_mm, 36.5 * kInch, 0.001);
    EXPECT_NEAR(result->bound_mm, 36.5 * kInch, 0.02);
    const auto narrower = solved(mats, goods_of(48 * kInch, kInch / 4));
    EXPECT_NEAR(narrower->used_mm, 72.75 * kInch, 0.001);
    EXPECT_NEAR(narrower->bound_mm, 72.75 * kInch, 0.02);
    EXPECT_EQ(narrower->bound_reason, "pieces 1 and 2 cannot lie side by side");
}

TEST(Solve, HolesOfPiecesAreUsed) {
    LayoutPiece ring = mat("1", 900, 900);
    ring.outline.holes.push_back(reversed(rectangle({150, 150}, {750, 750})));
    const auto result = solved({ring, mat("2", 500, 500)}, goods_of(920, 5));
    ASSERT_TRUE(result);
    EXPECT_NEAR(result->used_mm, 910, 0.01);
}

TEST(Solve, EqualPiecesShareAShape) {
    std::vector<LayoutPiece> pieces;
    for (int i = 0; i < 4; ++i) pieces.push_back(mat(std::to_string(i), 300, 200));
    pieces.push_back(mat("other", 300, 201));
    const lay::Prepared prepared = lay::prepare(pieces, goods_of(1000, 5), Resolution{0.05});
    EXPECT_EQ(prepared.problem.shapes.size(), 2u);
    EXPECT_EQ(prepared.problem.items.size(), 5u);
}

TEST(Solve, PolygonsStandOutsideAndInsideTheTrueShape) {
    lay::Random random(5);
    for (int k = 0; k < 10; ++k) {
        const LayoutPiece piece = panel("1", 700, 500, random);
        const auto area = [](const lay::Poly& poly) {
            return lay::area_of(poly) / lay::kUnitsPerMm / lay::kUnitsPerMm;
        };
        const double truth = area_mm2(piece.outline.outer), round = length_mm(piece.outline.outer);
        for (double resolution : {1.0, 0.05}) {
            const double outside =
                area(lay::polygon_of(piece.outline.outer, Resolution{resolution}, lay::Cover::whole));
            const double inside =
                area(lay::polygon_of(piece.outline.outer, Resolution{resolution}, lay::Cover::within));
            EXPECT_GE(outside, truth - 1e-3 * round);  // units are rounded
            EXPECT_LE(inside, truth + 1e-3 * round);
            EXPECT_LE(outside, truth + resolution * round);
            EXPECT_GE(inside, truth - resolution * round);
        }
    }
}

TEST(Solve, SameSeedAndRoundsSamePlacements) {
    const auto pieces = panels(8, 4);
    Goods goods = goods_of(1400, 6);
    goods.step_mm = 0;  // else the search may end early
    SolveOptions options;
    options.rounds = 6;
    RunContext run;
    run.seed = 7;
    const auto one = solve_layout(pieces, goods, options, run);
    ASSERT_TRUE(one);
    EXPECT_EQ(one->rounds, 6);
    for (options.threads = 2; options.threads <= 3; ++options.threads) {
        const auto more = solve_layout(pieces, goods, options, run);
        ASSERT_TRUE(more);
        EXPECT_EQ(one->placements, more->placements);
    }
}

TEST(Solve, RoundsShortenTheFirstLayoutAndNeverLengthenIt) {
    Goods goods = goods_of(1400, 6);
    goods.step_mm = 0;
    const auto pieces = panels(12, 77);
    double before = 1e300;
    for (int rounds : {0, 5, 20}) {
        const auto result = solved(pieces, goods, rounds);
        ASSERT_TRUE(result);
        EXPECT_LE(result->used_mm, before);
        before = result->used_mm;
    }
    EXPECT_LT(before, 0.97 * solved(pieces, goods, 0)->used_mm);
}

TEST(Solve, EndsWhenNoLessGoodsCouldBeBought) {
    Goods goods = goods_of(1400, 6);
    goods.step_mm = 10'000;
    const auto result = solved(panels(12, 77), goods, 1000);
    ASSERT_TRUE(result);
    EXPECT_EQ(result->rounds, 0);
    EXPECT_EQ(result->bought_mm, 10'000);
}

TEST(Solve, EndsAtTheLeastOrder) {
    Goods goods = goods_of(1400, 6);
    goods.step_mm = 1;
    goods.least_order_mm = 10'000;
    const auto result = solved(panels(12, 77), goods, 1000);
    ASSERT_TRUE(result);
    EXPECT_EQ(result->rounds, 0);
    EXPECT_EQ(result->bought_mm, 10'000);
    EXPECT_TRUE(result->least_order);
    goods.least_order_mm = 500;  // less than they need whatever is done
    const auto longer = solved(panels(12, 77), goods, 3);
    ASSERT_TRUE(longer);
    EXPECT_EQ(longer->rounds, 3);
    EXPECT_FALSE(longer->least_order);
}

// The first layout takes 1259 mm of 1200 that are there: that no less could be bought is no end of the search.
TEST(Solve, GoesOnUntilItFitsTheGoodsThereAre) {
    Goods goods = goods_of(1259, 0);
    goods.edge_gap_mm = 25;
    goods.step_mm = 914.4;
    goods.turning = Turning::quarter;
    const std::vector<LayoutPiece> mats = {mat("1", 843, 630), mat("2", 843, 579), mat("3", 320, 260),
                                           mat("4", 459, 80)};
    EXPECT_EQ(solved(mats, goods, 100)->rounds, 0);
    goods.length_mm = 1200;
    const auto result = solved(mats, goods, 100);
    ASSERT_TRUE(result);
    EXPECT_LE(result->used_mm, 1200);
}

TEST(Solve, OnePieceAlone) {
    const auto result = solved({mat("1", 700, 500)}, goods_of(1400, 6), 50);
    ASSERT_TRUE(result);
    EXPECT_NEAR(result->used_mm, 712, 0.001);
}

TEST(Bad, TooWideTooLongNoAreaAreAllNamed) {
    Goods goods = goods_of(1000, 5);
    goods.length_mm = 2000;
    LayoutPiece flat = mat("4", 100, 0);
    const auto result = solve_layout(
        {mat("1", 500, 991), mat("2", 1991, 300), mat("3", 500, 990), flat, LayoutPiece{"5", {}}}, goods, {},
        {});
    EXPECT_FALSE(result);
    std::vector<std::string> said;
    for (const Finding& f : result.findings) said.push_back(f.code + " " + f.subject.id);
    EXPECT_THAT(said, testing::ElementsAre("layout-too-wide 1", "layout-too-long 2", "layout-no-area 4",
                                           "layout-no-area 5"));
    EXPECT_THAT(result.findings[0].says, HasSubstr("39 in wide"));
    EXPECT_THAT(result.findings[0].to_do, HasSubstr("joint"));
}

TEST(Bad, FiveThousandPiecesAreRefused) {
    std::vector<LayoutPiece> many;
    for (int i = 0; i < 5000; ++i) many.push_back(mat(std::to_string(i), 100, 100));
    const auto result = solve_layout(many, goods_of(1000, 5), {}, {});
    EXPECT_FALSE(result);
    EXPECT_EQ(result.findings[0].code, "layout-too-many");
}

TEST(Bad, NotEnoughGoods) {
    Goods goods = goods_of(1000, 5);
    goods.length_mm = 1000;
    const auto result = solve_layout({mat("1", 600, 900), mat("2", 600, 900)}, goods, {}, {});
    EXPECT_FALSE(result);
    EXPECT_EQ(result.findings.back().code, "layout-goods-short");
}

// What the edges leave is never said to be less than nothing.
TEST(Bad, EdgesThatLeaveNothingAreSaidSo) {
    Goods goods = goods_of(1000, 5);
    goods.edge_gap_mm = 600;
    goods.length_mm = 1100;
    const auto result = solve_layout({mat("1", 300, 200)}, goods, {}, {});
    ASSERT_FALSE(result);
    ASSERT_EQ(result.findings.size(), 2u);
    for (const Finding& f : result.findings) {
        EXPECT_THAT(f.says, HasSubstr("nothing: 23 5/8 in is kept free at either edge"));
        EXPECT_THAT(f.says, Not(HasSubstr("-")));
    }
}

// A flaw over all the goods there are: that is said to be why. One of a hundred metres is gone round like any other.
TEST(Bad, AFlawOverEverything) {
    Goods goods = goods_of(1000, 5);
    goods.length_mm = 2000;
    goods.flaws = {{"1", {{0, 0}, {2000, 1000}}}};
    const auto refused = solve_layout({mat("1", 300, 200)}, goods, {}, {});
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.findings[0].code, "layout-goods-short");
    EXPECT_THAT(refused.findings[0].says, HasSubstr("no piece may lie on a flaw"));
    EXPECT_THAT(refused.findings[0].to_do, HasSubstr("without the flaws"));
    goods.length_mm = 0;
    goods.flaws[0].at_mm.max.x = 99'000;
    const auto behind = solved({mat("1", 300, 200)}, goods, 1);
    ASSERT_TRUE(behind);
    EXPECT_GT(behind->used_mm, 99'300);
    EXPECT_LT(behind->used_mm, 99'311);
}

TEST(Bad, NothingToLayOutIsAnEmptyLayout) {
    const auto result = solve_layout({}, goods_of(1000, 5), {}, {});
    ASSERT_TRUE(result);
    EXPECT_TRUE(result->placements.empty());
}

TEST(Cancel, BeforeAnythingIsAStopAndLaterKeepsTheBest) {
    std::atomic<bool> cancel{true};
    RunContext run;
    run.cancel = &cancel;
    const auto none = solve_layout(panels(10, 1), goods_of(1400, 6), {}, run);
    EXPECT_FALSE(none);
    EXPECT_EQ(none.findings.back().code, "layout-cancelled");

    cancel = false;
    SolveOptions options;
    options.rounds = 1000000;
    run.progress = [&](double, double) { cancel = true; };  // the first is told of after the first round
    const auto some = solve_layout(panels(10, 1), goods_of(1400, 6), options, run);
    ASSERT_TRUE(some);
    EXPECT_THAT(check_layout(panels(10, 1), goods_of(1400, 6), *some), IsEmpty());
}

// A set of pieces of which no two fit side by side adds up, in the best order: triangles overlap along the roll.
TEST(Bounds, PiecesThatExcludeOneAnother) {
    const auto bound = [](const std::vector<LayoutPiece>& pieces, double width, double gap) {
        return lay::bound_of(pieces, goods_of(width, gap), {});
    };
    const auto three = bound({mat("1", 300, 600), mat("2", 400, 600), mat("5", 500, 600)}, 1000, 5);
    EXPECT_NEAR(three.length_mm, 1220, 0.05);
    EXPECT_EQ(three.reason, "pieces 1, 2 and 5 cannot lie side by side");
    const LayoutPiece left{"1", {polygon({{0, 0}, {800, 0}, {0, 800}}), {}}};
    const LayoutPiece right{"2", {polygon({{800, 0}, {800, 800}, {0, 800}}), {}}};
    EXPECT_LE(bound({left, right}, 810, 0).length_mm, 800.1);  // they close to a square
    // Turned the other way they do not: the far corners pass each other only as far as the slant lets them.
    const LayoutPiece other{"2", {polygon({{0, 0}, {800, 0}, {800, 800}}), {}}};
    const auto apart = bound({other, left}, 810, 0);
    EXPECT_GT(apart.length_mm, 800);
    EXPECT_LE(apart.length_mm, 1600);
}

TEST(Bounds, AreaLongestAndTall) {
    const auto area =
        lay::bound_of({mat("1", 500, 495), mat("2", 500, 495), mat("3", 500, 495)}, goods_of(1005, 5), {});
    EXPECT_GE(area.length_mm, 760);
    const auto longest = lay::bound_of({mat("1", 1500, 100), mat("2", 50, 50)}, goods_of(1000, 5), {});
    EXPECT_NEAR(longest.length_mm, 1510, 0.01);
    EXPECT_EQ(longest.reason, "piece 1 alone is that long");
}

// Never above what a layout reaches, whatever the pieces.
TEST(Bounds, NeverAboveALayout) {
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
        const auto pieces = panels(2 + static_cast<int>(seed % 6), 100 + seed);
        const auto result = solved(pieces, goods_of(1100 + 20.0 * static_cast<double>(seed % 20), 4), 20);
        ASSERT_TRUE(result);
        EXPECT_LE(result->bound_mm, result->used_mm);
    }
}

}  // namespace
}  // namespace spile
