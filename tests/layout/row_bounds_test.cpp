// Bounds by rows and by shares both ways: against closed forms, brute force on grids and layouts that were found. They may miss
// something; they must never say what is not so.
#include "core/layout/solve/row_bounds.h"

#include <gtest/gtest.h>

#include <algorithm>

#include "core/layout/solve/bound.h"
#include "core/layout/solve/dual_feasible.h"
#include "core/layout/solve/solve.h"
#include "tests/layout/grid.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

constexpr double kInch = 25.4;
using lay::DualFeasible;
using lay::InnerRectangle;

std::vector<LayoutPiece> equal_mats(int n, double along, double across) {
    std::vector<LayoutPiece> mats;
    for (int i = 1; i <= n; ++i) mats.push_back(mat(std::to_string(i), along, across));
    return mats;
}

lay::Bound bound_on(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    return lay::bound_of(pieces, goods, {});
}

// What the definition asks for: whatever fits has shares of 1 at most, and a larger size no smaller share.
TEST(DualFeasible, WhatFitsHasSharesOfNoMoreThanOne) {
    lay::Random random(11);
    for (int k = 0; k < 20'000; ++k) {
        const std::int64_t whole = 12 + static_cast<std::int64_t>(random.below(60));
        std::vector<std::int64_t> sizes;
        for (std::int64_t left = whole; left > 0 && sizes.size() < 9;) {
            const std::int64_t most = random.below(2) == 0 ? left : std::min(left, whole / 3);
            sizes.push_back(1 + static_cast<std::int64_t>(random.below(static_cast<std::uint64_t>(most))));
            left -= sizes.back();
        }
        std::vector<DualFeasible> all = lay::dual_feasible_for(whole, sizes, 40);
        const auto of = 1 + static_cast<std::int64_t>(random.below(static_cast<std::uint64_t>(whole / 2)));
        for (const auto kind :
             {DualFeasible::Kind::steps, DualFeasible::Kind::ends, DualFeasible::Kind::multiples})
            all.emplace_back(kind, whole, of);
        for (const DualFeasible& f : all) {
            double sum = 0;
            for (const std::int64_t size : sizes) sum += f.share(size);
            ASSERT_LE(sum, 1 + 1e-12)
                << "kind " << static_cast<int>(f.kind()) << " of " << f.of() << " in " << whole;
            for (std::int64_t size = 1; size <= whole; ++size) ASSERT_GE(f.share(size), f.share(size - 1));
            ASSERT_EQ(f.share(0), 0);
            ASSERT_EQ(f.share(whole), 1);
        }
    }
}

// Closed forms: of a right triangle with legs of 800 a band of width w holds 800 - w; of an ell either arm; of a mat with a hole in
// the middle what is beside the hole.
TEST(InnerRectangles, OfATriangleAnEllAndAFrame) {
    const lay::Shape triangle = lay::make_shape({{0, 0}, {800, 0}, {0, 800}});
    for (const auto& r : lay::inner_rectangles(triangle, {1, 200, 400, 799}))
        EXPECT_EQ(r.along, 800 - r.across);
    const lay::Shape ell = lay::make_shape({{0, 0}, {300, 0}, {300, 100}, {100, 100}, {100, 300}, {0, 300}});
    EXPECT_EQ(lay::inner_rectangles(ell, {50, 100, 101, 300, 301}),
              (std::vector<InnerRectangle>{{300, 100}, {100, 300}}));
    const lay::Shape frame = lay::make_shape({{0, 0}, {900, 0}, {900, 900}, {0, 900}},
                                             {{{200, 300}, {200, 600}, {500, 600}, {500, 300}}});
    EXPECT_EQ(lay::inner_rectangles(frame, {300, 301, 900}),
              (std::vector<InnerRectangle>{{900, 300}, {400, 900}}));
}

// Four mats of 24 x 20 in on 72 in: four abreast take 80 in, so there are two rows, 2 x 24 in and three gaps of 1/4 in.
TEST(RowBounds, FourMatsOfWhichThreeLieSideBySide) {
    const auto bound = bound_on(equal_mats(4, 24 * kInch, 20 * kInch), goods_of(72 * kInch, kInch / 4));
    EXPECT_LE(bound.length_mm, 48.75 * kInch);
    EXPECT_NEAR(bound.length_mm, 48.75 * kInch, 0.02);
    EXPECT_EQ(bound.reason, "no more than 3 of pieces 1, 2, 3 and 4 lie side by side, so they take 2 rows");
    // Turned they take two rows too, of 20 in.
    Goods any = goods_of(72 * kInch, kInch / 4);
    any.turning = Turning::quarter;
    EXPECT_NEAR(bound_on(equal_mats(4, 24 * kInch, 20 * kInch), any).length_mm, 40.75 * kInch, 0.02);
}

// Three of 20 in and four gaps of 1/4 in are 61 in: they lie side by side there. On 60 in they do not, and what lies behind keeps the
// whole gap. Between, rounded corners of the gap pass one another: on 61 in less 0.01 mm the third lies behind by the root of
// (1/4 in)^2 - (1/4 in - 0.01 mm)^2, 0.36 mm.
TEST(RowBounds, AnExactFitExcludesNothing) {
    const std::vector<LayoutPiece> mats = equal_mats(3, 24 * kInch, 20 * kInch);
    EXPECT_LE(bound_on(mats, goods_of(61 * kInch, kInch / 4)).length_mm, 24.5 * kInch);
    EXPECT_LE(bound_on(mats, goods_of(61 * kInch - 0.002, kInch / 4)).length_mm, 24.5 * kInch);
    EXPECT_NEAR(bound_on(mats, goods_of(60 * kInch, kInch / 4)).length_mm, 48.75 * kInch, 0.02);
    const double between = bound_on(mats, goods_of(61 * kInch - 0.01, kInch / 4)).length_mm;
    EXPECT_GE(between, 48 * kInch);
    EXPECT_LE(between, 48.5 * kInch + 0.36);
}

// Rows of different lengths: of five of which two lie side by side three lie behind one another, 400 + 300 + 300.
TEST(RowBounds, TheShortestOfThoseThatLieBehindOneAnother) {
    std::vector<LayoutPiece> mats;
    for (const double along : {500, 500, 400, 300, 300})
        mats.push_back(mat(std::to_string(mats.size() + 1), along, 320));
    const auto bound = bound_on(mats, goods_cut_anywhere(900, 0));
    EXPECT_GE(bound.length_mm, 999.98);
    EXPECT_LE(bound.length_mm, 1000);
}

// A search has nothing left to do where the bound is reached.
TEST(RowBounds, EndTheSearch) {
    const auto layout =
        solve_layout(equal_mats(7, 500, 300), goods_cut_anywhere(1000, 6.35), {}, RunContext{});
    ASSERT_TRUE(layout);
    EXPECT_EQ(layout->rounds, 0);
    EXPECT_LE(layout->used_mm - layout->bound_mm, kProvedWithin_mm);
}

// The oracle of all: no more than brute force needs, for rectangles that lie one way.
TEST(RowBounds, NeverAboveBruteForceOnSmallGrids) {
    lay::Random random(29);
    int proved = 0, sets = 0;
    for (; sets < 300; ++sets) {
        std::vector<Rectangle> all;
        std::vector<lay::InnerPiece> pieces;
        const int width = 5 + static_cast<int>(random.below(4));
        const std::size_t n = 3 + random.below(3);
        while (all.size() < n) {
            const Rectangle r{1 + static_cast<int>(random.below(5)), 1 + static_cast<int>(random.below(5))};
            for (std::uint64_t same = 1 + random.below(3); same > 0 && all.size() < n; --same) {
                all.push_back(r);
                pieces.push_back({{{{100 * r.along, 100 * r.across}}}});
            }
        }
        const int shortest = 100 * shortest_on_grid(all, width);
        const lay::RowBound rows = lay::by_rows(pieces, 100 * width),
                            shares = lay::by_shares(pieces, 100 * width, 0, {});
        ASSERT_LE(rows.length, shortest) << "set " << sets;
        ASSERT_LT(shares.length, shortest) << "set " << sets;
        proved += std::max(rows.length, shares.length + 1) == shortest;
    }
    RecordProperty("proved of 300", proved);
    EXPECT_GT(proved, 150);
}

// Nor more than a layout that was found takes, however the pieces may be turned.
TEST(RowBounds, NeverAboveALayout) {
    for (std::uint64_t seed = 1; seed <= 60; ++seed) {
        lay::Random random(seed);
        std::vector<LayoutPiece> pieces = panels(2 + static_cast<int>(seed % 5), seed);
        for (const LayoutPiece& more : equal_mats(2 + static_cast<int>(seed % 3), 200 + 500 * random.share(),
                                                  200 + 400 * random.share()))
            pieces.push_back({"m" + more.id, more.outline});
        Goods goods = goods_cut_anywhere(1100 + 15.0 * static_cast<double>(seed), seed % 4 == 0 ? 0 : 6.35,
                                         seed % 3 == 0   ? Turning::half
                                         : seed % 3 == 1 ? Turning::one_way
                                                         : Turning::quarter);
        if (seed % 5 == 0) goods.edge_gap_mm = 20;
        SolveOptions options;
        options.rounds = pieces.size() > 6 ? 4 : 0;
        const auto layout = solve_layout(pieces, goods, options, RunContext{});
        ASSERT_TRUE(layout);
        EXPECT_LE(layout->bound_mm, layout->used_mm) << seed;
    }
}

}  // namespace
}  // namespace spile
