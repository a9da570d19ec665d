// The adjustment itself: against a dense twin, against the truth, against closed forms.
#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "core/measure/quality.h"
#include "tests/measure/lines.h"
#include "tests/measure/simulated.h"

namespace spile {
namespace {

using namespace simulated;

/// The same adjustment by dense normal equations from the true places, in the same datum: first corner at the origin,
/// second on the x axis.
struct Twin {
    std::vector<Vec2> at;
    Eigen::MatrixXd covariance;  // columns 2 p, 2 p + 1; zero where held
    double sum = 0;
    Eigen::VectorXd residual_mm, redundancy;
};

Twin twin_of(const Space& s) {
    const int n = static_cast<int>(s.corners.size()), m = static_cast<int>(s.pairs.size());
    const Vec2 o = s.corners[0], u = unit(s.corners[1] - o);
    Twin t;
    for (const Vec2 p : s.corners) t.at.push_back({dot(u, p - o), cross(u, p - o)});
    std::vector<int> free;
    for (int c = 2; c < 2 * n; ++c) {
        if (c != 3) free.push_back(c);
    }
    Eigen::MatrixXd a(m, 2 * n), q;
    Eigen::VectorXd l(m);
    for (int round = 0; round < 30; ++round) {
        a.setZero();
        for (int k = 0; k < m; ++k) {
            const auto [i, j] = s.pairs[k];
            const double sd = distance_sd_mm(tape(), s.reads_mm[k]);
            const double d = distance(t.at[i], t.at[j]);
            const Vec2 e = (t.at[i] - t.at[j]) / d;
            a(k, 2 * i) = e.x / sd;
            a(k, 2 * i + 1) = e.y / sd;
            a(k, 2 * j) = -e.x / sd;
            a(k, 2 * j + 1) = -e.y / sd;
            l(k) = (s.reads_mm[k] - d) / sd;
        }
        Eigen::MatrixXd f(m, free.size());
        for (std::size_t c = 0; c < free.size(); ++c) f.col(static_cast<Eigen::Index>(c)) = a.col(free[c]);
        q = (f.transpose() * f).inverse();
        const Eigen::VectorXd x = q * (f.transpose() * l);
        for (std::size_t c = 0; c < free.size(); ++c) {
            Vec2& p = t.at[static_cast<std::size_t>(free[c] / 2)];
            (free[c] % 2 == 0 ? p.x : p.y) += x(static_cast<Eigen::Index>(c));
        }
        t.sum = l.squaredNorm();
        t.residual_mm = l;
        t.redundancy = Eigen::VectorXd::Ones(m) - (f * q * f.transpose()).diagonal();
    }
    for (int k = 0; k < m; ++k) t.residual_mm(k) *= distance_sd_mm(tape(), s.reads_mm[k]);
    t.covariance = Eigen::MatrixXd::Zero(2 * n, 2 * n);
    for (std::size_t i = 0; i < free.size(); ++i) {
        for (std::size_t j = 0; j < free.size(); ++j) {
            t.covariance(free[i], free[j]) = q(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j));
        }
    }
    return t;
}

Space braced(Random& random, int corners = 0) {
    Space s = any_space(random, corners);
    auto pairs = all_pairs(static_cast<int>(s.corners.size()));
    random.shuffle(pairs);
    // Every corner keeps ties enough to hold; a third of the rest is left out.
    std::vector<int> ties(s.corners.size(), static_cast<int>(s.corners.size()) - 1);
    for (const auto& [p, q] : pairs) {
        if (ties[p] > 4 && ties[q] > 4 && random.below(3) == 0) {
            --ties[p];
            --ties[q];
        } else {
            s.pairs.push_back({p, q});
        }
    }
    tape_all(random, s);
    return s;
}

TEST(Adjust, AgreesWithTheDenseTwin) {
    Random random(11);
    for (int round = 0; round < 60; ++round) {
        const Space s = braced(random);
        const Twin twin = twin_of(s);
        const Result<Survey> survey = measure(input_of(s), RunContext{});
        ASSERT_TRUE(survey);
        ASSERT_TRUE(survey->fixed) << codes(survey.findings);
        const double spare =
            static_cast<double>(s.pairs.size()) - 2 * static_cast<double>(s.corners.size()) + 3;
        EXPECT_EQ(survey->spare, spare);
        EXPECT_NEAR(survey->variance_factor * spare, twin.sum, 1e-7 * (1 + twin.sum));
        for (std::size_t p = 0; p < s.corners.size(); ++p) {
            const SurveyPoint& point = survey->points.at(name_of(static_cast<int>(p)));
            EXPECT_LT(distance(point.boat_mm, twin.at[p]), 1e-6);
            const auto at = static_cast<Eigen::Index>(2 * p);
            EXPECT_NEAR(point.cov_mm2.xx, twin.covariance(at, at), 1e-8 * (1 + twin.covariance(at, at)));
            EXPECT_NEAR(point.cov_mm2.xy, twin.covariance(at, at + 1), 1e-8 * (1 + point.cov_mm2.xx));
            EXPECT_NEAR(point.cov_mm2.yy, twin.covariance(at + 1, at + 1), 1e-8 * (1 + point.cov_mm2.yy));
        }
        for (std::size_t k = 0; k < s.pairs.size(); ++k) {
            EXPECT_NEAR(survey->ties[k].residual_mm, twin.residual_mm(static_cast<Eigen::Index>(k)), 1e-6);
            EXPECT_NEAR(survey->ties[k].redundancy, twin.redundancy(static_cast<Eigen::Index>(k)), 1e-8);
        }
        for (const PairDoubt& pair : survey->pairs) {
            const auto index = [](const std::string& name) {
                return static_cast<Eigen::Index>(2 * (name[0] - 'A'));
            };
            EXPECT_NEAR(pair.from_x_to_y, twin.covariance(index(pair.from), index(pair.to) + 1), 1e-7);
            EXPECT_NEAR(pair.from_y_to_x, twin.covariance(index(pair.from) + 1, index(pair.to)), 1e-7);
        }
    }
}

// 95 % ellipses from the a-priori covariance hold the truth 93 to 97 times in a hundred. The ellipse scales by the
// chi-square quantile 5.9915 of two degrees of freedom (closed form: -2 ln .05).
TEST(Adjust, NinetyFivePercentEllipsesHoldTheTruth) {
    Random random(5);
    int inside = 0, all = 0;
    for (int net = 0; net < 8; ++net) {
        Space s = braced(random);
        const Vec2 o = s.corners[0], u = unit(s.corners[1] - o);
        for (int round = 0; round < 150; ++round) {
            tape_all(random, s);
            const Result<Survey> survey = measure(input_of(s), RunContext{});
            ASSERT_TRUE(survey && survey->fixed);
            for (std::size_t p = 2; p < s.corners.size(); ++p) {
                const SurveyPoint& point = survey->points.at(name_of(static_cast<int>(p)));
                const Vec2 d = point.boat_mm - Vec2{dot(u, s.corners[p] - o), cross(u, s.corners[p] - o)};
                const Cov2& c = point.cov_mm2;
                const double det = c.xx * c.yy - c.xy * c.xy;
                inside += (c.yy * d.x * d.x - 2 * c.xy * d.x * d.y + c.xx * d.y * d.y) / det < 5.9915;
                ++all;
            }
        }
    }
    const double share = static_cast<double>(inside) / all;
    EXPECT_GT(share, 0.93);
    EXPECT_LT(share, 0.97);
}

// The covariance that is printed is the scatter of repeated surveys of the same space (1500 rounds: 1 sd of a variance is
// 3.7 %, so 15 % is beyond chance).
TEST(Adjust, CovarianceIsTheScatterOfRepeatedSurveys) {
    Random random(3);
    Space s = braced(random, 7);
    const std::size_t p = 4;
    double xx = 0, yy = 0, xy = 0;
    Vec2 mean;
    constexpr int kRounds = 1500;
    std::vector<Vec2> seen;
    Cov2 told;
    for (int round = 0; round < kRounds; ++round) {
        tape_all(random, s);
        const Result<Survey> survey = measure(input_of(s), RunContext{});
        ASSERT_TRUE(survey && survey->fixed);
        const SurveyPoint& point = survey->points.at(name_of(static_cast<int>(p)));
        seen.push_back(point.boat_mm);
        mean = mean + point.boat_mm / kRounds;
        told = point.cov_mm2;
    }
    for (const Vec2 v : seen) {
        xx += (v.x - mean.x) * (v.x - mean.x) / kRounds;
        yy += (v.y - mean.y) * (v.y - mean.y) / kRounds;
        xy += (v.x - mean.x) * (v.y - mean.y) / kRounds;
    }
    EXPECT_NEAR(xx / told.xx, 1, 0.15);
    EXPECT_NEAR(yy / told.yy, 1, 0.15);
    EXPECT_NEAR(xy, told.xy, 0.15 * std::sqrt(told.xx * told.yy));
}

// Two tapes of +-1 mm that cross at 90, 45, 30, 15 and 10 degrees: 1.4 2.0 2.8 5.5 8.1 mm (closed form sqrt 2 / sin).
TEST(Adjust, CrossingAngleDecidesHowSureAPointIs) {
    const struct {
        double degrees, error_mm;
    } rows[] = {{90, 1.4}, {45, 2.0}, {30, 2.8}, {15, 5.5}, {10, 8.1}};
    for (const auto& row : rows) {
        const double half = row.degrees * 3.14159265358979323846 / 360;
        survey::Network net;
        net.names = {"A", "B", "P"};
        const double arm = 2000;
        net.observations = {{survey::Kind::distance, 0, 1, -1, 2 * arm * std::sin(half), 1e-6, 0, ""},
                            {survey::Kind::distance, 0, 2, -1, arm, 1, 1, ""},
                            {survey::Kind::distance, 1, 2, -1, arm, 1, 2, ""}};
        const survey::Places places{
            {{0, 0}, {2 * arm * std::sin(half), 0}, {arm * std::sin(half), arm * std::cos(half)}}, {}};
        const survey::Equations equations(net, {0, 1});
        const survey::Quality quality(equations, places);
        ASSERT_TRUE(quality.fixed());
        const Cov2 c = quality.covariance(2);
        EXPECT_NEAR(std::sqrt(c.xx + c.yy), row.error_mm, 0.05) << row.degrees;
        EXPECT_NEAR(std::sqrt(c.xx + c.yy), std::sqrt(2) / std::sin(2 * half), 1e-5);
    }
}

TEST(Adjust, OffsetCarriesTheSquarenessAlongTheBase) {
    // 2 degrees at 600 mm carry the foot by 21 mm.
    SpaceInput in = space_of({"A", "B", "P"}, {"A", "B"}, {"A B 3000", "P on A B at 1500 off 600 left"});
    in.tape.square_sd_rad = 2 * 3.14159265358979323846 / 180;
    const Result<Survey> s = measure(in, RunContext{});
    ASSERT_TRUE(s && s->fixed) << codes(s.findings);
    const SurveyPoint& p = s->points.at("P");
    EXPECT_NEAR(p.boat_mm.x, 1500, 1e-9);
    EXPECT_NEAR(p.boat_mm.y, 600, 1e-9);
    EXPECT_NEAR(std::sqrt(p.cov_mm2.xx), std::hypot(21, distance_sd_mm(in.tape, 1500)), 0.1);
    EXPECT_NEAR(std::sqrt(p.cov_mm2.yy), distance_sd_mm(in.tape, 600), 1e-6);
    in.readings[1] = *parse_reading_line("P on A B at 1500 off 600 right", Unit::mm);
    in.walk = {"B", "A", "P"};
    EXPECT_NEAR(measure(in, RunContext{})->points.at("P").boat_mm.y, -600, 1e-9);
}

TEST(Adjust, OverAndUpAloneFixAShape) {
    const std::vector<std::string> lines = {"K over 0 up 0", "L over 800 up 10", "M over 790 up 610",
                                            "N over -20 up 600"};
    const Result<Survey> plain = measure(space_of({"K", "L", "M", "N"}, {}, lines), RunContext{});
    ASSERT_TRUE(plain);
    EXPECT_TRUE(plain->fixed) << codes(plain.findings);
    EXPECT_NE(finding(plain.findings, "bow-missing"), nullptr);
    EXPECT_FALSE(has_stop(plain.findings)) << codes(plain.findings);
    EXPECT_EQ(plain->points.at("M").boat_mm, (Vec2{790, 610}));
    // With a bow line the same shape lies along it.
    const Result<Survey> turned = measure(space_of({"K", "L", "M", "N"}, {"K", "N"}, lines), RunContext{});
    ASSERT_TRUE(turned && turned->fixed) << codes(turned.findings);
    EXPECT_NEAR(turned->points.at("N").boat_mm.x, std::hypot(20, 600), 1e-6);
    EXPECT_NEAR(turned->points.at("N").boat_mm.y, 0, 1e-12);
    EXPECT_NEAR(distance(turned->points.at("K").boat_mm, turned->points.at("M").boat_mm),
                std::hypot(790, 610), 1e-6);
    EXPECT_LT(turned->points.at("L").boat_mm.y, 0);  // not mirrored: from K towards N, L lies to starboard
}

TEST(Adjust, TiesAndSquareLinesAreAdjustedTogether) {
    // K..N by over/up, one diagonal taped 6 mm long against them, one right.
    const Result<Survey> s = measure(space_of({"K", "L", "M", "N"}, {"K", "L"},
                                              {"K over 0 up 0", "L over 800 up 0", "M over 800 up 600",
                                               "N over 0 up 600", "K M 1006", "L N 1000"}),
                                     RunContext{});
    ASSERT_TRUE(s && s->fixed);
    EXPECT_EQ(s->spare, 2);
    EXPECT_GT(distance(s->points.at("K").boat_mm, s->points.at("M").boat_mm), 1001);
    ASSERT_EQ(s->ties.size(), 10u);
    EXPECT_EQ(s->ties[0].part, "over");
    EXPECT_EQ(s->ties[1].part, "up");
    EXPECT_EQ(s->ties[8].part, "");
    EXPECT_EQ(s->ties[8].points, (std::vector<std::string>{"K", "M"}));
}

}  // namespace
}  // namespace spile
