// Bands, ellipses and the chance that an edge meets its wall: against closed forms and against simulated spaces.
#include "core/measure/fit.h"

#include <gtest/gtest.h>

#include "tests/measure/invented.h"
#include "tests/measure/lines.h"

namespace spile {
namespace {

using namespace simulated;

/// A panel of four corners whose coordinates are known alike and apart, sd 1 mm each.
Survey square_survey() {
    Survey s;
    s.points = {{"A", {{0, 0}, {1, 0, 1}}},
                {"B", {{1000, 0}, {1, 0, 1}}},
                {"C", {{1000, 1000}, {1, 0, 1}}},
                {"D", {{0, 1000}, {1, 0, 1}}}};
    s.covariance_mm2.assign(64, 0);
    for (std::size_t i = 0; i < 8; ++i) s.covariance_mm2[9 * i] = 1;
    return s;
}

TEST(Fit, EllipseOfIndependentAndOfTurnedDoubt) {
    const Ellipse plain = ellipse_95({9, 0, 4});
    EXPECT_NEAR(plain.long_mm, 3 * 2.447747, 1e-5);  // sqrt(-2 ln .05)
    EXPECT_NEAR(plain.short_mm, 2 * 2.447747, 1e-5);
    EXPECT_NEAR(plain.turn_rad, 0, 1e-12);
    const Ellipse turned = ellipse_95({2.5, 1.5, 2.5});  // eigenvalues 4 and 1, at 45 degrees
    EXPECT_NEAR(turned.long_mm, 2 * 2.447747, 1e-5);
    EXPECT_NEAR(turned.short_mm, 2.447747, 1e-5);
    EXPECT_NEAR(turned.turn_rad, 3.14159265358979 / 4, 1e-12);
}

TEST(Fit, BandIsNarrowestBetweenIndependentEnds) {
    const Survey s = square_survey();
    EXPECT_NEAR(*band_sd_mm(s, "A", "B", 0), 1, 1e-12);
    EXPECT_NEAR(*band_sd_mm(s, "A", "B", 0.5), std::sqrt(0.5), 1e-12);
    EXPECT_FALSE(band_sd_mm(s, "A", "X", 0.5));
}

// Shift and turn out of eight independent coordinates: the move of A along the normal of A-B keeps 1 - 1/4 of its variance, less
// the share of the turn, (x of A from the middle)^2 over the spread: 500^2 / (4 * 2 * 500^2) = 1/8.
TEST(Fit, ACommonMoveIsTakenOut) {
    const std::optional<Fit> fit = fit_of(square_survey(), {"A", "B", "C", "D"}, {{"A", "B", 2}});
    ASSERT_TRUE(fit);
    EXPECT_NEAR(fit->edges[0].from_sd_mm, std::sqrt(1 - 0.25 - 0.125), 1e-12);
    EXPECT_NEAR(fit->edges[0].to_sd_mm, std::sqrt(1 - 0.25 - 0.125), 1e-12);
}

TEST(Fit, MoreClearanceTouchesLessAndTheWantedOneIsOneInAHundred) {
    const Survey s = square_survey();
    double last = 1;
    for (const double clearance : {0.0, 0.5, 1.0, 2.0, 4.0}) {
        const EdgeFit edge = fit_of(s, {"A", "B", "C", "D"}, {{"A", "B", clearance}})->edges[0];
        EXPECT_LT(edge.touches, last);
        last = edge.touches;
    }
    const double wanted = fit_of(s, {"A", "B", "C", "D"}, {{"A", "B", 1}})->edges[0].wanted_mm;
    EXPECT_NEAR(fit_of(s, {"A", "B", "C", "D"}, {{"A", "B", wanted}})->edges[0].touches, kTouches, 1e-3);
}

TEST(Fit, NothingToSayWithoutPlacesOrCovariances) {
    Survey s = square_survey();
    EXPECT_FALSE(fit_of(s, {"A", "B", "X"}, {{"A", "B", 1}}));
    EXPECT_FALSE(fit_of(s, {"A"}, {}));
    s.covariance_mm2.clear();
    EXPECT_FALSE(fit_of(s, {"A", "B", "C"}, {{"A", "B", 1}}));
}

/// Measured places laid onto the true ones by the mean shift and the turn that fits best.
std::vector<Vec2> laid_on(const Survey& survey, const Space& s) {
    std::vector<Vec2> at;
    Vec2 mine, theirs;
    const double share = 1 / static_cast<double>(s.corners.size());
    for (std::size_t p = 0; p < s.corners.size(); ++p) {
        at.push_back(survey.points.at(name_of(static_cast<int>(p))).boat_mm);
        mine = mine + share * at[p];
        theirs = theirs + share * s.corners[p];
    }
    double c = 0, t = 0;
    for (std::size_t p = 0; p < at.size(); ++p) {
        c += dot(at[p] - mine, s.corners[p] - theirs);
        t += cross(at[p] - mine, s.corners[p] - theirs);
    }
    const double r = std::hypot(c, t);
    for (Vec2& p : at) {
        const Vec2 d = p - mine;
        p = theirs + Vec2{(c * d.x - t * d.y) / r, (t * d.x + c * d.y) / r};
    }
    return at;
}

// The chance stated against the share of simulated tape books in which the edge meets the wall.
TEST(Fit, TheChanceIsThatOfSimulatedSpaces) {
    Random random(21);
    double stated = 0;
    int met = 0, all = 0;
    for (int net = 0; net < 6; ++net) {
        Space s = fair_space(random);
        std::vector<std::string> corners;
        for (std::size_t p = 0; p < s.corners.size(); ++p) corners.push_back(name_of(static_cast<int>(p)));
        for (int run = 0; run < 120; ++run) {
            tape_all(random, s);
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            ASSERT_TRUE(survey && survey->fixed);
            const std::vector<Vec2> at = laid_on(*survey, s);
            for (std::size_t i = 0; i < corners.size(); ++i) {
                const std::size_t j = (i + 1) % corners.size();
                const double clearance = 1.0;
                const std::optional<Fit> fit =
                    fit_of(*survey, corners, {{corners[i], corners[j], clearance}});
                ASSERT_TRUE(fit);
                stated += fit->edges[0].touches;
                const Vec2 n = left_of(unit(s.corners[j] - s.corners[i]));  // into the floor
                const double least = std::min(dot(n, at[i] - s.corners[i]), dot(n, at[j] - s.corners[j]));
                met += least < -clearance;
                ++all;
            }
        }
    }
    const double share = static_cast<double>(met) / all;
    EXPECT_NEAR(share, stated / all, 0.02) << all;
    EXPECT_GT(share, 0.02);  // the test would see a difference
}

}  // namespace
}  // namespace spile
