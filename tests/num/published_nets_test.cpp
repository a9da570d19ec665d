// Published survey networks through the same solver that adjusts a space.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "core/num/distributions.h"
#include "core/num/least_squares.h"
#include "core/num/normal_equations.h"

namespace spile {
namespace {

struct Observed {
    double value;
    double sd;
    std::function<double(const std::vector<double>& x)> computed;
    std::function<std::vector<std::pair<int, double>>(const std::vector<double>& x)> slope;
};

class Net : public LeastSquaresProblem {
  public:
    Net(std::size_t parameters, std::vector<Observed> observed)
        : n_(parameters), observed_(std::move(observed)) {}
    std::size_t parameters() const override { return n_; }
    void evaluate(const std::vector<double>& x, std::vector<double>& residuals,
                  SparseRows* rows) const override {
        residuals.clear();
        if (rows) rows->clear();
        for (const Observed& o : observed_) {
            residuals.push_back((o.computed(x) - o.value) / o.sd);
            if (!rows) continue;
            for (const auto& [column, value] : o.slope(x)) rows->add(column, value / o.sd);
            rows->end_row();
        }
    }
    const std::vector<Observed>& observed() const { return observed_; }

  private:
    std::size_t n_;
    std::vector<Observed> observed_;
};

/// x[to] - x[from]; an index below 0 stands for a known height.
Observed levelled(double value, double sd, int from, int to, double known = 0) {
    return {
        value, sd,
        [=](const std::vector<double>& x) { return (to < 0 ? known : x[to]) - (from < 0 ? known : x[from]); },
        [=](const std::vector<double>&) {
            std::vector<std::pair<int, double>> s;
            if (to >= 0) s.push_back({to, 1.0});
            if (from >= 0) s.push_back({from, -1.0});
            return s;
        }};
}

struct Solved {
    LeastSquaresResult result;
    std::vector<double> residual;  // computed less observed, in the unit of the observations
    std::vector<double> redundancy;
    std::vector<double> sd;  // of the parameters, a priori
    double s0 = 0;           // square root of the estimated variance factor
};

Solved solved(const Net& net, std::vector<double> start) {
    Solved s;
    s.result = minimise(net, std::move(start));
    EXPECT_TRUE(s.result.found());
    std::vector<double> whitened;
    SparseRows rows;
    net.evaluate(s.result.x, whitened, &rows);
    NormalEquations normal(net.parameters(), rows);
    normal.form(rows);
    EXPECT_TRUE(normal.factor());
    normal.invert_within_pattern();
    for (std::size_t r = 0; r < rows.rows(); ++r) {
        s.residual.push_back(whitened[r] * net.observed()[r].sd);
        double share = 0;
        for (std::size_t a = rows.start[r]; a < rows.start[r + 1]; ++a) {
            for (std::size_t b = rows.start[r]; b < rows.start[r + 1]; ++b) {
                share += rows.value[a] * rows.value[b] * normal.inverse(rows.column[a], rows.column[b]);
            }
        }
        s.redundancy.push_back(1 - share);
    }
    for (std::size_t i = 0; i < net.parameters(); ++i) {
        s.sd.push_back(std::sqrt(normal.inverse(static_cast<int>(i), static_cast<int>(i))));
    }
    s.s0 = std::sqrt(s.result.sum / static_cast<double>(rows.rows() - net.parameters()));
    return s;
}

// C. Ghilani, P. Wolf, Adjustment Computations, 4th ed., example 12.1. The printed S0 .6575 does not follow
// from the printed residuals; .65118 does.
TEST(PublishedNets, WeightedLevelNet) {
    enum { B, C, D };
    const double a = 437.596;
    const Net net(3, {levelled(10.509, .006, -1, B, a), levelled(5.360, .004, B, C),
                      levelled(-8.523, .005, C, D), levelled(-7.348, .003, D, -1, a),
                      levelled(-3.167, .004, B, D), levelled(15.881, .012, -1, C, a)});
    const Solved s = solved(net, {0, 0, 0});
    EXPECT_NEAR(s.result.x[B], 448.1087, 5e-5);
    EXPECT_NEAR(s.result.x[C], 453.4685, 5e-5);
    EXPECT_NEAR(s.result.x[D], 444.9436, 5e-5);
    EXPECT_NEAR(s.result.sum, 1.27212, 5e-6);
    EXPECT_NEAR(s.s0, 0.65118, 5e-6);
    const double residual_mm[] = {3.71, -0.24, -1.86, 0.39, 1.89, -8.53};
    const double redundancy[] = {.6549, .3294, .5092, .1877, .4326, .8862};
    double spare = 0;
    for (int i = 0; i < 6; ++i) {
        EXPECT_NEAR(1000 * s.residual[i], residual_mm[i], 0.0051);
        EXPECT_NEAR(s.redundancy[i], redundancy[i], 5e-5);
        spare += s.redundancy[i];
    }
    EXPECT_NEAR(spare, 3, 1e-9);
    EXPECT_GT(s.result.sum, chi2_quantile(0.025, 3));
    EXPECT_LT(s.result.sum, chi2_quantile(0.975, 3));
}

// J. Mahun, Open Access Surveying Library, Least Squares Lite, chapter D section 4. The page prints S0 .028
// and a standard deviation of .014; the values below follow from its data.
TEST(PublishedNets, LevelNetWithEqualWeightsAndWithWeights) {
    enum { Q, R };
    const double weights[2][8] = {{1, 1, 1, 1, 1, 1, 1, 1}, {4, 6, 12, 4, 4, 3, 6, 4}};
    for (int w = 0; w < 2; ++w) {
        const auto sd = [&](int i) { return 1 / std::sqrt(weights[w][i]); };
        const Net net(2, {levelled(8.91, sd(0), -1, Q, 806.52), levelled(-2.92, sd(1), -1, Q, 818.32),
                          levelled(-4.67, sd(2), -1, Q, 820.12), levelled(-8.66, sd(3), -1, Q, 824.04),
                          levelled(-3.56, sd(4), -1, R, 806.52), levelled(-17.12, sd(5), -1, R, 820.12),
                          levelled(-21.10, sd(6), -1, R, 824.04), levelled(-12.47, sd(7), Q, R)});
        const Solved s = solved(net, {800, 800});
        if (w == 0) {
            EXPECT_NEAR(s.result.x[Q], 815.41842, 5e-6);
            EXPECT_NEAR(s.result.x[R], 802.96211, 5e-6);
            EXPECT_NEAR(s.s0, .02905, 5e-6);
            EXPECT_NEAR(s.s0 * s.sd[Q], .01333, 5e-6);
            EXPECT_NEAR(s.s0 * s.sd[R], .01490, 5e-6);
        } else {
            EXPECT_NEAR(s.result.x[Q], 815.42518, 5e-6);
            EXPECT_NEAR(s.result.x[R], 802.95887, 5e-6);
            EXPECT_NEAR(s.s0, .06674, 5e-6);
        }
    }
}

// Trilateration: inputs C. Ghilani, P. Wolf, Adjustment Computations, chapter 14; results computed from them.
TEST(PublishedNets, Trilateration) {
    const double known[3][2] = {{865.40, 4527.15}, {2432.55, 2047.25}, {2865.22, 27.15}};
    const double taped[3] = {6049.00, 4736.83, 5446.49};
    for (const bool weighted : {false, true}) {
        std::vector<Observed> observed;
        for (int i = 0; i < 3; ++i) {
            const double kx = known[i][0], ky = known[i][1];
            const auto length = [=](const std::vector<double>& x) {
                return std::hypot(x[0] - kx, x[1] - ky);
            };
            const double sd = weighted ? 0.001 + 2e-6 * taped[i] : 1;
            observed.push_back({taped[i], sd, length, [=](const std::vector<double>& x) {
                                    return std::vector<std::pair<int, double>>{{0, (x[0] - kx) / length(x)},
                                                                               {1, (x[1] - ky) / length(x)}};
                                }});
        }
        const Solved s = solved(Net(2, observed), {7000, 3500});
        if (!weighted) {
            EXPECT_NEAR(s.result.x[0], 6861.3168, 5e-5);
            EXPECT_NEAR(s.result.x[1], 3727.8186, 5e-5);
            EXPECT_NEAR(s.residual[0], -.03737, 5e-6);
            EXPECT_NEAR(s.residual[1], .07679, 5e-6);
            EXPECT_NEAR(s.residual[2], -.04737, 5e-6);
            EXPECT_NEAR(s.s0, .097659, 5e-7);
            EXPECT_NEAR(s.s0 * s.sd[0], .0775, 5e-5);
            EXPECT_NEAR(s.s0 * s.sd[1], .15425, 5e-6);
        } else {
            EXPECT_NEAR(s.result.x[0], 6861.3040, 5e-5);
            EXPECT_NEAR(s.result.x[1], 3727.8240, 5e-5);
            EXPECT_NEAR(s.result.sum, 75.559, 5e-4);
            EXPECT_GT(s.result.sum, chi2_quantile(0.975, 1));
            for (int i = 0; i < 3; ++i) {  // one spare reading detects a slip but cannot name it
                const double w = s.residual[i] / observed[i].sd / std::sqrt(s.redundancy[i]);
                EXPECT_NEAR(std::fabs(w), 8.6925, 5e-4);
            }
        }
    }
}

TEST(LeastSquares, OptionsSayWhatIsWrong) {
    LeastSquaresOptions options;
    EXPECT_EQ(options.most_iterations, 100);  // the documented defaults
    EXPECT_EQ(options.first_damping, 1e-3);
    EXPECT_TRUE(options.fault().empty());
    options.first_damping = -1;
    EXPECT_EQ(options.fault(), "first_damping must not be negative");
    options = {};
    options.most_iterations = 0;
    EXPECT_FALSE(options.fault().empty());
}

TEST(LeastSquares, StopsOnWhatIsNotFinite) {
    const Net net(1, {{1, 1, [](const std::vector<double>& x) { return std::sqrt(x[0]); },
                       [](const std::vector<double>& x) {
                           return std::vector<std::pair<int, double>>{{0, 0.5 / std::sqrt(x[0])}};
                       }}});
    EXPECT_EQ(minimise(net, {-1}).ended, LeastSquaresResult::Ended::not_finite);
    EXPECT_NEAR(minimise(net, {9}).x[0], 1, 1e-12);  // full steps would leave the half line
}

}  // namespace
}  // namespace spile
