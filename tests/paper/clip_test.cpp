#include "core/paper/clip.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "tests/paper/pieces.h"

namespace spile::paper {
namespace {

using test::Chance;

double total(const Clipped& c) {
    double sum = 0;
    for (const Outline& o : c.closed) sum += length_mm(o);
    for (const Path& p : c.open) sum += length_mm(p);
    return sum;
}

TEST(Clip, WhatLiesWithinStaysWhole) {
    const Outline o = circle({50, 50}, 20);
    const Clipped c = clip(o, {{0, 0}, {100, 100}});
    ASSERT_EQ(c.closed.size(), 1u);
    EXPECT_EQ(c.closed[0], o);
    EXPECT_TRUE(c.open.empty());
}

TEST(Clip, WhatLiesOutsideIsGone) {
    EXPECT_TRUE(clip(circle({200, 50}, 20), {{0, 0}, {100, 100}}).empty());
    // Round the box and never in it.
    EXPECT_TRUE(clip(circle({50, 50}, 90), {{0, 0}, {100, 100}}).empty());
}

TEST(Clip, AnArcStaysAnArcOnItsCircle) {
    // A circle of radius 50 about the corner of the box: the quarter inside remains, cut at (50, 0) and (0, 50).
    const Clipped c = clip(circle({0, 0}, 50), {{0, 0}, {100, 100}});
    ASSERT_EQ(c.open.size(), 1u);
    const Path& p = c.open[0];
    EXPECT_EQ(p.vertices.front().p.y, 0);
    EXPECT_EQ(p.vertices.back().p.x, 0);
    EXPECT_NEAR(length_mm(p), 50 * std::acos(0.0), 1e-9);
    for (std::size_t i = 0; i < p.edge_count(); ++i) {
        EXPECT_NEAR(radius_of(p.edge(i)), 50, 1e-9);
        EXPECT_NEAR(norm(centre_of(p.edge(i))), 0, 1e-9);
    }
}

TEST(Clip, AChainThatOnlyTouchesASideLeavesNothing) {
    EXPECT_LT(total(clip(circle({-20, 50}, 20), {{0, 0}, {100, 100}})), 1e-6);
    EXPECT_LT(total(clip(polygon({{-10, -10}, {50, 0}, {-10, -5}}), {{0, 0}, {100, 100}})), 1e-6);
}

TEST(Clip, AnEdgeAlongASideBelongsToTheBox) {
    const std::vector<Path> kept = clip(Path{{{{10, 0}, 0, 0}, {{60, 0}, 0, 0}}}, {{0, 0}, {100, 100}});
    ASSERT_EQ(kept.size(), 1u);
    EXPECT_NEAR(length_mm(kept[0]), 50, 1e-9);
}

TEST(Clip, APathThatComesBackIsInParts) {
    const Path zigzag{{{{10, 50}, 0, 0}, {{150, 60}, 0, 0}, {{10, 70}, 0, 0}}};
    const std::vector<Path> kept = clip(zigzag, {{0, 0}, {100, 100}});
    ASSERT_EQ(kept.size(), 2u);
    EXPECT_EQ(kept[0].vertices.back().p.x, 100);
    EXPECT_EQ(kept[1].vertices.front().p.x, 100);
}

// The boxes of a grid share their sides: what they keep is the whole chain, cut at the same points.
TEST(Clip, ABoardOfBoxesKeepsEveryPointOnce) {
    Chance chance(11);
    for (int round = 0; round < 300; ++round) {
        const Outline o = test::random_outline(chance);
        const Box all = box_of(o);
        const int n = 2 + chance.below(4);
        const Vec2 step{(all.width() + 2) / n, (all.height() + 2) / n};
        const auto x = [&](int i) { return all.min.x - 1 + step.x * i; };
        const auto y = [&](int i) { return all.min.y - 1 + step.y * i; };
        double sum = 0;
        for (int i = 0; i < n; ++i)
            for (int j = 0; j < n; ++j) {
                const Box box{{x(i), y(j)}, {x(i + 1), y(j + 1)}};
                const Clipped c = clip(o, box);
                sum += total(c);
                const double noise = 1e3 * noise_mm(all);
                for (const Path& p : c.open) {
                    for (std::size_t k = 0; k < p.edge_count(); ++k)
                        for (const double t : {0.0, 0.3, 0.5, 0.8, 1.0}) {
                            const Vec2 q = point_at(p.edge(k), t);
                            EXPECT_LE(nearest_on(o, q).distance, noise);
                            EXPECT_GE(q.x, box.min.x - noise);
                            EXPECT_LE(q.x, box.max.x + noise);
                            EXPECT_GE(q.y, box.min.y - noise);
                            EXPECT_LE(q.y, box.max.y + noise);
                        }
                    // Cut ends stand on a side to the bit.
                    for (const Vec2 end : {p.vertices.front().p, p.vertices.back().p})
                        EXPECT_TRUE(end.x == box.min.x || end.x == box.max.x || end.y == box.min.y ||
                                    end.y == box.max.y);
                }
            }
        EXPECT_NEAR(sum, length_mm(o), 1e-6) << "round " << round;
    }
}

TEST(Clip, NeighboursAreCutAtTheSamePoint) {
    Chance chance(12);
    for (int round = 0; round < 200; ++round) {
        const Outline o = test::random_outline(chance);
        const Box all = box_of(o);
        const double x = chance.from(all.min.x, all.max.x);
        const Clipped left = clip(o, {{all.min.x - 1, all.min.y - 1}, {x, all.max.y + 1}});
        const Clipped right = clip(o, {{x, all.min.y - 1}, {all.max.x + 1, all.max.y + 1}});
        std::vector<double> a, b;
        const auto ends = [&](const Clipped& c, std::vector<double>& out) {
            for (const Path& p : c.open)
                for (const Vec2 e : {p.vertices.front().p, p.vertices.back().p}) {
                    EXPECT_EQ(e.x, x);
                    out.push_back(e.y);
                }
            std::sort(out.begin(), out.end());
        };
        ends(left, a);
        ends(right, b);
        EXPECT_EQ(a, b) << "round " << round;
    }
}

// Bulges from an arc too flat to see to a half circle.
TEST(Clip, HoldsForEveryBulge) {
    Chance chance(13);
    for (int round = 0; round < 2000; ++round) {
        const double bulge = std::exp(chance.from(std::log(1e-12), 0)) * (chance.one_in(2) ? 1 : -1);
        const Path p{{{{chance.from(-500, 500), chance.from(-500, 500)}, bulge, 0},
                      {{chance.from(-500, 500), chance.from(-500, 500)}, 0, 0}}};
        const Box box{{-200, -200}, {200, 200}};
        const Edge whole = p.edge(0);
        const std::vector<Path> kept = clip(p, box);
        double sum = 0;
        for (const Path& k : kept) sum += length_mm(k);
        // Brute force: the share of fine steps whose middle lies in the box.
        constexpr int steps = 4000;
        int inside = 0;
        for (int i = 0; i < steps; ++i) {
            const Vec2 q = point_at(whole, (i + 0.5) / steps);
            inside += std::fabs(q.x) <= 200 && std::fabs(q.y) <= 200 ? 1 : 0;
        }
        EXPECT_NEAR(sum, length_of(whole) * inside / steps, 5 * length_of(whole) / steps)
            << "bulge " << bulge;
    }
}

}  // namespace
}  // namespace spile::paper
