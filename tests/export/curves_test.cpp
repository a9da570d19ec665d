#include "export/draw/curves.h"

#include <gtest/gtest.h>

#include <random>

#include "core/geom/tolerance.h"

namespace spile {
namespace {

Vec2 at(const Bezier& b, double t) {
    const double s = 1 - t;
    return s * s * s * b.a + 3 * s * s * t * b.control_a + 3 * s * t * t * b.control_b + t * t * t * b.b;
}

double worst_departure(const Edge& edge, const std::vector<Bezier>& beziers) {
    const Vec2 centre = centre_of(edge);
    const double radius = radius_of(edge);
    double worst = 0;
    for (const Bezier& b : beziers)
        for (int i = 0; i <= 64; ++i)
            worst = std::max(worst, std::fabs(distance(at(b, i / 64.0), centre) - radius));
    return worst;
}

// The textbook figure for a quarter circle of radius 1 is 2.725e-4 (M. Goldapp 1991, and many since).
TEST(Curves, AQuarterCircleDepartsByTheKnownShare) {
    const Edge quarter = {{1000, 0}, {0, 1000}, std::tan(M_PI / 8), 0};
    const std::vector<Bezier> one = beziers_of(quarter, 1);
    ASSERT_EQ(one.size(), 1u);
    EXPECT_NEAR(worst_departure(quarter, one), 0.2725, 0.001);
}

TEST(Curves, StayWithinTheBoundAndUseNoMoreThanNeeded) {
    std::mt19937 random(20240611);
    std::uniform_real_distribution<double> unit(0, 1);
    for (int i = 0; i < 2000; ++i) {
        const double chord = std::pow(10, 5 * unit(random) - 1);  // 0.1 mm .. 10 m
        const double bulge = std::pow(10, -6 * unit(random)) * (unit(random) < 0.5 ? -1 : 1);
        const double turn = 2 * M_PI * unit(random);
        const Vec2 a = {3000 * unit(random), 3000 * unit(random)};
        const Edge edge = {a, a + chord * Vec2{std::cos(turn), std::sin(turn)}, bulge, 0};
        const double noise = noise_mm(radius_of(edge) + 20000);
        const std::vector<Bezier> beziers = beziers_of(edge);
        EXPECT_LE(worst_departure(edge, beziers), curve_error_mm + noise) << chord << " " << bulge;
        EXPECT_EQ(beziers.front().a, edge.a);
        EXPECT_EQ(beziers.back().b, edge.b);
        for (std::size_t k = 1; k < beziers.size(); ++k) EXPECT_EQ(beziers[k - 1].b, beziers[k].a);
        if (beziers.size() > 1) {  // one fewer would not do: a looser bound that allows it is broken
            const double sweep = 4 * std::atan(std::fabs(bulge)) / static_cast<double>(beziers.size() - 1);
            const double s = std::sin(sweep / 4), c = std::cos(sweep / 4);
            EXPECT_GT(radius_of(edge) * 2 / 27 * std::pow(s, 6) / (c * c), curve_error_mm);
        }
    }
}

TEST(Curves, TurnAsTheArcDoes) {
    const Edge left = {{0, 0}, {10, 0}, 1, 0};  // counter-clockwise: to the right of the chord, y < 0
    for (const Bezier& b : beziers_of(left)) EXPECT_LE(at(b, 0.5).y, 0);
    const Edge right = {{0, 0}, {10, 0}, -1, 0};
    for (const Bezier& b : beziers_of(right)) EXPECT_GE(at(b, 0.5).y, 0);
}

}  // namespace
}  // namespace spile
