#include "core/paper/labels.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/paper/page_frame.h"
#include "tests/paper/pieces.h"

namespace spile::paper {
namespace {

using test::Chance;

TEST(Labels, BoxesThatShareAnEdgeDoNotOverlap) {
    EXPECT_FALSE(overlap({{0, 0}, {1, 1}}, {{1, 0}, {2, 1}}));
    EXPECT_TRUE(overlap({{0, 0}, {1, 1}}, {{0.9, 0.9}, {2, 2}}));
}

TEST(Labels, AStretchCrossesABoxOnlyThroughItsInside) {
    const Box box{{0, 0}, {10, 10}};
    EXPECT_TRUE(crosses({-5, 5}, {15, 5}, box));
    EXPECT_TRUE(crosses({5, 5}, {6, 6}, box));
    EXPECT_FALSE(crosses({-5, 0}, {15, 0}, box));  // along a side
    EXPECT_FALSE(crosses({-5, -5}, {-1, 20}, box));
    EXPECT_FALSE(crosses({-5, 5}, {5, -5.1}, box));  // past a corner
}

// Against sampling.
TEST(Labels, CrossingAgreesWithSampling) {
    Chance chance(21);
    for (int i = 0; i < 5000; ++i) {
        const Box box{{2, 3}, {7, 5}};
        const Vec2 a{chance.from(0, 10), chance.from(0, 8)}, b{chance.from(0, 10), chance.from(0, 8)};
        bool inside = false;
        for (int k = 0; k <= 2000; ++k) {
            const Vec2 p = lerp(a, b, k / 2000.0);
            inside = inside || (p.x > 2 && p.x < 7 && p.y > 3 && p.y < 5);
        }
        if (inside) {
            EXPECT_TRUE(crosses(a, b, box));
        }
        if (!crosses(a, b, box)) {
            EXPECT_FALSE(inside);
        }
    }
}

TEST(Labels, NothingGivenAwayOverlapsOrLeaves) {
    Chance chance(22);
    for (int round = 0; round < 60; ++round) {
        const Box area{{0, 0}, {chance.from(30, 200), chance.from(30, 200)}};
        LabelField field(area);
        std::vector<Box> given;
        std::vector<std::pair<Vec2, Vec2>> walls;
        struct Leader {
            std::size_t of;  // its own box, which it touches
            Vec2 a, b;
        };
        std::vector<Leader> leaders;
        for (int i = 0; i < 4; ++i) {
            walls.push_back({{chance.from(0, area.max.x), chance.from(0, area.max.y)},
                             {chance.from(0, area.max.x), chance.from(0, area.max.y)}});
            field.keep_off(walls.back().first, walls.back().second);
        }
        int refused = 0;
        for (int i = 0; i < 80; ++i) {
            const Vec2 at{chance.from(0, area.max.x), chance.from(0, area.max.y)};
            if (i % 3 == 0) {
                const auto box = field.place_near(chance.from(3, 30), 6, at, 2, {});
                if (box) given.push_back(*box);
                refused += box ? 0 : 1;
                continue;
            }
            const auto place = field.place({chance.from(3, 30), 6, at, {0, -1}, 1, 25, 4, {}});
            refused += place ? 0 : 1;
            if (!place) continue;
            given.push_back(place->box);
            if (place->leader) leaders.push_back({given.size() - 1, place->from, place->to});
        }
        EXPECT_GT(given.size(), 3u);
        for (std::size_t i = 0; i < given.size(); ++i) {
            EXPECT_TRUE(within(given[i], area));
            for (std::size_t k = 0; k < i; ++k) EXPECT_FALSE(overlap(given[i], given[k]));
            for (const auto& [a, b] : walls) EXPECT_FALSE(crosses(a, b, given[i]));
            for (const Leader& l : leaders) EXPECT_TRUE(l.of == i || !crosses(l.a, l.b, given[i]));
        }
    }
}

TEST(Labels, ALabelWithoutRoomIsRefused) {
    LabelField field({{0, 0}, {20, 20}});
    EXPECT_FALSE(field.place({30, 6, {10, 10}, {0, -1}, 1, 25, 4, {}}));
    EXPECT_FALSE(field.place_near(30, 6, {10, 10}, 1, {}));
}

TEST(Labels, APreferredPlaceIsTakenWhenFree) {
    LabelField field({{0, 0}, {100, 100}});
    const auto place = field.place({10, 6, {50, 50}, {1, 0}, 2, 25, 4, {}});
    ASSERT_TRUE(place);
    EXPECT_FALSE(place->leader);
    EXPECT_NEAR(place->box.min.x, 52, 1e-12);
    EXPECT_NEAR(0.5 * (place->box.min.y + place->box.max.y), 50, 1e-12);
}

TEST(Spread, KeepsOrderGapAndEnds) {
    Chance chance(23);
    for (int round = 0; round < 500; ++round) {
        std::vector<Interval> wanted;
        const int n = 1 + chance.below(12);
        for (int i = 0; i < n; ++i) wanted.push_back({chance.from(0, 100), chance.from(1, 12)});
        std::sort(wanted.begin(), wanted.end(),
                  [](const Interval& a, const Interval& b) { return a.wanted < b.wanted; });
        double total = n - 1;
        for (const Interval& w : wanted) total += w.size;
        const auto places = spread(wanted, 1, -5, 105);
        ASSERT_EQ(places.has_value(), total <= 110);
        if (!places) continue;
        for (std::size_t i = 0; i < wanted.size(); ++i) {
            EXPECT_GE((*places)[i] - wanted[i].size / 2, -5 - 1e-9);
            EXPECT_LE((*places)[i] + wanted[i].size / 2, 105 + 1e-9);
            if (i > 0) {
                EXPECT_GE((*places)[i] - wanted[i].size / 2,
                          (*places)[i - 1] + wanted[i - 1].size / 2 + 1 - 1e-9);
            }
        }
    }
}

TEST(Spread, MovesNothingThatHasRoom) {
    const auto places = spread({{10, 4}, {30, 4}, {50, 4}}, 1, 0, 100);
    ASSERT_TRUE(places);
    EXPECT_EQ(*places, (std::vector<double>{10, 30, 50}));
}

// Two that want the same place share the way there.
TEST(Spread, SharesTheShift) {
    const auto places = spread({{50, 10}, {50, 10}}, 0, 0, 100);
    ASSERT_TRUE(places);
    EXPECT_DOUBLE_EQ((*places)[0], 45);
    EXPECT_DOUBLE_EQ((*places)[1], 55);
}

// No small move of one label, or of a run of labels, brings the sum of squares down: it is the least.
TEST(Spread, IsTheLeastSumOfSquares) {
    Chance chance(24);
    for (int round = 0; round < 200; ++round) {
        std::vector<Interval> wanted;
        for (int i = 0; i < 6; ++i) wanted.push_back({chance.from(0, 60), 10});
        std::sort(wanted.begin(), wanted.end(),
                  [](const Interval& a, const Interval& b) { return a.wanted < b.wanted; });
        const auto places = spread(wanted, 1, -20, 90);
        ASSERT_TRUE(places);
        const auto sum = [&](const std::vector<double>& p) {
            double s = 0;
            for (std::size_t i = 0; i < p.size(); ++i)
                s += (p[i] - wanted[i].wanted) * (p[i] - wanted[i].wanted);
            return s;
        };
        const auto legal = [&](const std::vector<double>& p) {
            for (std::size_t i = 0; i < p.size(); ++i)
                if (p[i] < -15 || p[i] > 85 || (i > 0 && p[i] < p[i - 1] + 11)) return false;
            return true;
        };
        for (std::size_t i = 0; i < 6; ++i)
            for (std::size_t k = i; k < 6; ++k)
                for (const double step : {0.01, -0.01}) {
                    std::vector<double> moved = *places;
                    for (std::size_t j = i; j <= k; ++j) moved[j] += step;
                    if (legal(moved)) {
                        EXPECT_GE(sum(moved), sum(*places) - 1e-9);
                    }
                }
    }
}

TEST(TextFaults, AreFound) {
    Canvas canvas(210, 297);
    canvas.text({20, 20}, "one", 5);
    canvas.text({22, 21}, "two", 5);
    canvas.text({205, 100}, "out of the page", 5);
    const auto faults = text_faults(canvas.page);
    ASSERT_EQ(faults.size(), 2u);
    EXPECT_EQ(faults[0].other, "one");
    EXPECT_EQ(faults[1].text, "out of the page");
    EXPECT_EQ(faults[1].other, "");
}

}  // namespace
}  // namespace spile::paper
