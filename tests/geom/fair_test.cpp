// Fair curves against closed forms: circles, the cubic spline with parabolic ends, and what arcs leave of them.
#include "core/geom/fair.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/geom/measure_of.h"

namespace spile {
namespace {

double away(const FairLine& line, Vec2 p) {
    double least = HUGE_VAL;
    for (const Edge& e : line.edges) least = std::min(least, nearest_on(e, p).distance);
    return least;
}

void expect_smooth(const FairLine& line) {
    for (std::size_t i = 0; i + 1 < line.edges.size(); ++i) {
        EXPECT_EQ(line.edges[i].b, line.edges[i + 1].a);
        EXPECT_NEAR(cross(direction_at(line.edges[i], 1), direction_at(line.edges[i + 1], 0)), 0, 1e-9);
        EXPECT_LE(std::fabs(line.edges[i].bulge), 1);
    }
}

TEST(Fair, PointsOnACircleGiveTheCircleHoweverTheyAreSpaced) {
    const double r = 1234;
    std::vector<Vec2> points;
    for (const double rad : {0.1, 0.3, 0.9, 1.1, 2.0, 2.9, 3.05})
        points.push_back({r * std::cos(rad), r * std::sin(rad)});
    const FairLine line = fair_line(points, Resolution{0.01});
    ASSERT_TRUE(line.fair);
    EXPECT_EQ(line.edges.size(), points.size() - 1);  // one arc from each point to the next
    for (const Edge& e : line.edges) {
        EXPECT_NEAR(radius_of(e), r, 1e-5);
        EXPECT_LT(norm(centre_of(e)), 1e-5);
    }
}

TEST(Fair, PointsInLineGiveTheLine) {
    const FairLine line = fair_line({{0, 0}, {10, 5}, {40, 20}, {44, 22}}, Resolution{0.01});
    ASSERT_TRUE(line.fair);
    for (const Edge& e : line.edges) EXPECT_LT(std::fabs(e.bulge), 1e-12);
}

TEST(Fair, FlatCurvesAreTheCubicOfLeastBending) {
    // Closed form: the cubic spline through four points h apart whose second derivative M runs on at the ends
    // (M0 = M1, M3 = M2): 5 M1 + M2 = 6 (y0 - 2 y1 + y2) / h^2, M1 + 5 M2 = 6 (y1 - 2 y2 + y3) / h^2.
    const double h = 1000, y[] = {0, 6, 9, 5};
    const double d1 = 6 * (y[0] - 2 * y[1] + y[2]) / (h * h), d2 = 6 * (y[1] - 2 * y[2] + y[3]) / (h * h);
    const double m1 = (5 * d1 - d2) / 24, m2 = (5 * d2 - d1) / 24;
    const double m[] = {m1, m1, m2, m2};
    const FairLine line = fair_line({{0, y[0]}, {h, y[1]}, {2 * h, y[2]}, {3 * h, y[3]}}, Resolution{1e-4});
    ASSERT_TRUE(line.fair);
    for (int i = 0; i < 3; ++i)
        for (const double t : {0.2, 0.5, 0.7}) {
            const double x = h * (i + t), s = 1 - t;
            const double cubic =
                s * y[i] + t * y[i + 1] + h * h / 6 * ((s * s * s - s) * m[i] + (t * t * t - t) * m[i + 1]);
            // The slopes are 0.006 and less: what small slopes leave out is of the order of their square.
            EXPECT_LT(away(line, {x, cubic}), 2e-3) << i << " " << t;
        }
    expect_smooth(line);
}

TEST(Fair, ItPassesEveryPointSmoothlyAndWithinItsResolution) {
    std::mt19937_64 dice(5);
    std::uniform_real_distribution<double> off(-60, 60);
    int fair = 0;
    for (int run = 0; run < 60; ++run) {
        std::vector<Vec2> points;
        for (int i = 0; i < 4 + run % 6; ++i) points.push_back({200.0 * i + off(dice), off(dice)});
        const FairLine line = fair_line(points, Resolution{0.1});
        fair += line.fair;
        expect_smooth(line);
        for (const Vec2 p : points) EXPECT_LT(away(line, p), 1e-9);
        const FairLine finer = fair_line(points, Resolution{0.002});
        for (const Edge& e : finer.edges) EXPECT_LT(away(line, midpoint_of(e)), 0.12);
        EXPECT_LE(line.within_mm, 0.1);
    }
    EXPECT_EQ(fair, 60);
}

/// Integral of the squared curvature, times length: 0 for a line, sweep^2 for one arc.
double bending(const FairLine& line) {
    double sum = 0, length = 0;
    for (const Edge& e : line.edges) {
        length += length_of(e);
        if (!e.straight()) sum += length_of(e) / (radius_of(e) * radius_of(e));
    }
    return sum * length;
}

TEST(Fair, NoOtherDirectionsBendLessInAFlatCurve) {
    // The same points by arcs whose direction at each point is that of the circle through its neighbours bend more.
    const std::vector<Vec2> points{{0, 0}, {300, 40}, {700, 75}, {1100, 60}, {1400, 20}};
    const double fair = bending(fair_line(points, Resolution{0.001}));
    std::mt19937_64 dice(9);
    std::uniform_real_distribution<double> turn(-0.05, 0.05);
    const FairLine line = fair_line(points, Resolution{0.001});
    std::vector<Vec2> along;
    for (const Vec2 p : points)
        for (const Edge& e : line.edges) {
            if (e.a == p) along.push_back(direction_at(e, 0));
            if (e.b == p && p == points.back()) along.push_back(direction_at(e, 1));
        }
    ASSERT_EQ(along.size(), points.size());
    for (int run = 0; run < 50; ++run) {
        FairLine other;
        std::vector<Vec2> d = along;
        for (std::size_t i = 1; i + 1 < d.size(); ++i) {  // the ends keep theirs: there the batten runs on
            const double a = turn(dice);
            d[i] = {std::cos(a) * d[i].x - std::sin(a) * d[i].y, std::sin(a) * d[i].x + std::cos(a) * d[i].y};
        }
        for (std::size_t i = 0; i + 1 < points.size(); ++i)
            for (const Edge& e : biarc(points[i], d[i], points[i + 1], d[i + 1])) other.edges.push_back(e);
        EXPECT_GT(bending(other), fair) << run;
    }
}

TEST(Fair, SharpTurnsAreNoBatten) {
    const FairLine line = fair_line({{0, 0}, {100, 0}, {50, 80}, {90, 200}}, Resolution{0.1});
    EXPECT_FALSE(line.fair);
    EXPECT_FALSE(line.edges.empty());
    EXPECT_TRUE(fair_line({{0, 0}, {0, 0}, {1, 1}}, Resolution{0.1}).edges.empty());
    EXPECT_TRUE(fair_line({{0, 0}}, Resolution{0.1}).edges.empty());
}

}  // namespace
}  // namespace spile
