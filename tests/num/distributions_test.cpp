#include "core/num/distributions.h"

#include <gtest/gtest.h>

#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <boost/math/distributions/normal.hpp>
#include <cmath>

namespace spile {
namespace {

// Published critical values. Normal .1 % two-sided 3.2905 and chi-square 97.5 % in C. Ghilani, P. Wolf,
// Adjustment Computations, 4th ed., appendix D; Baarda's 4.1321 by exact arithmetic from the two normal
// quantiles.
TEST(Distributions, PublishedCriticalValues) {
    EXPECT_NEAR(normal_quantile(0.9995), 3.2905, 5e-5);
    EXPECT_NEAR(noticeable_shift(0.001, 0.80), 4.1321, 5e-5);
    EXPECT_NEAR(chi2_quantile(0.975, 1), 5.0239, 5e-5);
    EXPECT_NEAR(chi2_quantile(0.975, 2), 7.3778, 5e-5);
    EXPECT_NEAR(chi2_quantile(0.975, 3), 9.3484, 5e-5);
    EXPECT_NEAR(chi2_quantile(0.025, 3), 0.2158, 5e-5);
    EXPECT_NEAR(chi2_quantile(0.975, 6), 14.4494, 5e-5);
    EXPECT_NEAR(chi2_quantile(0.975, 10), 20.4832, 5e-5);
}

TEST(Distributions, ClosedForms) {
    // Two degrees of freedom: the exponential. F with (2, r2): 1 - (1 + 2 x / r2)^(-r2 / 2).
    for (const double x : {1e-6, 0.1, 1.0, 5.0, 40.0}) {
        EXPECT_NEAR(chi2_cdf(x, 2), -std::expm1(-x / 2), 1e-14);
        EXPECT_NEAR(chi2_upper(x, 2) / std::exp(-x / 2), 1, 1e-12);
        EXPECT_NEAR(f_cdf(x, 2, 7), 1 - std::pow(1 + 2 * x / 7, -3.5), 1e-13);
    }
    EXPECT_EQ(chi2_cdf(-1, 3), 0);
    EXPECT_EQ(chi2_upper(0, 3), 1);
    EXPECT_EQ(f_cdf(0, 3, 4), 0);
    EXPECT_EQ(normal_quantile(0.5), 0);
}

TEST(Distributions, AgreeWithBoostMath) {
    const boost::math::normal normal;
    for (const double p : {1e-12, 1e-6, 0.0005, 0.01, 0.02, 0.1, 0.3, 0.5, 0.8, 0.975, 0.9995, 1 - 1e-9}) {
        EXPECT_NEAR(normal_quantile(p), boost::math::quantile(normal, p),
                    1e-9 * (1 + std::fabs(normal_quantile(p))));
        EXPECT_NEAR(normal_cdf(normal_quantile(p)), p, 1e-13);
        for (const double r : {1.0, 2.0, 3.0, 7.0, 40.0, 500.0, 5000.0}) {
            const double x = boost::math::quantile(boost::math::chi_squared(r), p);
            EXPECT_NEAR(chi2_quantile(p, r) / x, 1, p < 1e-9 ? 1e-6 : 1e-7) << p << " " << r;
            for (const double r2 : {2.0, 5.0, 60.0, 3000.0}) {
                const double f = boost::math::quantile(boost::math::fisher_f(r, r2), p);
                if (p < 1e-3 || p > 0.9999) continue;
                EXPECT_NEAR(f_quantile(p, r, r2) / f, 1, 1e-7) << p << " " << r << " " << r2;
            }
        }
    }
    for (const double r : {1.0, 4.0, 30.0, 1000.0}) {
        for (const double share : {0.5, 1.0, 2.0, 4.0}) {
            const double x = share * r;
            const double upper = boost::math::cdf(boost::math::complement(boost::math::chi_squared(r), x));
            EXPECT_NEAR(chi2_upper(x, r), upper, 1e-11 * upper + 1e-300);
        }
    }
}

}  // namespace
}  // namespace spile
