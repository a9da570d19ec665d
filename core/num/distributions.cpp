#include "core/num/distributions.h"

#include <cmath>
#include <limits>

#include "core/base/check.h"

namespace spile {
namespace {

constexpr double kEpsilon = std::numeric_limits<double>::epsilon();
constexpr double kPi = 3.14159265358979323846;
constexpr double kTiny = 1e-300;  // keeps Lentz's continued fractions off zero

/// ln Gamma by Stirling's series after a shift upwards; std::lgamma writes a global.
double log_gamma(double a) {
    double shift = 0;
    while (a < 15) {
        shift += std::log(a);
        a += 1;
    }
    const double i = 1 / a;
    const double i2 = i * i;
    const double series =
        i * (1.0 / 12 - i2 * (1.0 / 360 - i2 * (1.0 / 1260 - i2 * (1.0 / 1680 - i2 / 1188))));
    return (a - 0.5) * std::log(a) - a + 0.5 * std::log(2 * kPi) + series - shift;
}

struct Tails {
    double lower, upper;
};

Tails gamma_tails(double a, double x) {
    if (!(x > 0)) return {0, 1};
    const double front = std::exp(a * std::log(x) - x - log_gamma(a));
    if (x < a + 1) {
        double term = 1 / a;
        double sum = term;
        for (double n = a + 1; term > sum * kEpsilon / 4; n += 1) {
            term *= x / n;
            sum += term;
        }
        const double lower = front * sum;
        return {lower, 1 - lower};
    }
    double b = x + 1 - a;
    double c = 1 / kTiny;
    double d = 1 / b;
    double h = d;
    for (double n = 1; n < 1e6; n += 1) {
        const double an = -n * (n - a);
        b += 2;
        d = an * d + b;
        if (std::fabs(d) < kTiny) d = kTiny;
        c = b + an / c;
        if (std::fabs(c) < kTiny) c = kTiny;
        d = 1 / d;
        const double step = d * c;
        h *= step;
        if (std::fabs(step - 1) < 2 * kEpsilon) break;
    }
    const double upper = front * h;
    return {1 - upper, upper};
}

double beta_fraction(double a, double b, double x) {
    double c = 1;
    double d = 1 - (a + b) * x / (a + 1);
    if (std::fabs(d) < kTiny) d = kTiny;
    d = 1 / d;
    double h = d;
    for (double m = 1; m < 1e6; m += 1) {
        const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        d = 1 + even * d;
        if (std::fabs(d) < kTiny) d = kTiny;
        c = 1 + even / c;
        if (std::fabs(c) < kTiny) c = kTiny;
        d = 1 / d;
        h *= d * c;
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        d = 1 + odd * d;
        if (std::fabs(d) < kTiny) d = kTiny;
        c = 1 + odd / c;
        if (std::fabs(c) < kTiny) c = kTiny;
        d = 1 / d;
        const double step = d * c;
        h *= step;
        if (std::fabs(step - 1) < 2 * kEpsilon) break;
    }
    return h;
}

double beta_lower(double a, double b, double x) {
    if (x <= 0) return 0;
    if (x >= 1) return 1;
    const double front =
        std::exp(log_gamma(a + b) - log_gamma(a) - log_gamma(b) + a * std::log(x) + b * std::log1p(-x));
    return x < (a + 1) / (a + b + 2) ? front * beta_fraction(a, b, x) / a
                                     : 1 - front * beta_fraction(b, a, 1 - x) / b;
}

/// Root of an increasing cdf on (0, inf): bracket by doubling, then halve until the doubles meet.
template <class Cdf>
double increasing_root(Cdf cdf, double p, double start) {
    double low = 0;
    double high = start;
    while (cdf(high) < p && high < 1e300) {
        low = high;
        high *= 2;
    }
    for (int i = 0; i < 200; ++i) {
        const double middle = 0.5 * (low + high);
        if (middle <= low || middle >= high) break;
        (cdf(middle) < p ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

}  // namespace

double normal_cdf(double z) {
    return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

double normal_quantile(double p) {
    SPILE_CHECK(p > 0 && p < 1);
    if (p > 0.5) return -normal_quantile(1 - p);
    // Lower half: Newton on ln(cdf), which is concave, so that it comes in from the left without overshoot.
    double z = p > 0.02 ? 0 : -std::sqrt(-2 * std::log(p));
    for (int i = 0; i < 100; ++i) {
        const double cdf = normal_cdf(z);
        const double density = std::exp(-0.5 * z * z) / std::sqrt(2 * kPi);
        const double step = (std::log(p) - std::log(cdf)) * cdf / density;
        z += step;
        if (std::fabs(step) <= 4 * kEpsilon * (1 + std::fabs(z))) break;
    }
    return z;
}

double chi2_cdf(double x, double r) {
    SPILE_CHECK(r > 0);
    return gamma_tails(0.5 * r, 0.5 * x).lower;
}

double chi2_upper(double x, double r) {
    SPILE_CHECK(r > 0);
    return gamma_tails(0.5 * r, 0.5 * x).upper;
}

double chi2_quantile(double p, double r) {
    SPILE_CHECK(p > 0 && p < 1 && r > 0);
    return increasing_root([r](double x) { return chi2_cdf(x, r); }, p, r);
}

double f_cdf(double x, double r1, double r2) {
    SPILE_CHECK(r1 > 0 && r2 > 0);
    return x <= 0 ? 0 : beta_lower(0.5 * r1, 0.5 * r2, r1 * x / (r1 * x + r2));
}

double f_quantile(double p, double r1, double r2) {
    SPILE_CHECK(p > 0 && p < 1 && r1 > 0 && r2 > 0);
    return increasing_root([r1, r2](double x) { return f_cdf(x, r1, r2); }, p, 1.0);
}

double noticeable_shift(double alpha, double power) {
    return normal_quantile(1 - 0.5 * alpha) + normal_quantile(power);
}

}  // namespace spile
