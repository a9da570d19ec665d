// Rounded corners and cutting an outline in two.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/tolerance.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

const double pi = 3.14159265358979323846;

double turn_at(const Outline& o, std::size_t i) {
    const Vec2 u = direction_at(o.edge((i + o.size() - 1) % o.size()), 1);
    const Vec2 v = direction_at(o.edge(i), 0);
    return std::atan2(cross(u, v), dot(u, v));
}

TEST(Fillet, RectangleClosedForm) {
    const Outline o = rectangle({0, 0}, {100, 60}, 1);
    const FilletResult all = fillet(o, {{0, 10}, {1, 10}, {2, 10}, {3, 10}}, 9);
    EXPECT_TRUE(all.too_short.empty());
    EXPECT_EQ(all.outline.size(), 8u);
    EXPECT_NEAR(area_mm2(all.outline), 6000 - (4 - pi) * 100, 1e-10);
    EXPECT_NEAR(length_mm(all.outline), 320 - 80 + 20 * pi, 1e-11);
    EXPECT_EQ(all.outline.vertices[0].tag, 9);
    EXPECT_EQ(all.outline.vertices[1].tag, 1);
    EXPECT_TRUE(faults_of(all.outline).empty());
    // The whole short side used up: no edge of no length stays behind.
    const FilletResult bar = fillet(o, {{0, 30}, {1, 30}, {2, 30}, {3, 30}}, 9);
    EXPECT_TRUE(bar.too_short.empty());
    EXPECT_EQ(bar.outline.size(), 6u);
    EXPECT_NEAR(area_mm2(bar.outline), 40 * 60 + pi * 900, 1e-9);
}

TEST(Fillet, SaysWhatWouldFit) {
    const Outline o = rectangle({0, 0}, {100, 60}, 1);
    const FilletResult alone = fillet(o, {{1, 61}}, 9);
    ASSERT_EQ(alone.too_short, (std::vector<std::size_t>{1}));
    EXPECT_NEAR(alone.largest_radius_mm[0], 60, 1e-9);
    EXPECT_EQ(alone.outline, o) << "left as it was";
    // Side by side on the 60 mm edge: each fits alone, not both.
    const FilletResult both = fillet(o, {{1, 35}, {2, 26}, {0, 5}}, 9);
    ASSERT_EQ(both.too_short, (std::vector<std::size_t>{1, 2}));
    EXPECT_NEAR(both.largest_radius_mm[0], 60, 1e-9);
    EXPECT_NEAR(both.largest_beside_mm[0], 34, 1e-9);
    EXPECT_NEAR(both.largest_beside_mm[1], 25, 1e-9);
    EXPECT_EQ(both.outline.size(), 5u) << "the third corner is rounded all the same";
    // 120 degree corner between edges of 40: r = 40 tan(60 deg).
    const double r3 = std::sqrt(3.0);
    const Outline hexagon =
        polygon({{40, 0}, {20, 20 * r3}, {-20, 20 * r3}, {-40, 0}, {-20, -20 * r3}, {20, -20 * r3}});
    EXPECT_NEAR(fillet(hexagon, {{0, 1000}}, 0).largest_radius_mm[0], 40 * r3, 1e-9);
}

TEST(Fillet, ReentrantCornersAndArcs) {
    const Outline ell = polygon({{0, 0}, {40, 0}, {40, 20}, {20, 20}, {20, 40}, {0, 40}});
    const FilletResult inner = fillet(ell, {{3, 8}}, 9);
    EXPECT_NEAR(area_mm2(inner.outline), 1200 + (4 - pi) / 4 * 64, 1e-10);
    // A D: the arc of r touches the straight side and the half circle from inside: its centre is r above the side and
    // 50 - r from the middle.
    const Outline dee{{{{-50, 0}, 0, 0}, {{50, 0}, 1, 1}}};
    const FilletResult dish = fillet(dee, {{0, 10}, {1, 10}}, 9);
    ASSERT_TRUE(dish.too_short.empty());
    ASSERT_EQ(dish.outline.size(), 4u);
    for (std::size_t i : {0u, 2u}) {
        const Edge e = dish.outline.edge(i);
        EXPECT_EQ(e.tag, 9);
        EXPECT_NEAR(radius_of(e), 10, 1e-12);
        EXPECT_NEAR(centre_of(e).y, 10, 1e-12);
        EXPECT_NEAR(norm(centre_of(e)), 40, 1e-12);
    }
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(turn_at(dish.outline, i), 0, 1e-12);
    // The largest circle in the half disc has half its radius.
    EXPECT_NEAR(fillet(dee, {{0, 40}}, 9).largest_radius_mm[0], 25, 1e-6);
    // The horn of a crescent.
    const Outline crescent{{{{-50, 0}, 1, 0}, {{50, 0}, -0.4, 1}}};
    const FilletResult horn = fillet(crescent, {{1, 3}}, 9);
    ASSERT_TRUE(horn.too_short.empty());
    EXPECT_TRUE(faults_of(horn.outline).empty());
    for (std::size_t i = 0; i < horn.outline.size(); ++i)
        if (horn.outline.vertices[i].tag == 9) {
            EXPECT_NEAR(turn_at(horn.outline, i), 0, 1e-12);
            EXPECT_NEAR(radius_of(horn.outline.edge(i)), 3, 1e-11);
        }
}

TEST(Fillet, TangentCornersAndBadRequestsAreLeftAlone) {
    const Outline slot = test::slot({0, 0}, 100, 20);
    EXPECT_EQ(fillet(slot, {{0, 5}, {1, 5}, {2, 5}, {3, 5}}, 9).outline, slot);
    EXPECT_TRUE(fillet(slot, {{0, 5}}, 9).too_short.empty());
    const Outline o = rectangle({0, 0}, {100, 60});
    EXPECT_EQ(fillet(o, {{9, 5}, {0, -1}, {1, std::nan("")}, {2, 0}}, 9).outline, o);
    EXPECT_EQ(fillet(Outline{}, {{0, 5}}, 9).outline, Outline{});
    const Outline zero = polygon({{0, 0}, {10, 0}, {10, 0}, {10, 10}});
    EXPECT_EQ(fillet(zero, {{1, 2}, {2, 2}}, 9).too_short.size(), 2u);
}

TEST(Fillet, RandomCornersAreTangentOfTheRadiusAskedAndTheLargestIsTheLargest) {
    test::Random random(31);
    int rounded = 0, refused = 0;
    for (int k = 0; k < 3000; ++k) {
        const Outline o = test::star(random, 3 + random.below(10), 100);
        std::vector<CornerRadius> corners;
        for (std::size_t i = 0; i < o.size(); ++i)
            if (random.chance(0.6)) corners.push_back({i, random.log_between(1e-3, 200)});
        const FilletResult result = fillet(o, corners, 1000);
        std::size_t arcs = 0;
        for (std::size_t i = 0; i < result.outline.size(); ++i) {
            const Edge e = result.outline.edge(i);
            if (e.tag != 1000) continue;
            ++arcs;
            EXPECT_NEAR(turn_at(result.outline, i), 0, 1e-7);
            EXPECT_NEAR(turn_at(result.outline, (i + 1) % result.outline.size()), 0, 1e-7);
            bool asked = false;
            for (const CornerRadius& c : corners)
                asked |= std::fabs(radius_of(e) - c.radius_mm) <= 1e-9 * c.radius_mm + 1e-10;
            EXPECT_TRUE(asked) << radius_of(e);
        }
        EXPECT_GE(arcs + result.too_short.size(), corners.size());
        // Everything that is not a new arc still lies on the old outline.
        for (std::size_t i = 0; i < result.outline.size(); ++i)
            if (result.outline.vertices[i].tag != 1000) {
                EXPECT_LE(nearest_on(o, midpoint_of(result.outline.edge(i))).distance, 8 * noise_mm(150));
            }
        for (std::size_t k2 = 0; k2 < result.too_short.size(); ++k2) {
            const std::size_t v = result.too_short[k2];
            const double r = result.largest_radius_mm[k2];
            if (r > 1e-9) {
                EXPECT_TRUE(fillet(o, {{v, r * (1 - 1e-9)}}, 1).too_short.empty()) << r;
            }
            if (r < 1e8) {  // corners nearly straight take any radius; the search ends at a kilometre
                EXPECT_FALSE(fillet(o, {{v, r * (1 + 1e-9) + 1e-9}}, 1).too_short.empty()) << r;
            }
            const double beside = result.largest_beside_mm[k2];
            EXPECT_LE(beside, r);
            // Asked again with its neighbours as they were asked: it fits, and hardly more does not.
            const auto no_room = [&](double radius) {
                std::vector<CornerRadius> again = corners;
                for (CornerRadius& c : again)
                    if (c.vertex == v) c.radius_mm = radius;
                const std::vector<std::size_t> out = fillet(o, again, 1).too_short;
                return std::find(out.begin(), out.end(), v) != out.end();
            };
            if (beside > 1e-6) {
                EXPECT_FALSE(no_room(beside * (1 - 1e-9))) << beside;
            }
            if (beside < 1e8) {
                EXPECT_TRUE(no_room(beside * (1 + 1e-6) + 1e-6)) << beside;
            }
            for (double share : {0.1, 0.5, 0.9})
                if (r > 1e-6) {
                    EXPECT_TRUE(fillet(o, {{v, share * r}}, 1).too_short.empty())
                        << "fits for every smaller one";
                }
        }
        rounded += static_cast<int>(arcs);
        refused += static_cast<int>(result.too_short.size());
    }
    EXPECT_GT(rounded, 3000);
    EXPECT_GT(refused, 300);
}

TEST(Split, RectangleByAStraightAndABentPath) {
    const Outline o = rectangle({0, 0}, {100, 60}, 1);
    const auto halves = split(o, {{{{30, -10}, 0, 50}, {{30, 70}, 0, 0}}});
    ASSERT_EQ(halves.size(), 2u);
    EXPECT_NEAR(area_mm2(halves[0]), 1800, 1e-10);
    EXPECT_NEAR(area_mm2(halves[1]), 4200, 1e-10);
    EXPECT_EQ(halves[0].vertices[0].p, (Vec2{0, 0}));
    EXPECT_EQ(halves[1].vertices[0].p, (Vec2{100, 0}));
    EXPECT_EQ(halves[0].vertices[1], (Vertex{{30, 0}, 0, 50}));
    // From edge to edge exactly, with an arc, ends on the outline.
    const auto bent = split(o, {{{{0, 30}, -1, 50}, {{20, 30}, 0, 51}, {{100, 30}, 0, 0}}});
    ASSERT_EQ(bent.size(), 2u);
    EXPECT_NEAR(area_mm2(bent[0]) + area_mm2(bent[1]), 6000, 1e-10);
    EXPECT_NEAR(area_mm2(bent[0]), 3000 + 50 * pi, 1e-10);
    // Corner to corner.
    const auto diagonal = split(o, {{{{0, 0}, 0, 50}, {{100, 60}, 0, 0}}});
    ASSERT_EQ(diagonal.size(), 2u);
    EXPECT_EQ(diagonal[0].size(), 3u);
}

TEST(Split, PathsThatMissTouchOrEndInside) {
    const Outline o = rectangle({0, 0}, {100, 60});
    EXPECT_EQ(split(o, {{{{-5, -10}, 0, 0}, {{-5, 70}, 0, 0}}}), (std::vector{o}));
    EXPECT_EQ(split(o, {{{{-5, 0}, 0, 0}, {{70, 0}, 0, 0}}}), (std::vector{o})) << "along an edge";
    EXPECT_EQ(split(o, {{{{50, -10}, 0, 0}, {{50, 30}, 0, 0}}}), (std::vector{o})) << "a slit";
    EXPECT_EQ(split(o, {{{{40, 30}, 1, 0}, {{60, 30}, 1, 0}, {{40, 30}, 0, 0}}}), (std::vector{o}))
        << "a ring";
    EXPECT_EQ(split(o, {}), (std::vector{o}));
    EXPECT_TRUE(split(polygon({{0, 0}, {10, 10}, {10, 0}, {0, 10}}), {}).empty());
    EXPECT_TRUE(split(o, {{{{std::nan(""), 0}, 0, 0}, {{1, 1}, 0, 0}}}).empty());
}

TEST(Split, ManyPartsAndAFoldedPath) {
    const Outline o = rectangle({0, 0}, {100, 60});
    // In and out four times.
    const auto comb = split(o, {{{{10, -5}, 0, 7},
                                 {{10, 65}, 0, 7},
                                 {{50, 65}, 0, 7},
                                 {{50, -5}, 0, 7},
                                 {{70, -5}, 0, 7},
                                 {{70, 65}, 0, 7}}});
    ASSERT_EQ(comb.size(), 4u);
    double sum = 0;
    for (const Outline& part : comb) sum += area_mm2(part);
    EXPECT_NEAR(sum, 6000, 1e-9);
    EXPECT_NEAR(area_mm2(comb[0]), 600, 1e-10);
    // The strip between 10 and 50 has no corner of its own: by where it lies on edge 0.
    EXPECT_NEAR(area_mm2(comb[1]), 2400, 1e-10);
}

TEST(Split, RandomCutsShareTheAreaAndBelongToOneSide) {
    test::Random random(32);
    int cut = 0;
    for (int k = 0; k < 3000; ++k) {
        const Outline o = test::star(random, 3 + random.below(9), 100);
        Path path;
        const std::size_t n = 2 + random.below(4);
        for (std::size_t i = 0; i < n; ++i) {
            const double along = 130 * (2 * static_cast<double>(i) / static_cast<double>(n - 1) - 1);
            path.vertices.push_back(
                {{along, random.between(-60, 60)}, random.chance(0.5) ? random.between(-0.3, 0.3) : 0, 500});
        }
        const auto parts = split(o, path);
        ASSERT_FALSE(parts.empty());
        double sum = 0;
        for (const Outline& part : parts) {
            EXPECT_GT(area_mm2(part), 0);
            for (const OutlineFault& f : faults_of(part))
                EXPECT_EQ(f.kind, OutlineFault::Kind::touches_itself);
            sum += area_mm2(part);
            for (std::size_t i = 0; i < part.size(); ++i) {
                const Edge e = part.edge(i);
                const Vec2 p = midpoint_of(e);
                double off = 1e300;
                if (e.tag == 500)
                    for (std::size_t j = 0; j < path.edge_count(); ++j)
                        off = std::fmin(off, nearest_on(path.edge(j), p).distance);
                else
                    off = nearest_on(o, p).distance;
                EXPECT_LE(off, 4 * noise_mm(130));
            }
        }
        EXPECT_NEAR(sum, area_mm2(o), 1e-8);
        for (int j = 0; j < 20; ++j) {
            const Vec2 p{random.between(-100, 100), random.between(-100, 100)};
            int inside = 0, on = 0;
            for (const Outline& part : parts) {
                inside += side_of(part, p) == Side::inside;
                on += side_of(part, p) == Side::on;
            }
            if (on == 0) {
                EXPECT_EQ(inside, side_of(o, p) == Side::inside ? 1 : 0);
            }
        }
        cut += parts.size() > 1;
    }
    EXPECT_GT(cut, 1000);
}

}  // namespace
}  // namespace spile
