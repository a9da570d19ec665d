// Edges, outlines, transforms, areas, sides: closed forms first, then second opinions.
#include "core/geom/outline.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "core/geom/transform.h"
#include "tests/geom/shapes.h"

namespace spile {
namespace {

const double pi = 3.14159265358979323846;

TEST(Edge, QuarterArcHasItsCentreRadiusAndTangents) {
    const Edge e{{10, 0}, {0, 10}, std::tan(pi / 8), 0};
    EXPECT_NEAR(centre_of(e).x, 0, 1e-14);
    EXPECT_NEAR(centre_of(e).y, 0, 1e-14);
    EXPECT_NEAR(radius_of(e), 10, 1e-14);
    EXPECT_NEAR(length_of(e), 5 * pi, 1e-13);
    EXPECT_NEAR(direction_at(e, 0).y, 1, 1e-15);
    EXPECT_NEAR(direction_at(e, 1).x, -1, 1e-15);
    EXPECT_NEAR(distance(midpoint_of(e), Vec2{10 * std::sqrt(0.5), 10 * std::sqrt(0.5)}), 0, 1e-14);
    EXPECT_NEAR(distance(midpoint_of(e), point_at(e, 0.5)), 0, 1e-14);
    const Arc arc = arc_of(e);
    EXPECT_NEAR(arc.start_rad, 0, 1e-15);
    EXPECT_NEAR(arc.sweep_rad, pi / 2, 1e-15);
}

TEST(Edge, BulgeFromChordAndRise) {
    // r = c^2 / 8h + h / 2: exact arithmetic.
    const double c = 960;
    const double h = 37.5;
    const Edge e{{0, 0}, {c, 0}, bulge_from_rise(c, h), 0};
    EXPECT_NEAR(radius_of(e), c * c / (8 * h) + h / 2, 1e-10);
    EXPECT_NEAR(midpoint_of(e).y, -h, 1e-13) << "a left turn bulges to the right of a->b";
    EXPECT_NEAR(bulge_through(e.a, point_at(e, 0.3), e.b), e.bulge, 1e-15);
    EXPECT_EQ(bulge_through({0, 0}, {5, 1e-15}, {10, 0}), 0);
    EXPECT_GT(std::fabs(bulge_through({0, 0}, {5, 20}, {10, 0})), 1);
}

TEST(Edge, LengthsAndAreasOfArcsAgreeWithLibmAtEveryBulge) {
    for (double s = 1; s > 1e-12; s *= 0.83) {
        const Edge e{{0, 0}, {2, 0}, s, 0};
        EXPECT_NEAR(length_of(e), 2 * (1 + s * s) / s * std::atan(s), 1e-15 * 8) << s;
        const long double l = s;
        const long double r = 2 * (1 + l * l) / (4 * l);
        const long double phi = 4 * std::atan(l);
        const long double segment = r * r / 2 * (phi - std::sin(phi));
        const Outline lens{{{{0, 0}, s, 0}, {{2, 0}, 0, 0}}};
        if (s > 1e-2) {
            EXPECT_NEAR(area_mm2(lens), static_cast<double>(segment), 1e-14) << s;
        } else if (s < 1e-4) {
            EXPECT_NEAR(area_mm2(lens) / (4 * s / 3), 1, 1e-8) << s;
        }
    }
}

TEST(Outline, ClosedForms) {
    EXPECT_NEAR(area_mm2(circle({3, 4}, 10)), 100 * pi, 1e-12);
    EXPECT_NEAR(length_mm(circle({3, 4}, 10)), 20 * pi, 1e-13);
    EXPECT_EQ(area_mm2(rectangle({0, 0}, {30, 20})), 600);
    EXPECT_EQ(length_mm(rectangle({0, 0}, {30, 20})), 100);
    EXPECT_EQ(area_mm2(reversed(rectangle({0, 0}, {30, 20}))), -600);
    const Outline slot = test::slot({0, 0}, 40, 5);
    EXPECT_NEAR(area_mm2(slot), 400 + 25 * pi, 1e-12);
    EXPECT_NEAR(length_mm(slot), 80 + 10 * pi, 1e-12);
    const Region ring{circle({0, 0}, 10), {reversed(circle({0, 0}, 4))}};
    EXPECT_NEAR(area_mm2(ring), 84 * pi, 1e-12);
    EXPECT_EQ(side_of(ring, {0, 0}), Side::outside);
    EXPECT_EQ(side_of(ring, {4, 0}), Side::on);
    EXPECT_EQ(side_of(ring, {7, 0}), Side::inside);
    const Box box = box_of(circle({3, 4}, 10));
    EXPECT_NEAR(box.min.y, -6, 1e-14);
    EXPECT_NEAR(box.max.y, 14, 1e-14);
}

TEST(Outline, ReversedTwiceIsTheSameAndEdgesCorrespond) {
    test::Random random(11);
    for (int k = 0; k < 200; ++k) {
        const Outline o = test::star(random, 3 + random.below(9), 100);
        EXPECT_EQ(reversed(reversed(o)), o);
        const Outline r = reversed(o);
        for (std::size_t i = 0; i < o.size(); ++i) {
            const Edge a = r.edge(i);
            const Edge b = reversed(o.edge(o.size() - 1 - i));
            EXPECT_EQ(a.a, b.a);
            EXPECT_EQ(a.b, b.b);
            EXPECT_EQ(a.bulge, b.bulge);
            EXPECT_EQ(a.tag, b.tag);
        }
    }
}

TEST(Transform, MirroredTwiceIsExactlyTheSame) {
    test::Random random(12);
    const BackFromFace about_zero{0};
    for (int k = 0; k < 500; ++k) {
        const Outline o = test::star(random, 3 + random.below(9), 1000);
        EXPECT_EQ(about_zero(about_zero(o)), o);
        EXPECT_GT(area_mm2(o) * area_mm2(about_zero(o)), 0) << "the sense stays";
        EXPECT_NEAR(area_mm2(o), area_mm2(about_zero(o)), 1e-8);
        // About another line it is exact on any binary grid (here 2^-20 mm) and within noise otherwise.
        Outline on_grid = o;
        for (Vertex& v : on_grid.vertices) v.p.y = std::round(v.p.y * 0x1p20) * 0x1p-20;
        const BackFromFace back{std::round(random.between(-2000, 2000) * 0x1p20) * 0x1p-20};
        EXPECT_EQ(back(back(on_grid)), on_grid);
        const BackFromFace any{random.between(-2000, 2000)};
        const Outline twice = any(any(o));
        for (std::size_t i = 0; i < o.size(); ++i)
            EXPECT_LE(distance(twice.vertices[i].p, o.vertices[i].p), noise_mm(5000));
    }
}

TEST(Transform, MirrorKeepsTheDirectionOfTheRollAndMapsEdgesBackwards) {
    const BackFromFace back{50};
    EXPECT_EQ(back(Vec2{12, 20}), (Vec2{12, 80}));
    const Outline o = rectangle({0, 0}, {30, 20}, 7);
    const Outline m = back(o);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(m.edge(i).tag, o.edge(3 - i).tag);
    const Path path{{{{0, 0}, 0.5, 1}, {{10, 0}, 0, 0}}};
    const Path mirrored = back(path);
    EXPECT_EQ(midpoint_of(mirrored.edge(0)), back(midpoint_of(path.edge(0))));
}

TEST(Transform, RigidMovesComposeAndInvert) {
    const Rigid quarter{0, 1, {5, 7}};
    EXPECT_EQ(quarter(Vec2{1, 0}), (Vec2{5, 8}));
    const Rigid again = compose(inverse(quarter), quarter);
    EXPECT_EQ(again(Vec2{3, 4}), (Vec2{3, 4}));
    test::Random random(13);
    for (int k = 0; k < 200; ++k) {
        const double turn = random.between(-4, 4);
        const Rigid a{std::cos(turn), std::sin(turn), {random.between(-100, 100), random.between(-100, 100)}};
        const Rigid b{std::sin(turn), -std::cos(turn), {random.between(-100, 100), 3}};
        const Vec2 p{random.between(-100, 100), random.between(-100, 100)};
        EXPECT_LE(distance(compose(b, a)(p), b(a(p))), 1e-12);
        EXPECT_LE(distance(inverse(a)(a(p)), p), 1e-12);
        const Outline o = test::star(random, 6, 50);
        EXPECT_NEAR(area_mm2(a(o)), area_mm2(o), 1e-9);
    }
}

TEST(Tolerance, NoiseIs64Ulp) {
    EXPECT_EQ(noise_mm(1.0), 64 * std::numeric_limits<double>::epsilon());
    EXPECT_NEAR(noise_mm(20000), 2.84e-10, 1e-12);
    EXPECT_EQ(noise_mm(Box{}), 0);
    Box box;
    box.add(Vec2{-20000, 3});
    EXPECT_EQ(noise_mm(box), noise_mm(20000));
}

TEST(SideOf, AgreesWithFineFlatteningAwayFromTheOutline) {
    test::Random random(14);
    for (int k = 0; k < 300; ++k) {
        const Outline o = test::star(random, 3 + random.below(10), 100);
        const Resolution fine{0.001};
        const std::vector<Vec2> flat = flatten(o, fine);
        for (int j = 0; j < 60; ++j) {
            const Vec2 p{random.between(-150, 150), random.between(-150, 150)};
            const double gap = nearest_on(o, p).distance;
            if (gap < 0.002) continue;
            const bool inside = test::winding(flat, p) != 0;
            EXPECT_EQ(side_of(o, p), inside ? Side::inside : Side::outside);
            EXPECT_EQ(side_of(reversed(o), p), side_of(o, p));
        }
    }
}

TEST(SideOf, PointsOfTheOutlineAreOnAndPointsTwoNoisesAwayAreNot) {
    test::Random random(15);
    for (int k = 0; k < 300; ++k) {
        Outline o = test::star(random, 3 + random.below(10), 100);
        // Bulges down to nothing, log-uniformly: shallow arcs have far centres.
        for (Vertex& v : o.vertices) v.bulge = v.bulge * random.log_between(1e-18, 1);
        const double noise = noise_mm(150);
        for (std::size_t i = 0; i < o.size(); ++i) {
            const Edge e = o.edge(i);
            for (double t : {0.0, 0.1, 0.5, 0.77, 1.0}) {
                const Vec2 p = point_at(e, t);
                EXPECT_EQ(side_of(o, p), Side::on);
                EXPECT_LE(nearest_on(e, p).distance, noise / 8);
            }
            const Vec2 left = left_of(direction_at(e, 0.4));
            const Vec2 p = point_at(e, 0.4);
            if (nearest_on(o, p + 1e-3 * left).distance < 0.9e-3) continue;  // another edge is near
            const bool ccw = area_mm2(o) > 0;
            EXPECT_EQ(side_of(o, p + 2 * noise * left), ccw ? Side::inside : Side::outside);
            EXPECT_EQ(side_of(o, p - 2 * noise * left), ccw ? Side::outside : Side::inside);
        }
    }
}

TEST(Area, GreenAgreesWithFineFlattening) {
    test::Random random(16);
    for (int k = 0; k < 300; ++k) {
        const Outline o = test::star(random, 3 + random.below(10), 100);
        const double fine = test::polygon_area(flatten(o, {1e-4}));
        EXPECT_NEAR(area_mm2(o), fine, length_mm(o) * 1e-4);
    }
}

TEST(Box, IsTightForEveryEdge) {
    test::Random random(17);
    for (int k = 0; k < 2000; ++k) {
        const Edge e{{random.between(-9, 9), random.between(-9, 9)},
                     {random.between(-9, 9), random.between(-9, 9)},
                     random.sign() * random.log_between(1e-17, 1),
                     0};
        const Box box = box_of(e);
        Box sampled;
        for (int j = 0; j <= 2000; ++j) sampled.add(point_at(e, j / 2000.0));
        const double noise = noise_mm(20);
        // The sampling misses the true extreme by at most its own sagitta.
        const double miss =
            length_of(e) / 2000 * length_of(e) / 2000 / 8 / (e.straight() ? 1e300 : radius_of(e)) + noise;
        EXPECT_NEAR(box.min.x, sampled.min.x, miss);
        EXPECT_NEAR(box.min.y, sampled.min.y, miss);
        EXPECT_NEAR(box.max.x, sampled.max.x, miss);
        EXPECT_NEAR(box.max.y, sampled.max.y, miss);
    }
}

TEST(Flatten, StaysWithinResolutionAndOutwardReallyContains) {
    test::Random random(18);
    for (int k = 0; k < 200; ++k) {
        Outline o = test::star(random, 3 + random.below(8), 100);
        if (area_mm2(o) < 0) o = reversed(o);
        for (Vertex& v : o.vertices) v.bulge = v.bulge * random.log_between(1e-6, 1);
        const double res = random.log_between(1e-3, 3);
        for (bool outward : {false, true}) {
            const std::vector<Vec2> flat = flatten(o, {res}, outward);
            const Outline chords = polygon(flat);
            for (std::size_t i = 0; i < chords.size(); ++i)
                for (double t : {0.0, 0.37, 0.5}) {
                    const Vec2 p = point_at(chords.edge(i), t);
                    EXPECT_LE(nearest_on(o, p).distance, res + 2 * noise_mm(200));
                }
            if (!outward) continue;
            for (std::size_t i = 0; i < o.size(); ++i)
                for (double t : {0.01, 0.25, 0.5, 0.61803, 0.9}) {
                    // Sample points carry rounding of a few ulps, the polygon stands off by 64.
                    const Vec2 p = point_at(o.edge(i), t);
                    if (o.edge(i).straight()) continue;
                    const Nearest near = nearest_on(chords, p);
                    const Edge side = chords.edge(near.edge);
                    EXPECT_GE(cross(side.b - side.a, p - side.a), -noise_mm(1) * norm(side.b - side.a));
                }
        }
    }
}

TEST(Flatten, BadResolutionsAreHarmless) {
    const Outline o = circle({0, 0}, 1000);
    for (double res : {0.0, -1.0, std::nan("")}) EXPECT_LE(flatten(o, {res}).size(), 2u * 65536u);
    EXPECT_EQ(flatten(o, {1e9}, true).size(), 6u);
}

}  // namespace
}  // namespace spile
