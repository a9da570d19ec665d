// Pieces turned as the goods allow: found by the solver, proved and refused by the checker, never below the bound.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/prepare.h"
#include "core/layout/solve/search.h"
#include "core/layout/solve/separate.h"
#include "core/layout/solve/solve.h"
#include "tests/base/repeats.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

LayoutPiece wedge(std::string id) {
    return {std::move(id), {polygon({{0, 0}, {1000, 0}, {0, 500}}), {}}};
}

Layout laid_out(const std::vector<LayoutPiece>& pieces, const Goods& goods, int rounds = 20,
                int threads = 1) {
    SolveOptions options;
    options.rounds = rounds;
    options.threads = threads;
    const auto result = solve_layout(pieces, goods, options, RunContext{});
    EXPECT_TRUE(result);
    if (!result) return {};
    EXPECT_THAT(check_layout(pieces, goods, *result), IsEmpty());
    EXPECT_GE(result->used_mm, result->bound_mm);
    return *result;
}

std::vector<std::string> checked(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                 const std::vector<Placement>& placements) {
    Layout layout;
    layout.placements = placements;
    measure_layout(pieces, goods, layout);
    std::vector<std::string> out;
    for (const Finding& f : check_layout(pieces, goods, layout)) out.push_back(f.code);
    return out;
}

// Two right-angled wedges make a rectangle when one is turned round, and no shorter layout is.
TEST(Turns, HalfATurnMakesARectangleOfTwoWedges) {
    const std::vector<LayoutPiece> pieces{wedge("1"), wedge("2")};
    const Layout turned = laid_out(pieces, goods_cut_anywhere(500, 0, Turning::half));
    EXPECT_NEAR(turned.used_mm, 1000, 0.1);
    EXPECT_NE(turned.placements[0].turns, turned.placements[1].turns);
    // Only moved, they can at best be pushed together along their slopes: 500 across leaves no room beside.
    EXPECT_NEAR(laid_out(pieces, goods_cut_anywhere(500, 0, Turning::one_way)).used_mm, 2000, 0.1);
}

TEST(Turns, AQuarterLaysAcrossWhatIsTooWide) {
    const std::vector<LayoutPiece> pieces{mat("1", 300, 900)};
    EXPECT_NEAR(laid_out(pieces, goods_cut_anywhere(500, 0, Turning::quarter)).used_mm, 900, 0.01);
    for (const Turning turning : {Turning::one_way, Turning::half}) {
        const auto refused = solve_layout(pieces, goods_cut_anywhere(500, 0, turning), {}, RunContext{});
        ASSERT_FALSE(refused);
        EXPECT_EQ(refused.findings[0].code, "layout-too-wide");
    }
}

// Legal but for the turn: the checker sees the turn itself.
TEST(Turns, APlantedTurnIsRefusedWhereTheGoodsForbidIt) {
    const std::vector<LayoutPiece> pieces{mat("1", 300, 200)};
    const std::vector<Placement> half{{"1", 350'000, 250'000, 2}}, quarter{{"1", 350'000, 50'000, 1}};
    EXPECT_THAT(checked(pieces, goods_cut_anywhere(500, 5, Turning::one_way), half),
                ElementsAre("layout-turn"));
    EXPECT_THAT(checked(pieces, goods_cut_anywhere(500, 5, Turning::one_way), quarter),
                ElementsAre("layout-turn"));
    EXPECT_THAT(checked(pieces, goods_cut_anywhere(500, 5, Turning::half), quarter),
                ElementsAre("layout-turn"));
    EXPECT_THAT(checked(pieces, goods_cut_anywhere(500, 5, Turning::half), half), IsEmpty());
    EXPECT_THAT(checked(pieces, goods_cut_anywhere(500, 5, Turning::quarter), quarter), IsEmpty());
    EXPECT_THAT(checked(pieces, goods_cut_anywhere(500, 5, Turning::quarter), {{"1", 350'000, 250'000, 4}}),
                ElementsAre("layout-turn"));
}

TEST(Turns, OverlapIsJudgedOnThePieceAsItLies) {
    // The wedge turned round reaches from its origin backwards; beside its twin the slopes meet without a gap.
    const std::vector<LayoutPiece> pieces{wedge("1"), wedge("2")};
    const Goods goods = goods_cut_anywhere(600, 0, Turning::half);
    EXPECT_THAT(checked(pieces, goods, {{"1", 0, 0, 0}, {"2", 1'000'000, 500'000, 2}}), IsEmpty());
    EXPECT_THAT(checked(pieces, goods, {{"1", 100, 0, 0}, {"2", 1'000'060, 500'000, 2}}),
                ElementsAre("layout-overlap"));
    EXPECT_THAT(checked(pieces, goods, {{"1", 0, 0, 0}, {"2", 1'000'000, 500'000, 0}}),
                ElementsAre("layout-width"));
}

// Pinned across the roll it takes 300 mm of it, not its 1000.
TEST(Turns, TheBoundKnowsThatAPinnedPieceMayLieAcross) {
    std::vector<LayoutPiece> pieces{mat("1", 1000, 300), mat("2", 200, 100)};
    pieces[0].pin = Placement{"1", 300'000, 0, 1};
    const Layout layout = laid_out(pieces, goods_cut_anywhere(1200, 0, Turning::quarter));
    EXPECT_NEAR(layout.used_mm, 300, kPlacementRounding_mm);
    EXPECT_LE(layout.bound_mm, layout.used_mm);
}

TEST(Turns, WhatCarriesAPatternIsNeverTurned) {
    std::vector<LayoutPiece> pieces{wedge("1"), wedge("2")};
    for (LayoutPiece& piece : pieces) piece.cloth = "cockpit";
    Goods goods = goods_cut_anywhere(500, 0, Turning::half);
    goods.repeat.along_mm = 100;
    for (const Placement& p : laid_out(pieces, goods).placements) EXPECT_EQ(p.turns, 0);
    EXPECT_THAT(checked({pieces[0]}, goods, {{"1", 1'000'000, 500'000, 2}}), ElementsAre("layout-turn"));
}

TEST(Turns, AreFoundAgainByAnyNumberOfThreadsAndNeverBelowTheBound) {
    for (int seed = 1; seed <= test::repeats(2); ++seed) {
        const std::vector<LayoutPiece> pieces = panels(5, static_cast<std::uint64_t>(seed));
        double before = 1e300;
        for (const Turning turning : {Turning::one_way, Turning::half, Turning::quarter}) {
            const Goods goods = goods_cut_anywhere(1300, 6.35, turning);
            const Layout one = laid_out(pieces, goods, 6), two = laid_out(pieces, goods, 6, 2);
            EXPECT_EQ(one.placements, two.placements);
            EXPECT_LE(one.used_mm, before) << "more freedom, longer";
            before = one.used_mm;
        }
    }
}

// The first layouts alone, and after the same rounds; of goods bought in steps too, where a search ends as soon as no less
// could be bought: then a freer one may have ended a hair above a length that takes the same goods.
TEST(Turns, MoreFreedomIsNeverLonger) {
    constexpr double kBoundWithin_mm = 0.02;  // a search ends as near as that to a bound
    lay::Random random(3);
    for (int set = 0; set < test::repeats(60); ++set) {
        const int rounds = set % 3 == 0 ? 2 : 0;
        // After a search up to six pieces are proved, which takes its time.
        const int n = (rounds > 0 ? 7 : 2) + static_cast<int>(random.below(8));
        std::vector<LayoutPiece> pieces = panels(n, 500 + static_cast<std::uint64_t>(set));
        if (set % 4 == 1)
            for (LayoutPiece& piece : pieces)
                piece = mat(piece.id, 100 + 900 * random.share(), 100 + 900 * random.share());
        double before = 1e300, bought_before = 1e300;
        for (const Turning turning : {Turning::one_way, Turning::half, Turning::quarter}) {
            Goods goods = goods_cut_anywhere(1100 + 10.0 * set, 6.35, turning);
            if (set % 5 == 4) goods.step_mm = 914.4;
            const Layout layout = laid_out(pieces, goods, rounds);
            EXPECT_LE(layout.bought_mm, bought_before + kBoundWithin_mm) << "set " << set;
            EXPECT_LE(layout.used_mm, before * (goods.step_mm > 0 ? 1.001 : 1) + kBoundWithin_mm)
                << "set " << set;
            before = layout.used_mm;
            bought_before = layout.bought_mm;
        }
    }
}

// Every rectangle lies in two ways, not four: the two others look the same.
TEST(Turns, WhatLooksTheSameHalfRoundIsNotTriedTwice) {
    const Goods goods = goods_cut_anywhere(1200, 6.35, Turning::quarter);
    const lay::Prepared prepared = lay::prepare({mat("1", 300, 200), wedge("2")}, goods, Resolution{0.1});
    EXPECT_EQ(prepared.problem.items[0].shapes.size(), 2u);
    EXPECT_EQ(prepared.problem.items[1].shapes.size(), 4u);
}

// A mat of 1000 x 300 lies along a strip that is made shorter than it: left standing out of it, it overlaps nothing and the search
// would take that for a shorter layout for ever.
TEST(Turns, WhatIsLongerThanTheStripIsTurnedIntoIt) {
    const Goods goods = goods_cut_anywhere(1500, 0, Turning::quarter);
    const lay::Prepared prepared =
        lay::prepare({mat("1", 1000, 300), mat("2", 400, 400)}, goods, Resolution{0.1});
    const lay::FitTable table(prepared.problem);
    const lay::FieldTable fields(table, lay::usual_cell(prepared.problem));
    lay::Separator separator(fields, {}, {});
    const int along = prepared.shape_of_piece[0][0];
    ASSERT_GE(along, 0);
    const double strip = 500 * lay::kUnitsPerMm;
    separator.start({{along, {0, 0}}, {prepared.shape_of_piece[1][0], {0, 600 * lay::kUnitsPerMm}}}, strip);
    EXPECT_LE(lay::length_of(prepared.problem, separator.places()), strip);
}

}  // namespace
}  // namespace spile
