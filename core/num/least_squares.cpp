#include "core/num/least_squares.h"

#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/num/normal_equations.h"

namespace spile {
namespace {

double sum_of_squares(const std::vector<double>& v) {
    double sum = 0;
    for (const double x : v) sum += x * x;
    return sum;
}

bool all_finite(const std::vector<double>& v) {
    return std::all_of(v.begin(), v.end(), [](double x) { return std::isfinite(x); });
}

constexpr double kMostDamping = 1e30;
constexpr double kLeastDamping = 1e-12;
// A gain of less than this share of the sum is lost in the sum's own rounding (some hundred terms of 2^-53 each). With one
// residual far off that hides steps a thousand times larger than the ones asked for.
constexpr double kHidden = 1e-13;
// Nor is a step taken on trust that moves a parameter by more than this share: along a direction nothing holds, the gain is
// hidden at any length.
constexpr double kTrusted = 1e-6;

}  // namespace

std::string LeastSquaresOptions::fault() const {
    if (most_iterations < 1) return "most_iterations must be at least 1";
    if (!(least_step >= 0)) return "least_step must not be negative";
    if (!(scale >= 0)) return "scale must not be negative";
    if (!(first_damping >= 0)) return "first_damping must not be negative";
    return {};
}

LeastSquaresResult minimise(const LeastSquaresProblem& problem, std::vector<double> start,
                            const LeastSquaresOptions& options) {
    SPILE_CHECK(options.fault().empty());
    const std::size_t n = problem.parameters();
    SPILE_CHECK(start.size() == n);

    LeastSquaresResult result;
    result.x = std::move(start);
    std::vector<double> residuals;
    SparseRows rows;
    problem.evaluate(result.x, residuals, &rows);
    result.sum = sum_of_squares(residuals);
    if (!all_finite(residuals)) {
        result.ended = LeastSquaresResult::Ended::not_finite;
        return result;
    }
    if (n == 0) return result;

    NormalEquations normal(n, rows);
    double damping = options.first_damping;
    double growth = 2;
    double hidden_before = HUGE_VAL;  // gain the last step promised whose gain could not be seen
    std::vector<double> added(n), trial(n), trial_residuals;
    normal.form(rows);
    std::vector<double> gradient = transposed_times(rows, residuals, n);
    // Steps are measured by the largest slope each parameter has shown so far (More 1978): a parameter that loses its
    // grip for a while is held back, not let loose.
    std::vector<double> grip(n, 0.0);

    while (result.iterations < options.most_iterations) {
        ++result.iterations;
        double largest = 0;
        for (std::size_t i = 0; i < n; ++i) {
            grip[i] = std::max(grip[i], normal.diagonal(static_cast<int>(i)));
            largest = std::max(largest, grip[i]);
        }
        for (std::size_t i = 0; i < n; ++i) {
            // A parameter nothing depends on at this x still needs a pivot.
            added[i] = damping * (grip[i] > 0 ? grip[i] : largest > 0 ? largest : 1.0);
        }
        bool better = false;
        bool noise_step = false;
        if (normal.factor(added)) {
            const std::vector<double> step = normal.solve(gradient);
            noise_step = true;
            bool small = true;
            double promised = 0;  // what the linear model promises to gain
            for (std::size_t i = 0; i < n; ++i) {
                trial[i] = result.x[i] - step[i];
                const double own_size = std::fabs(result.x[i]) + options.scale;
                if (std::fabs(step[i]) > options.least_step * own_size) noise_step = false;
                if (std::fabs(step[i]) > kTrusted * own_size) small = false;
                promised += step[i] * (gradient[i] + added[i] * step[i]);
            }
            problem.evaluate(trial, trial_residuals, nullptr);
            const double trial_sum = all_finite(trial_residuals) ? sum_of_squares(trial_residuals) : HUGE_VAL;
            // Where the sum can no longer tell, the steps themselves must shrink, by a fifth or so at least.
            const bool hidden = small && promised <= kHidden * result.sum;
            const bool shrinks =
                hidden && 1.5 * promised < hidden_before && trial_sum <= (1 + kHidden) * result.sum;
            if (trial_sum <= result.sum || shrinks) {
                better = true;
                if (hidden) {
                    hidden_before = promised;
                } else {
                    const double gain = promised > 0 ? (result.sum - trial_sum) / promised : 1;
                    const double cube = 2 * gain - 1;
                    damping *= std::max(1.0 / 3, 1 - cube * cube * cube);
                    if (damping < kLeastDamping) damping = 0;
                }
                growth = 2;
                result.x = trial;
                problem.evaluate(result.x, residuals, &rows);
                result.sum = sum_of_squares(residuals);
                normal.form(rows);
                gradient = transposed_times(rows, residuals, n);
            }
        }
        if (noise_step) {
            result.ended = LeastSquaresResult::Ended::settled;
            return result;
        }
        if (!better) {
            damping = std::max(damping * growth, 1e-9);
            growth *= 2;
            if (damping > kMostDamping) {
                result.ended = LeastSquaresResult::Ended::no_better;
                return result;
            }
        }
    }
    result.ended = LeastSquaresResult::Ended::too_many_iterations;
    return result;
}

}  // namespace spile
