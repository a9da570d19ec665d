// Walks that cross themselves: the ground they go round.
#include "core/geom/untangle.h"

#include <gtest/gtest.h>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

TEST(Untangle, AWalkWithoutFaultComesBack) {
    const Outline square = rectangle({0, 0}, {10, 10}, 3);
    const auto parts = untangled(square);
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_EQ(parts[0], square);
    EXPECT_TRUE(untangled({}).empty());
    EXPECT_TRUE(untangled({{{{0, 0}, 0, 0}, {{NAN, 1}, 0, 0}, {{1, 1}, 0, 0}}}).empty());
}

TEST(Untangle, ALoopTheWrongWayRoundIsGone) {
    // A square whose lower right corner was walked past: the two sides cross at (8, 2) and turn round beyond.
    const Outline walk{
        {{{0, 2}, 0, 0}, {{10, 2}, 0, 1}, {{10, 0}, 0, 2}, {{8, 0}, 0, 3}, {{8, 10}, 0, 4}, {{0, 10}, 0, 5}}};
    const auto parts = untangled(walk);
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_NEAR(area_mm2(parts[0]), 64, 1e-9);
    EXPECT_EQ(parts[0].size(), 4u);
}

TEST(Untangle, GroundGoneRoundTwiceIsTakenOnce) {
    // Two squares of one walk that overlap by 4 x 4.
    const Outline walk{{{{0, 0}, 0, 0},
                        {{10, 0}, 0, 0},
                        {{10, 6}, 0, 0},
                        {{6, 6}, 0, 0},
                        {{6, 16}, 0, 0},
                        {{16, 16}, 0, 0},
                        {{16, 6}, 0, 0},
                        {{6, 6}, 0, 0},
                        {{6, 10}, 0, 0},
                        {{0, 10}, 0, 0}}};
    double area = 0;
    for (const Outline& part : untangled(walk)) {
        EXPECT_TRUE(faults_of(part).empty());
        area += area_mm2(part);
    }
    // The second square is walked clockwise: it bounds nothing but where the first lies.
    EXPECT_NEAR(area, 100 - 16, 1e-9);
}

TEST(Untangle, AnArcMovedPastItsCentreIsGone) {
    // An inside round of radius 5 moved by 8: its moved arc turns inside out, the two moved lines meet at (-8, -8).
    const Outline walk{{{{-40, -8}, 0, 0},
                        {{-5, -8}, 0.41421356237309503 * -1, 1},
                        {{-8, -5}, 0, 2},
                        {{-8, -40}, 0, 3},
                        {{20, -40}, 0, 4},
                        {{20, 20}, 0, 5},
                        {{-40, 20}, 0, 6}}};
    const auto parts = untangled(walk);
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_TRUE(faults_of(parts[0]).empty());
    EXPECT_NEAR(area_mm2(parts[0]), 60.0 * 60 - 32 * 32, 1e-9);
}

}  // namespace
}  // namespace spile
