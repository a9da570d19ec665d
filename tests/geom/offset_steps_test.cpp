// Offsets with a distance per edge on outlines that already carry square steps: edges far shorter than they move, next
// to edges that move the other way or not at all.
#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/scraps.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {
using test::Random;

TEST(OffsetSteps, AStepShorterThanItsNeighbourMoves) {
    // A box with a step of 5 in its left side; the side above the step moves in by more than the step.
    const Outline box = polygon({{45, 0}, {300, 0}, {300, 300}, {50, 300}, {50, 100}, {45, 100}});
    for (const double d : {3.0, 6.35, 25.4}) {
        const auto parts = offset_each(box, {0, 0, 0, -d, 0, 0});
        ASSERT_EQ(parts.size(), 1u) << d;
        EXPECT_EQ(parts[0].size(), 6u);
        EXPECT_NEAR(area_mm2(parts[0]), area_mm2(box) - 200 * d, 1e-6);
    }
    const auto parts = offset_each(box, {0, 0, 0, -10, -10, 0});
    ASSERT_EQ(parts.size(), 1u);
    EXPECT_NEAR(area_mm2(parts[0]), area_mm2(box) - 200 * 10 - 10 * 15, 1e-6);
}

TEST(OffsetSteps, EveryMixOfDistancesKeepsOnePartOfTheRightSize) {
    Random random(20260501);
    int judged = 0;
    for (int n = 0; n < 6000; ++n) {
        const Outline plain = test::star(random, 3 + random.below(7), 1200);
        std::vector<double> first;
        for (std::size_t k = 0; k < plain.size(); ++k) first.push_back(-random.between(0, 12));
        auto stepped = offset_each(plain, first);
        drop_scraps(stepped, 12);
        if (stepped.size() != 1) continue;
        const Outline& o = stepped.front();
        // Nowhere so narrow that the moves could meet across it, nor spikes that they could run down.
        const auto in = offset(o, -60, {Join::round}), out = offset(o, 60, {Join::round});
        if (in.size() != 1 || out.size() != 1) continue;

        const double choices[] = {0, -random.between(0, 12), random.chance(0.5) ? 25.4 : -6.35, -1.6};
        std::vector<double> d;
        double expected = area_mm2(o), corners = 0;
        for (std::size_t k = 0; k < o.size(); ++k) {
            d.push_back(choices[random.below(4)]);
            expected += d.back() * length_of(o.edge(k));
            corners += 30 * d.back() * d.back();  // mitres and what arcs gain or lose
        }
        auto parts = offset_each(o, d);
        drop_scraps(parts, 25.4);
        ++judged;
        ASSERT_EQ(parts.size(), 1u) << n;
        ASSERT_TRUE(faults_of(parts[0]).empty()) << n;
        ASSERT_NEAR(area_mm2(parts[0]), expected, corners + 500) << n;
    }
    EXPECT_GT(judged, 2000);
}

}  // namespace
}  // namespace spile
