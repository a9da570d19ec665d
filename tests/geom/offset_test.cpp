// Offsets: closed forms, then brute force on thousands of random shapes.
#include "core/geom/offset.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

const double pi = 3.14159265358979323846;
const OffsetOptions rounded{Join::round, 4, false};

double total_area(const std::vector<Outline>& outlines) {
    double sum = 0;
    for (const Outline& o : outlines) sum += area_mm2(o);
    return sum;
}

TEST(Offset, RectangleClosedForms) {
    const Outline o = rectangle({0, 0}, {300, 200}, 10);
    const auto grown = offset(o, 25);
    ASSERT_EQ(grown.size(), 1u);
    EXPECT_EQ(grown[0], rectangle({-25, -25}, {325, 225}, 10));
    const auto shrunk = offset(o, -25);
    ASSERT_EQ(shrunk.size(), 1u);
    EXPECT_EQ(shrunk[0], rectangle({25, 25}, {275, 175}, 10));
    const auto round = offset(o, 25, rounded);
    ASSERT_EQ(round.size(), 1u);
    EXPECT_EQ(round[0].size(), 8u);
    EXPECT_NEAR(area_mm2(round[0]), 300 * 200 + 2 * 25 * 500 + pi * 625, 1e-9);
    EXPECT_TRUE(offset(o, -100).empty());
    EXPECT_TRUE(offset(o, -101).empty());
    EXPECT_EQ(offset(o, 0)[0], o);
}

TEST(Offset, DiscSlotAndPolygonClosedForms) {
    const auto disc = offset(circle({5, 7}, 40, 3), 2);
    ASSERT_EQ(disc.size(), 1u);
    EXPECT_EQ(disc[0].size(), 2u);
    EXPECT_NEAR(area_mm2(disc[0]), pi * 42 * 42, 1e-9);
    EXPECT_NEAR(distance(centre_of(disc[0].edge(0)), Vec2{5, 7}), 0, 1e-13);
    EXPECT_TRUE(offset(circle({5, 7}, 40), -40).empty());
    EXPECT_TRUE(offset(circle({5, 7}, 40), -100).empty());
    EXPECT_NEAR(area_mm2(offset(circle({5, 7}, 40), -39.5)[0]), pi / 4, 1e-9);
    const auto slot = offset(test::slot({0, 0}, 100, 20), -5);
    ASSERT_EQ(slot.size(), 1u);
    EXPECT_EQ(slot[0].size(), 4u);
    EXPECT_NEAR(area_mm2(slot[0]), 100 * 30 + pi * 225, 1e-9);
    EXPECT_TRUE(offset(test::slot({0, 0}, 100, 20), -20).empty());
    for (int n = 3; n < 40; ++n) {
        std::vector<Vec2> corners;
        for (int k = 0; k < n; ++k)
            corners.push_back({100 * std::cos(2 * pi * k / n), 100 * std::sin(2 * pi * k / n)});
        const Outline o = polygon(corners);
        const double inner = 100 * std::cos(pi / n);  // of the inscribed circle
        for (double d : {-0.9 * inner, -10.0, 10.0, 200.0}) {
            const auto moved = offset(o, d);
            ASSERT_EQ(moved.size(), 1u) << n << " " << d;
            const double scale = (inner + d) / inner;
            EXPECT_NEAR(area_mm2(moved[0]), area_mm2(o) * scale * scale, 1e-7) << n << " " << d;
            EXPECT_EQ(moved[0].size(), o.size());
        }
        EXPECT_TRUE(offset(o, -1.001 * inner).empty());
    }
}

TEST(Offset, HoleShrinksWhenMaterialGrows) {
    const Outline hole = reversed(rectangle({0, 0}, {100, 60}));
    const auto grown = offset(hole, 10);
    ASSERT_EQ(grown.size(), 1u);
    EXPECT_NEAR(area_mm2(grown[0]), -80 * 40, 1e-9);
    EXPECT_NEAR(total_area(offset(hole, -10)), -120 * 80, 1e-9);
    EXPECT_TRUE(offset(hole, 30).empty());
}

}  // namespace
}  // namespace spile
