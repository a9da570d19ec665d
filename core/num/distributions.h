// Distributions of surveying statistics: normal, chi-square and F, with their quantiles.
#pragma once

namespace spile {

/// P(Z <= z) of the standard normal. Relative error below 1e-13 in the tails (std::erfc).
double normal_cdf(double z);

/// z with P(Z <= z) = p. Requires: 0 < p < 1. Newton on normal_cdf; relative error below 1e-12.
double normal_quantile(double p);

/// P(X <= x) of chi-square with r degrees of freedom. Requires: r > 0. For x <= 0 it is 0.
/// Regularised incomplete gamma, by its series below r/2 + 1 and by its continued fraction above
/// (Abramowitz & Stegun 6.5.29 and 6.5.31, from memory).
double chi2_cdf(double x, double r);

/// P(X > x), without cancellation in the upper tail.
double chi2_upper(double x, double r);

/// x with P(X <= x) = p. Requires: 0 < p < 1, r > 0.
double chi2_quantile(double p, double r);

/// P(F <= x) of the F distribution with r1 and r2 degrees of freedom. Requires: r1 > 0, r2 > 0.
/// Incomplete beta by continued fraction (Abramowitz & Stegun 26.5.8, from memory).
double f_cdf(double x, double r1, double r2);

/// x with P(F <= x) = p. Requires: 0 < p < 1, r1 > 0, r2 > 0.
double f_quantile(double p, double r1, double r2);

/// The shift of a standard normal that a two-sided test of level `alpha` notices with probability `power`:
/// z(1 - alpha/2) + z(power). W. Baarda, A testing procedure for use in geodetic networks (1968): alpha .001
/// and power .80 give 4.1321. Requires: both in (0, 1).
double noticeable_shift(double alpha, double power);

}  // namespace spile
