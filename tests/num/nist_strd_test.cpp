// NIST StRD nonlinear regression, lower and average difficulty, from both published starts (nist/README.md).
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <fstream>
#include <functional>
#include <sstream>

#include "core/num/least_squares.h"
#include "core/num/normal_equations.h"

namespace spile {
namespace {

constexpr int kMost = 9;

/// A number with its derivatives to the parameters: the models below are written once.
struct Dual {
    double v = 0;
    std::array<double, kMost> d{};
    Dual() = default;
    Dual(double value) : v(value) {}  // NOLINT: constants mix freely
};

template <class F>
Dual chain(double v, F each) {
    Dual r(v);
    for (int i = 0; i < kMost; ++i) r.d[i] = each(i);
    return r;
}
Dual operator+(const Dual& a, const Dual& b) {
    return chain(a.v + b.v, [&](int i) { return a.d[i] + b.d[i]; });
}
Dual operator-(const Dual& a, const Dual& b) {
    return chain(a.v - b.v, [&](int i) { return a.d[i] - b.d[i]; });
}
Dual operator-(const Dual& a) {
    return Dual(0.0) - a;
}
Dual operator*(const Dual& a, const Dual& b) {
    return chain(a.v * b.v, [&](int i) { return a.d[i] * b.v + a.v * b.d[i]; });
}
Dual operator/(const Dual& a, const Dual& b) {
    return chain(a.v / b.v, [&](int i) { return (a.d[i] - a.v / b.v * b.d[i]) / b.v; });
}
Dual exp(const Dual& a) {
    const double e = std::exp(a.v);
    return chain(e, [&](int i) { return e * a.d[i]; });
}
Dual log(const Dual& a) {
    return chain(std::log(a.v), [&](int i) { return a.d[i] / a.v; });
}
Dual sin(const Dual& a) {
    return chain(std::sin(a.v), [&](int i) { return std::cos(a.v) * a.d[i]; });
}
Dual cos(const Dual& a) {
    return chain(std::cos(a.v), [&](int i) { return -std::sin(a.v) * a.d[i]; });
}
Dual atan(const Dual& a) {
    return chain(std::atan(a.v), [&](int i) { return a.d[i] / (1 + a.v * a.v); });
}
Dual power(const Dual& a, const Dual& b) {
    return exp(b * log(a));
}

using Parameters = std::vector<Dual>;
using Model = std::function<Dual(const Parameters& b, const std::vector<double>& x)>;

struct Set {
    std::array<std::vector<double>, 2> start;
    std::vector<double> certified, certified_sd;
    double certified_sum = 0;
    std::vector<double> y;
    std::vector<std::vector<double>> x;
};

Set read(const std::string& name) {
    std::ifstream file(std::string(SPILE_SOURCE_DIR) + "/tests/num/nist/" + name + ".dat");
    EXPECT_TRUE(file) << name;
    Set set;
    std::string line;
    int number = 0;
    while (std::getline(file, line)) {
        ++number;
        std::istringstream words(line);
        std::string word, equals;
        if (number > 60) {
            double y = 0, x = 0;
            if (!(words >> y)) continue;
            set.y.push_back(y);
            set.x.emplace_back();
            while (words >> x) set.x.back().push_back(x);
        } else if (number > 40 && line.find("=") != std::string::npos) {
            double a = 0, b = 0, c = 0, sd = 0;
            words >> word >> equals >> a >> b >> c >> sd;
            set.start[0].push_back(a);
            set.start[1].push_back(b);
            set.certified.push_back(c);
            set.certified_sd.push_back(sd);
        } else if (line.rfind("Residual Sum of Squares:", 0) == 0) {
            set.certified_sum = std::stod(line.substr(24));
        }
    }
    return set;
}

class Regression : public LeastSquaresProblem {
  public:
    Regression(const Set& set, Model model) : set_(set), model_(std::move(model)) {}
    std::size_t parameters() const override { return set_.certified.size(); }
    void evaluate(const std::vector<double>& b, std::vector<double>& residuals,
                  SparseRows* rows) const override {
        Parameters p(b.begin(), b.end());
        for (std::size_t i = 0; i < p.size(); ++i) p[i].d[i] = 1;
        residuals.clear();
        if (rows) rows->clear();
        for (std::size_t k = 0; k < set_.y.size(); ++k) {
            const Dual f = model_(p, set_.x[k]);
            residuals.push_back(f.v - set_.y[k]);
            if (!rows) continue;
            for (std::size_t i = 0; i < p.size(); ++i) rows->add(static_cast<int>(i), f.d[i]);
            rows->end_row();
        }
    }

  private:
    const Set& set_;
    Model model_;
};

double digits(double got, double certified) {
    const double error = std::fabs(got - certified) / std::fabs(certified);
    return error == 0 ? 16 : -std::log10(error);
}

Dual gauss(const Parameters& b, const std::vector<double>& x) {
    const auto bell = [&](int k) {
        return b[k] * exp(-(x[0] - b[k + 1]) * (x[0] - b[k + 1]) / (b[k + 2] * b[k + 2]));
    };
    return b[0] * exp(-b[1] * x[0]) + bell(2) + bell(5);
}
Dual chwirut(const Parameters& b, const std::vector<double>& x) {
    return exp(-b[0] * x[0]) / (b[1] + b[2] * x[0]);
}
Dual lanczos(const Parameters& b, const std::vector<double>& x) {
    return b[0] * exp(-b[1] * x[0]) + b[2] * exp(-b[3] * x[0]) + b[4] * exp(-b[5] * x[0]);
}

struct Case {
    const char* name;
    Model model;
    double sum_digits = 8;  ///< of the residual sum of squares
    double sd_digits = 6;   ///< of the standard deviations
};

std::vector<Case> cases() {
    constexpr double pi = 3.141592653589793238462643383279;
    return {
        {"Misra1a", [](auto& b, auto& x) { return b[0] * (1 - exp(-b[1] * x[0])); }},
        {"Chwirut2", chwirut},
        {"Chwirut1", chwirut},
        {"Lanczos3", lanczos, 7},
        {"Gauss1", gauss},
        {"Gauss2", gauss},
        {"DanWood", [](auto& b, auto& x) { return b[0] * power(Dual(x[0]), b[1]); }},
        {"Misra1b", [](auto& b, auto& x) { return b[0] * (1 - power(1 + b[1] * x[0] / 2, -2.0)); }},
        {"Kirby2",
         [](auto& b, auto& x) {
             return (b[0] + b[1] * x[0] + b[2] * x[0] * x[0]) / (1 + b[3] * x[0] + b[4] * x[0] * x[0]);
         }},
        {"Hahn1",
         [](auto& b, auto& x) {
             const double t = x[0];
             return (b[0] + b[1] * t + b[2] * t * t + b[3] * t * t * t) /
                    (1 + b[4] * t + b[5] * t * t + b[6] * t * t * t);
         }},
        {"Nelson", [](auto& b, auto& x) { return b[0] - b[1] * x[0] * exp(-b[2] * x[1]); }},
        {"MGH17",
         [](auto& b, auto& x) { return b[0] + b[1] * exp(-x[0] * b[3]) + b[2] * exp(-x[0] * b[4]); }},
        // The sum of squares of Lanczos1 is the rounding of the data themselves (1.4e-25): no double has its
        // digits.
        {"Lanczos1", lanczos, 0, 0},
        {"Lanczos2", lanczos, 6, 5},
        {"Gauss3", gauss},
        {"Misra1c", [](auto& b, auto& x) { return b[0] * (1 - power(1 + 2 * b[1] * x[0], -0.5)); }},
        {"Misra1d", [](auto& b, auto& x) { return b[0] * b[1] * x[0] / (1 + b[1] * x[0]); }},
        {"Roszman1", [](auto& b, auto& x) { return b[0] - b[1] * x[0] - atan(b[2] / (x[0] - b[3])) / pi; }},
        {"ENSO",
         [](auto& b, auto& x) {
             const auto wave = [&](const Dual& period, const Dual& c, const Dual& s) {
                 return c * cos(2 * pi * x[0] / period) + s * sin(2 * pi * x[0] / period);
             };
             return b[0] + wave(12.0, b[1], b[2]) + wave(b[3], b[4], b[5]) + wave(b[6], b[7], b[8]);
         }},
    };
}

class NistStrd : public testing::TestWithParam<std::tuple<int, int>> {};

TEST_P(NistStrd, CertifiedValuesToSixDigits) {
    const Case c = cases()[static_cast<std::size_t>(std::get<0>(GetParam()))];
    const int start = std::get<1>(GetParam());
    Set set = read(c.name);
    ASSERT_FALSE(set.y.empty());
    if (std::string(c.name) == "Nelson") {
        for (double& y : set.y) y = std::log(y);
    }
    const Regression regression(set, c.model);
    LeastSquaresOptions options;
    options.most_iterations = 2000;
    options.scale = 0;  // parameters of 1e-9 count as much as those of 1e3
    const LeastSquaresResult result =
        minimise(regression, set.start[static_cast<std::size_t>(start)], options);
    EXPECT_TRUE(result.found()) << c.name << " after " << result.iterations;
    for (std::size_t i = 0; i < set.certified.size(); ++i) {
        EXPECT_GE(digits(result.x[i], set.certified[i]), 6)
            << c.name << " b" << i + 1 << " after " << result.iterations;
    }
    EXPECT_GE(digits(result.sum, set.certified_sum), c.sum_digits) << c.name;

    std::vector<double> residuals;
    SparseRows rows;
    regression.evaluate(result.x, residuals, &rows);
    NormalEquations normal(set.certified.size(), rows);
    normal.form(rows);
    if (c.sd_digits == 0) return;
    ASSERT_TRUE(normal.factor());
    normal.invert_within_pattern();
    const double variance = result.sum / static_cast<double>(set.y.size() - set.certified.size());
    for (std::size_t i = 0; i < set.certified.size(); ++i) {
        const double sd = std::sqrt(variance * normal.inverse(static_cast<int>(i), static_cast<int>(i)));
        EXPECT_GE(digits(sd, set.certified_sd[i]), c.sd_digits) << c.name << " sd of b" << i + 1;
    }
}

INSTANTIATE_TEST_SUITE_P(All, NistStrd, testing::Combine(testing::Range(0, 19), testing::Range(0, 2)),
                         [](const auto& made) {
                             return std::string(
                                        cases()[static_cast<std::size_t>(std::get<0>(made.param))].name) +
                                    "_start_" + std::to_string(std::get<1>(made.param) + 1);
                         });

}  // namespace
}  // namespace spile
