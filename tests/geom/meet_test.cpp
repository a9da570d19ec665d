// Where edges meet, how far apart they are, and what is wrong with an outline.
#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

using Kind = OutlineFault::Kind;

TEST(Meet, LinesCrossTouchOverlapAndMiss) {
    const Edge a{{0, 0}, {10, 0}, 0, 0};
    const auto crossing = meet(a, {{4, -1}, {4, 3}, 0, 0});
    ASSERT_EQ(crossing.size(), 1u);
    EXPECT_EQ(crossing[0].at, (Vec2{4, 0}));
    EXPECT_EQ(crossing[0].t_a, 0.4);
    EXPECT_EQ(crossing[0].t_b, 0.25);
    EXPECT_FALSE(crossing[0].touching);
    const auto at_end = meet(a, {{4, 0}, {4, 3}, 0, 0});
    ASSERT_EQ(at_end.size(), 1u);
    EXPECT_TRUE(at_end[0].touching);
    const auto shared = meet(a, {{12, 0}, {7, 0}, 0, 0});
    ASSERT_EQ(shared.size(), 2u);
    EXPECT_EQ(shared[0].at, (Vec2{7, 0}));
    EXPECT_EQ(shared[1].at, (Vec2{10, 0}));
    EXPECT_TRUE(shared[0].touching && shared[1].touching);
    EXPECT_TRUE(meet(a, {{0, 1}, {10, 1}, 0, 0}).empty());
    EXPECT_TRUE(meet(a, {{11, -1}, {11, 1}, 0, 0}).empty());
    EXPECT_TRUE(meet(a, {{3, 3}, {3, 3}, 0, 0}).empty()) << "no length";
    EXPECT_TRUE(meet(a, {{std::nan(""), 3}, {3, 3}, 0, 0}).empty());
}

TEST(Meet, LineAndHalfCircle) {
    const Edge half{{10, 0}, {-10, 0}, 1, 0};  // the upper half, counter-clockwise
    const auto two = meet({{-20, 6}, {20, 6}, 0, 0}, half);
    ASSERT_EQ(two.size(), 2u);
    EXPECT_NEAR(two[0].at.x, -8, 1e-14);
    EXPECT_NEAR(two[1].at.x, 8, 1e-14);
    EXPECT_NEAR(two[1].t_b, std::acos(0.8) / 3.14159265358979, 1e-14);
    const auto touch = meet({{-20, 10}, {20, 10}, 0, 0}, half);
    ASSERT_EQ(touch.size(), 1u);
    EXPECT_TRUE(touch[0].touching);
    EXPECT_TRUE(meet({{-20, 10.001}, {20, 10.001}, 0, 0}, half).empty());
    EXPECT_TRUE(meet({{-20, -6}, {20, -6}, 0, 0}, half).empty()) << "only the upper half";
}

TEST(Meet, ArcsCrossTouchAndShareTheirCircle) {
    const Edge a{{5, 0}, {-5, 0}, 1, 0};
    const Edge b{{11, 0}, {1, 0}, 1, 0};  // centre 6, radius 5
    const auto crossing = meet(a, b);
    ASSERT_EQ(crossing.size(), 1u);
    EXPECT_NEAR(distance(crossing[0].at, Vec2{3, 4}), 0, 1e-14);
    const Edge outside{{15, 0}, {5, 0}, 1, 0};
    ASSERT_EQ(meet(a, outside).size(), 1u);
    EXPECT_TRUE(meet(a, outside)[0].touching);
    const double quarter = std::sqrt(2.0) - 1;
    const auto shared = meet(a, {{0, 5}, {0, -5}, 1, 0});  // the left half of the same circle
    ASSERT_EQ(shared.size(), 2u);
    EXPECT_NEAR(distance(shared[0].at, Vec2{0, 5}), 0, 1e-14);
    EXPECT_NEAR(distance(shared[1].at, Vec2{-5, 0}), 0, 1e-14);
    EXPECT_TRUE(meet(a, {{0, 4}, {-4, 0}, quarter, 0}).empty()) << "concentric";
}

Edge random_edge(test::Random& random, double size) {
    const double s = random.below(4) == 0 ? 0 : random.sign() * random.log_between(1e-16, 1);
    return {{random.between(-size, size), random.between(-size, size)},
            {random.between(-size, size), random.between(-size, size)},
            random.chance(0.2) ? random.sign() : s,
            0};
}

/// The second opinion: walks along `a` and counts how often it changes the side of `b` beside b itself.
int crossings_by_walking(const Edge& a, const Edge& b, int steps) {
    const bool bent = std::fabs(b.bulge) > 1e-7;
    int count = 0;
    double before = 0;
    for (int k = 0; k <= steps; ++k) {
        const Vec2 p = point_at(a, static_cast<double>(k) / steps);
        const Nearest near = nearest_on(b, p);
        double side = 0;
        if (near.at != b.a && near.at != b.b)
            side = bent ? distance(p, centre_of(b)) - radius_of(b) : cross(b.b - b.a, p - b.a);
        if (side * before < 0) ++count;
        before = side;
    }
    return count;
}

TEST(Meet, RandomEdgesAgreeWithWalkingAlongThem) {
    test::Random random(21);
    int met = 0;
    for (int k = 0; k < 1500; ++k) {
        const Edge a = random_edge(random, 10);
        const Edge b = random_edge(random, 10);
        const auto found = meet(a, b);
        for (const Meeting& m : found) {
            EXPECT_LE(nearest_on(a, m.at).distance, noise_mm(20));
            EXPECT_LE(nearest_on(b, m.at).distance, noise_mm(20));
            EXPECT_LE(distance(point_at(a, m.t_a), m.at), 4 * noise_mm(20));
            EXPECT_LE(distance(point_at(b, m.t_b), m.at), 4 * noise_mm(20));
        }
        const auto other = meet(b, a);
        EXPECT_EQ(other.size(), found.size());
        EXPECT_EQ(found.size(), static_cast<std::size_t>(crossings_by_walking(a, b, 700))) << k;
        EXPECT_EQ(distance_between(a, b) == 0, !found.empty());
        met += static_cast<int>(found.size());
    }
    EXPECT_GT(met, 300);
}

TEST(Meet, NearDegeneratePairsLogUniform) {
    // A line a hair's breadth off a tangent: two meetings, one touch or none, and never one that is not there.
    test::Random random(22);
    for (int k = 0; k < 3000; ++k) {
        const double r = random.log_between(1e-3, 1e4);
        const double off = random.sign() * random.log_between(1e-18, 1) * r;
        const Edge arc{{r, 0}, {-r, 0}, 1, 0};
        const double y = r - off;
        const Edge line{{-2 * r, y}, {2 * r, y}, 0, 0};
        const auto found = meet(line, arc);
        const double noise = noise_mm(2 * r);
        if (off > 2 * noise && off < r) {
            EXPECT_EQ(found.size(), 2u) << r << " " << off;
        } else if (off < -2 * noise) {
            EXPECT_EQ(found.size(), 0u) << r << " " << off;
        } else if (std::fabs(off) < noise / 2) {
            EXPECT_EQ(found.size(), 1u) << r << " " << off;
        }
        for (const Meeting& m : found) EXPECT_LE(nearest_on(arc, m.at).distance, noise);
    }
}

TEST(Distance, BetweenEdgesAgreesWithSampling) {
    test::Random random(23);
    for (int k = 0; k < 600; ++k) {
        const Edge a = random_edge(random, 10);
        const Edge b = random_edge(random, 10);
        const double d = distance_between(a, b);
        const int steps = 1500;
        double least = 1e300;
        for (int j = 0; j <= steps; ++j)
            least = std::fmin(least, nearest_on(b, point_at(a, static_cast<double>(j) / steps)).distance);
        EXPECT_LE(d, least + noise_mm(20));
        EXPECT_GE(d, least - length_of(a) / steps);
        EXPECT_NEAR(d, distance_between(b, a), noise_mm(20));
    }
}

TEST(Distance, ClosedForms) {
    EXPECT_EQ(distance_between(Edge{{0, 0}, {10, 0}, 0, 0}, Edge{{3, 4}, {12, 4}, 0, 0}), 4);
    EXPECT_NEAR(distance_between(circle({0, 0}, 3), circle({10, 0}, 2)), 5, 1e-14);
    EXPECT_NEAR(distance_between(circle({0, 0}, 10), circle({1, 0}, 2)), 7, 1e-14) << "one inside the other";
    EXPECT_NEAR(distance_between(circle({0, 0}, 10), circle({0, 0}, 2)), 8, 1e-14) << "concentric";
    EXPECT_EQ(distance_between(circle({0, 0}, 3), rectangle({2, -1}, {9, 1})), 0);
    EXPECT_NEAR(distance_between(circle({0, 0}, 3), rectangle({5, -9}, {9, 9})), 2, 1e-14);
    EXPECT_EQ(distance_between(rectangle({0, 0}, {1, 1}), rectangle({4, 5}, {6, 6})), 5);
}

TEST(Faults, EachKindWithItsPlace) {
    EXPECT_TRUE(faults_of(rectangle({0, 0}, {3, 2})).empty());
    EXPECT_TRUE(faults_of(circle({0, 0}, 3)).empty());
    EXPECT_TRUE(faults_of(test::slot({0, 0}, 40, 5)).empty()) << "tangent joins are no touch";

    const auto kinds = [](const Outline& o) {
        std::vector<Kind> out;
        for (const OutlineFault& f : faults_of(o)) out.push_back(f.kind);
        return out;
    };
    EXPECT_EQ(kinds({}), (std::vector{Kind::too_few_edges}));
    EXPECT_EQ(kinds(polygon({{1, 2}})), (std::vector{Kind::too_few_edges}));
    EXPECT_EQ(kinds(polygon({{0, 0}, {std::nan(""), 0}, {1, 1}})), (std::vector{Kind::not_finite}));
    EXPECT_EQ(kinds(Outline{{{{0, 0}, 1.1, 0}, {{1, 0}, 0, 0}}}), (std::vector{Kind::bulge_too_large}));

    const auto bow = faults_of(polygon({{0, 0}, {10, 10}, {10, 0}, {0, 10}}));
    ASSERT_EQ(bow.size(), 2u);
    EXPECT_EQ(bow[0].kind, Kind::no_area);
    EXPECT_EQ(bow[1].kind, Kind::crosses_itself);
    EXPECT_EQ(bow[1].at, (Vec2{5, 5}));
    EXPECT_EQ(bow[1].edge_a, 0u);
    EXPECT_EQ(bow[1].edge_b, 2u);

    const auto twice = faults_of(polygon({{0, 0}, {10, 0}, {10, 0}, {5, 8}}));
    ASSERT_EQ(twice.size(), 1u);
    EXPECT_EQ(twice[0].kind, Kind::zero_edge);
    EXPECT_EQ(twice[0].edge_a, 1u);

    const auto corner_on_edge = faults_of(polygon({{0, 0}, {10, 0}, {10, 10}, {5, 0}, {0, 10}}));
    ASSERT_EQ(corner_on_edge.size(), 1u);
    EXPECT_EQ(corner_on_edge[0].kind, Kind::touches_itself);
    EXPECT_EQ(corner_on_edge[0].at, (Vec2{5, 0}));

    const auto through_a_corner = faults_of(polygon({{0, 0}, {10, 0}, {5, 5}, {0, 10}, {10, 10}, {5, 5}}));
    ASSERT_FALSE(through_a_corner.empty());
    EXPECT_EQ(through_a_corner.back().at, (Vec2{5, 5}));

    const auto spike = faults_of(polygon({{0, 0}, {10, 0}, {10, 10}, {20, 10}, {10, 10}, {0, 10}}));
    ASSERT_FALSE(spike.empty());
    for (const OutlineFault& f : spike) EXPECT_EQ(f.kind, Kind::touches_itself);

    EXPECT_EQ(kinds(polygon({{0, 0}, {10, 0}, {20, 0}})).back(), Kind::no_area);
    const auto arcs =
        faults_of(Outline{{{{0, 0}, 1, 0}, {{10, 0}, 0, 0}, {{10, -3}, 0, 0}, {{0, -3}, 0, 0}}});
    ASSERT_FALSE(arcs.empty());
    EXPECT_EQ(arcs[0].kind, Kind::crosses_itself);
}

TEST(Faults, CuspsAndCrescentsAreSound) {
    // The horns of a crescent: two arcs that leave a corner in the same direction.
    const Outline crescent{{{{-10, 0}, 1, 0}, {{10, 0}, -0.5, 1}}};
    EXPECT_TRUE(faults_of(crescent).empty());
    const Outline cusp{
        {{{0, 0}, std::sqrt(2.0) - 1, 0}, {{10, 10}, 0, 1}, {{-10, 10}, std::sqrt(2.0) - 1, 2}}};
    EXPECT_TRUE(faults_of(cusp).empty()) << faults_of(cusp).size();
    test::Random random(24);
    for (int k = 0; k < 2000; ++k) {
        const double s = random.log_between(1e-4, 0.999);
        const Outline horn{{{{-10, 0}, 1, 0}, {{10, 0}, -s, 1}}};
        EXPECT_TRUE(faults_of(horn).empty()) << s;
    }
}

TEST(Faults, RandomStarsAreSoundAndFarMovedCornersAreNot) {
    test::Random random(25);
    for (int k = 0; k < 2000; ++k) {
        Outline o = test::star(random, 5 + random.below(10), 100);
        EXPECT_TRUE(faults_of(o).empty());
        EXPECT_TRUE(faults_of(reversed(o)).empty());
        const std::size_t i = random.below(o.size());
        const std::size_t j = (i + 2 + random.below(o.size() - 3)) % o.size();
        std::swap(o.vertices[i].p, o.vertices[j].p);
        bool crosses = false;
        for (const OutlineFault& f : faults_of(o)) crosses |= f.kind == Kind::crosses_itself;
        bool by_pairs = false;
        for (std::size_t a = 0; a < o.size(); ++a)
            for (std::size_t b = a + 1; b < o.size(); ++b)
                for (const Meeting& m : meet(o.edge(a), o.edge(b))) by_pairs |= !m.touching;
        EXPECT_EQ(crosses, by_pairs);
    }
}

}  // namespace
}  // namespace spile
