#include "core/layout/solve/no_fit.h"

#include <gtest/gtest.h>

#include "core/layout/solve/problem.h"
#include "tests/layout/polygons.h"

namespace spile::lay {
namespace {

Polys loops_of(const Shape& s, IPoint at = {}) {
    Polys loops{moved(s.outer, at)};
    for (const Poly& hole : s.holes) loops.push_back(moved(hole, at));
    return loops;
}

/// Random places: strictly inside the no-fit polygon exactly when the surfaces share area (the polygon clipper's word).
void agrees_with_clipping(const Shape& fixed, const Shape& moving, Random& random, int places) {
    const Polys nfp = no_fit(fixed, moving);
    IBox box;
    for (const Poly& loop : nfp)
        for (IPoint p : loop) box.add(p);
    for (int k = 0; k < places; ++k) {
        const IPoint p{
            box.min_x + static_cast<std::int64_t>(random.below(static_cast<std::uint64_t>(box.width()))),
            box.min_y + static_cast<std::int64_t>(random.below(static_cast<std::uint64_t>(box.height())))};
        const double shared = shared_area(loops_of(fixed), loops_of(moving, p));
        // The clipper rounds crossings to whole units: slivers along an outline of some thousand units may appear.
        if (shared > 0 && shared < 20000) continue;
        EXPECT_EQ(strictly_inside(nfp, p), shared > 0) << p.x << ' ' << p.y << " shared " << shared;
    }
}

TEST(NoFit, SquareRoundSquareIsTheSumOfTheirSides) {
    const Shape a = make_shape({{0, 0}, {10, 0}, {10, 10}, {0, 10}});
    const Shape b = make_shape({{0, 0}, {4, 0}, {4, 6}, {0, 6}});
    const Polys nfp = no_fit(a, b);
    ASSERT_EQ(nfp.size(), 1u);
    EXPECT_EQ(box_of(nfp[0]).min_x, -4);
    EXPECT_EQ(box_of(nfp[0]).max_y, 10);
    EXPECT_EQ(area_of(nfp[0]), 14 * 16);
}

TEST(NoFit, ConvexShapesAgreeWithClipping) {
    Random random(7);
    for (int k = 0; k < 40; ++k) {
        const Shape a = make_shape(hull_of(star(random, 9, 3000, 10000)));
        const Shape b = make_shape(hull_of(star(random, 7, 2000, 8000)));
        ASSERT_TRUE(a.convex && b.convex);
        agrees_with_clipping(a, b, random, 50);
    }
}

TEST(NoFit, DentedShapesAgreeWithClipping) {
    Random random(11);
    for (int k = 0; k < 60; ++k) {
        const Shape a = make_shape(star(random, 5 + k % 20, 2000, 20000));
        const Shape b = make_shape(star(random, 4 + k % 11, 1000, 12000));
        agrees_with_clipping(a, b, random, 60);
    }
}

// Many parallel edges: the case where the order of equal directions matters.
TEST(NoFit, SquareCornersAgreeWithClipping) {
    Random random(13);
    const auto stairs = [&](int steps) {
        Poly p{{0, 0}};
        std::int64_t x = 2000 * steps, y = 0;
        p.push_back({x, 0});
        for (int i = 0; i < steps; ++i) {
            y += 1000 + 500 * static_cast<std::int64_t>(random.below(4));
            p.push_back({x, y});
            x -= i + 1 == steps ? x : 500 + 500 * static_cast<std::int64_t>(random.below(3));
            p.push_back({x, y});
        }
        return cleaned(p);
    };
    for (int k = 0; k < 40; ++k) {
        const Poly u{{0, 0},       {9000, 0},    {9000, 9000}, {6000, 9000},
                     {6000, 3000}, {3000, 3000}, {3000, 9000}, {0, 9000}};
        agrees_with_clipping(make_shape(stairs(2 + k % 5)), make_shape(turned(u, k)), random, 60);
        agrees_with_clipping(make_shape(stairs(2 + k % 3)), make_shape(turned(stairs(3), k)), random, 60);
    }
}

TEST(NoFit, ABayTakesWhatFits) {
    const Poly u{{0, 0}, {90, 0}, {90, 90}, {61, 90}, {61, 30}, {29, 30}, {29, 90}, {0, 90}};
    const Shape block = make_shape({{0, 0}, {30, 0}, {30, 30}, {0, 30}});
    const Polys nfp = no_fit(make_shape(u), block);
    EXPECT_FALSE(strictly_inside(nfp, {30, 40}));  // in the bay
    EXPECT_FALSE(strictly_inside(nfp, {30, 30}));  // resting on its floor
    EXPECT_TRUE(strictly_inside(nfp, {30, 29}));
    EXPECT_TRUE(strictly_inside(nfp, {28, 40}));
}

// Holes of pieces may hold other pieces, from both sides of the pair.
TEST(NoFit, AHoleTakesWhatFits) {
    const Shape ring =
        make_shape({{0, 0}, {100, 0}, {100, 100}, {0, 100}}, {{{20, 20}, {20, 80}, {80, 80}, {80, 20}}});
    const Shape block = make_shape({{0, 0}, {30, 0}, {30, 40}, {0, 40}});
    const Polys nfp = no_fit(ring, block);
    EXPECT_FALSE(strictly_inside(nfp, {20, 20}));
    EXPECT_FALSE(strictly_inside(nfp, {50, 40}));
    EXPECT_TRUE(strictly_inside(nfp, {51, 40}));
    EXPECT_TRUE(strictly_inside(nfp, {19, 30}));
    const Polys other = no_fit(block, ring);
    EXPECT_FALSE(strictly_inside(other, {-20, -20}));
    EXPECT_TRUE(strictly_inside(other, {-51, -40}));
    const Shape large = make_shape({{0, 0}, {61, 0}, {61, 10}, {0, 10}});
    EXPECT_TRUE(strictly_inside(no_fit(ring, large), {20, 40}));
}

TEST(NoFit, DentedShapesWithHolesAgreeWithClipping) {
    Random random(17);
    for (int k = 0; k < 20; ++k) {
        Poly hole = star(random, 8, 9000, 14000);
        std::reverse(hole.begin(), hole.end());
        const Shape ring = make_shape(star(random, 12, 15000, 22000), {hole});
        const Shape item = make_shape(star(random, 6, 1000, 5000));
        agrees_with_clipping(ring, item, random, 80);
        agrees_with_clipping(item, ring, random, 80);
    }
}

TEST(NoFit, TheOtherOrderIsThePointReflection) {
    Random random(19);
    Problem problem;
    for (int k = 0; k < 6; ++k) {
        problem.shapes.push_back(make_shape(star(random, 9, 2000, 9000)));
        problem.boxes.push_back(problem.shapes.back().box);
    }
    const FitTable table(problem);
    for (int a = 0; a < 6; ++a)
        for (int b = 0; b < 6; ++b) {
            const auto &ab = table.pair(a, b), &ba = table.pair(b, a);
            EXPECT_EQ(ab.box.min_x, table.box(a, b).min_x);
            EXPECT_EQ(ab.box.max_y, table.box(a, b).max_y);
            for (int k = 0; k < 200; ++k) {
                const IPoint p{static_cast<std::int64_t>(random.below(40000)) - 20000,
                               static_cast<std::int64_t>(random.below(40000)) - 20000};
                EXPECT_EQ(strictly_inside(ab.loops, p), strictly_inside(ba.loops, -p));
            }
        }
}

TEST(Poly, CleaningDropsRepeatsStraightRunsAndSpikes) {
    EXPECT_EQ(cleaned({{0, 0}, {5, 0}, {5, 0}, {10, 0}, {10, 10}, {10, 20}, {10, 10}, {0, 10}}).size(), 4u);
    EXPECT_TRUE(cleaned({{0, 0}, {5, 0}, {10, 0}}).empty());
}

TEST(Poly, ShrinkingKeepsCornersSharpAndHolesGrow) {
    const Polys in = shrunk({{0, 0}, {1000, 0}, {1000, 500}, {0, 500}}, 10);
    ASSERT_EQ(in.size(), 1u);
    EXPECT_EQ(area_of(in[0]), 980 * 480);
    const Polys hole = shrunk({{0, 0}, {0, 500}, {1000, 500}, {1000, 0}}, 10);
    ASSERT_EQ(hole.size(), 1u);
    EXPECT_EQ(area_of(hole[0]), -1020 * 520);
}

}  // namespace
}  // namespace spile::lay
