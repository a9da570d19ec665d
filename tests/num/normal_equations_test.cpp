#include "core/num/normal_equations.h"

#include <gtest/gtest.h>

#include <Eigen/Dense>
#include <random>

namespace spile {
namespace {

struct Made {
    SparseRows rows;
    Eigen::MatrixXd dense;
    std::vector<std::pair<int, int>> wanted;
};

Made made(std::mt19937& random, int parameters, int observations) {
    Made m;
    m.dense = Eigen::MatrixXd::Zero(observations, parameters);
    std::uniform_int_distribution<int> any(0, parameters - 1);
    std::normal_distribution<double> value;
    for (int r = 0; r < observations; ++r) {
        for (int k = 0; k < 4; ++k) {
            const int c = k == 0 ? r % parameters : any(random);
            if (m.dense(r, c) != 0) continue;
            m.dense(r, c) = value(random);
            m.rows.add(c, m.dense(r, c));
        }
        m.rows.end_row();
    }
    for (int k = 0; k < 5; ++k) m.wanted.push_back({any(random), any(random)});
    return m;
}

// Second opinion: Eigen's dense inverse of J^T J.
TEST(NormalEquations, SelectedInverseAgreesWithDenseInverse) {
    std::mt19937 random(7);
    for (int round = 0; round < 60; ++round) {
        const int n = 1 + round;
        const Made m = made(random, n, 3 * n + 2);
        NormalEquations normal(static_cast<std::size_t>(n), m.rows, m.wanted);
        normal.form(m.rows);
        ASSERT_TRUE(normal.factor());
        normal.invert_within_pattern();
        const Eigen::MatrixXd inverse = (m.dense.transpose() * m.dense).inverse();
        const double size = inverse.cwiseAbs().maxCoeff();
        for (std::size_t r = 0; r < m.rows.rows(); ++r) {
            for (std::size_t a = m.rows.start[r]; a < m.rows.start[r + 1]; ++a) {
                for (std::size_t b = m.rows.start[r]; b < m.rows.start[r + 1]; ++b) {
                    const int i = m.rows.column[a], j = m.rows.column[b];
                    EXPECT_NEAR(normal.inverse(i, j), inverse(i, j), 1e-11 * size);
                }
            }
        }
        for (const auto& [i, j] : m.wanted) EXPECT_NEAR(normal.inverse(i, j), inverse(i, j), 1e-11 * size);

        const Eigen::VectorXd right = Eigen::VectorXd::LinSpaced(n, -1, 2);
        const std::vector<double> x = normal.solve(std::vector<double>(right.data(), right.data() + n));
        const Eigen::VectorXd expected = inverse * right;
        for (int i = 0; i < n; ++i) EXPECT_NEAR(x[i], expected[i], 1e-11 * size * n);
    }
}

TEST(NormalEquations, RefusesWhatIsNotDetermined) {
    SparseRows rows;  // two parameters that only ever occur as their difference
    for (int k = 0; k < 3; ++k) {
        rows.add(0, 1.0);
        rows.add(1, -1.0);
        rows.end_row();
    }
    NormalEquations normal(2, rows);
    normal.form(rows);
    EXPECT_FALSE(normal.factor());
    EXPECT_TRUE(normal.factor({1e-3, 1e-3}));
    NormalEquations untouched(3, rows);  // a parameter that occurs nowhere
    untouched.form(rows);
    EXPECT_FALSE(untouched.factor());
}

TEST(NormalEquations, NothingToDetermine) {
    NormalEquations normal(0, SparseRows{});
    normal.form(SparseRows{});
    EXPECT_TRUE(normal.factor());
    EXPECT_TRUE(normal.solve({}).empty());
}

}  // namespace
}  // namespace spile
