// What is known of a layout without a search: boxes in columns, and the length that no layout goes below.
#include "shop/columns.h"

#include <gtest/gtest.h>

#include <numeric>

#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile::shop {
namespace {

std::vector<std::size_t> all_of(const std::vector<LayoutPiece>& pieces) {
    std::vector<std::size_t> which(pieces.size());
    std::iota(which.begin(), which.end(), 0);
    return which;
}

double least_mm(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    return Rows(pieces, goods).least_mm(all_of(pieces));
}

std::vector<LayoutPiece> equal_mats(int count, double along, double across) {
    std::vector<LayoutPiece> pieces;
    for (int k = 0; k < count; ++k) pieces.push_back(mat(std::to_string(k), along, across));
    return pieces;
}

// Closed form: of n equal mats k side by side there are n / k rows, rounded up.
TEST(Rows, EqualMatsTakeAsManyRowsAsTheyMust) {
    const Goods goods = goods_of(1800, 6);
    for (int side = 1; side <= 4; ++side)
        for (int count = 1; count <= 8; ++count) {
            const auto pieces = equal_mats(count, 700, (1800.0 - 6) / side - 6);
            const int rows = (count + side - 1) / side;
            const double least = 706.0 * rows + 6;
            EXPECT_NEAR(least_mm(pieces, goods), least, 0.05)
                << count << " mats, " << side << " side by side";
            EXPECT_LE(least_mm(pieces, goods), least);
            const auto columns = in_columns(pieces, goods);
            ASSERT_TRUE(columns);
            EXPECT_NEAR(columns->used_mm, least, 0.001);
        }
}

TEST(Rows, TheLongestOfMoreThanARowHoldsAddUp) {
    // Two side by side: of 900, 800, 700 two lie in one row, of the shortest at least 700 and 800.
    const std::vector<LayoutPiece> pieces{mat("1", 900, 500), mat("2", 800, 500), mat("3", 700, 500)};
    EXPECT_NEAR(least_mm(pieces, goods_of(1100, 5)), 800 + 700 + 3 * 5, 0.05);
}

TEST(Rows, ACornerThatIsCutOffTakesNothingFromThem) {
    // As a mat with turned edges is cut: its corners are gone, but across it is wide all along.
    std::vector<LayoutPiece> pieces;
    for (int k = 0; k < 3; ++k)
        pieces.push_back(
            {std::to_string(k),
             {polygon({{40, 0}, {660, 0}, {700, 40}, {700, 760}, {660, 800}, {40, 800}, {0, 760}, {0, 40}}),
              {}}});
    EXPECT_NEAR(least_mm(pieces, goods_of(1700, 6)), 2 * 700 + 3 * 6, 0.05);
}

TEST(Rows, WhatMayBeTurnedCountsTheWayItTakesLess) {
    const auto pieces = equal_mats(3, 900, 400);
    EXPECT_NEAR(least_mm(pieces, goods_of(1000, 5)), 2 * 900 + 3 * 5, 0.05);
    const double turned = least_mm(pieces, goods_cut_anywhere(1000, 5, Turning::quarter));
    EXPECT_LE(turned, 3 * 400 + 4 * 5) << "each across the goods";
    EXPECT_GT(turned, 800);
}

// No layout is shorter, whatever finds it: the solver on panels as they come and on mats, three freedoms, drawn at random.
TEST(Rows, NoLayoutThatIsFoundIsShorter) {
    std::size_t tight = 0, told = 0;
    for (std::uint64_t seed = 1; seed <= 30; ++seed) {
        lay::Random random(seed);
        std::vector<LayoutPiece> pieces = panels(2 + static_cast<int>(random.below(2)), seed);
        if (seed % 2 == 0) {
            pieces.clear();
            for (std::size_t k = 0, count = 3 + random.below(3); k < count; ++k)
                pieces.push_back(
                    mat(std::to_string(k), 300 + 700 * random.share(), 300 + 500 * random.share()));
        }
        const Turning turning[] = {Turning::one_way, Turning::half, Turning::quarter};
        const Goods goods =
            goods_cut_anywhere(900 + 900 * random.share(), 20 * random.share(), turning[random.below(3)]);
        SolveOptions options;
        options.rounds = 1;
        const auto found = solve_layout(pieces, goods, options, {});
        if (!found) continue;
        const double least = least_mm(pieces, goods);
        EXPECT_LE(least, found->used_mm + 0.001) << "seed " << seed;
        tight += least > 0.9 * found->used_mm;
        told += least > 0;
        // Nor do columns go below it; what they say is proved.
        if (const auto columns = in_columns(pieces, goods)) {
            EXPECT_LE(least, columns->used_mm + 0.001) << "seed " << seed;
            EXPECT_TRUE(check_layout(pieces, goods, *columns).empty()) << "seed " << seed;
        }
    }
    EXPECT_GT(tight, 5u);
    EXPECT_GT(told, 20u);
}

TEST(Columns, WhatIsWiderThanTheGoodsOrLiesOnAFlawIsNothing) {
    EXPECT_FALSE(in_columns({mat("1", 500, 1000)}, goods_of(1000, 5)));
    EXPECT_TRUE(in_columns({mat("1", 1000, 500)}, goods_of(600, 5)));
    EXPECT_TRUE(in_columns({mat("1", 500, 1000)}, goods_cut_anywhere(600, 5, Turning::quarter)));
    Goods flawed = goods_of(1000, 5);
    flawed.flaws.push_back({"1", {{100, 100}, {120, 120}}});
    EXPECT_FALSE(in_columns({mat("1", 500, 500)}, flawed));
}

TEST(Columns, OnAnOffcutOnlyWithinItsOutline) {
    Layout one;
    one.stretches = {{"offcut 1", "L", 0, rectangle({0, 0}, {1100, 600})}};
    EXPECT_TRUE(in_columns(equal_mats(2, 500, 500), goods_on(goods_of(1800, 5), one, 0)));
    EXPECT_FALSE(in_columns(equal_mats(3, 500, 500), goods_on(goods_of(1800, 5), one, 0)));
    one.stretches[0].outline = polygon({{0, 0}, {1100, 0}, {1100, 300}, {600, 300}, {600, 600}, {0, 600}});
    EXPECT_FALSE(in_columns(equal_mats(2, 500, 500), goods_on(goods_of(1800, 5), one, 0)));
}

}  // namespace
}  // namespace spile::shop
