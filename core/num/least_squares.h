// Nonlinear least squares: Gauss-Newton with Levenberg-Marquardt damping on sparse normal equations.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/num/sparse_rows.h"

namespace spile {

/// What is to be made small: the sum of squared residuals, each already divided by its standard deviation.
class LeastSquaresProblem {
  public:
    virtual ~LeastSquaresProblem() = default;
    virtual std::size_t parameters() const = 0;
    /// Residuals at x and, unless null, their derivatives. The pattern of the rows must be the same at every
    /// x (keep zeros). A residual may come out not finite where the model has no value; such a step is not
    /// taken.
    virtual void evaluate(const std::vector<double>& x, std::vector<double>& residuals,
                          SparseRows* rows) const = 0;
};

struct LeastSquaresOptions {
    int most_iterations = 100;
    /// Ends when no parameter moves by more than this share of (its own size + `scale`).
    double least_step = 1e-13;
    double scale = 1;
    /// Share of the diagonal added at first; 0 starts as plain Gauss-Newton.
    double first_damping = 1e-3;

    /// Empty when the options can be used, else what is wrong with them.
    std::string fault() const;
};

struct LeastSquaresResult {
    enum class Ended { settled, no_better, too_many_iterations, not_finite };
    std::vector<double> x;
    double sum = 0;  ///< of squared residuals
    int iterations = 0;
    Ended ended = Ended::settled;

    /// At a minimum: the last step was noise, or no step of any size gained.
    bool found() const { return ended == Ended::settled || ended == Ended::no_better; }
};

/// Requires: options without fault; start.size() == problem.parameters().
/// Guarantees: the sum never grows by more than its own rounding (a share of 1e-13); the same input gives the same result.
/// Source: K. Madsen, H. B. Nielsen, O. Tingleff, Methods for Non-Linear Least Squares Problems (2004), for
/// the update of the damping (from memory); scaled by the diagonal after Marquardt (1963).
LeastSquaresResult minimise(const LeastSquaresProblem& problem, std::vector<double> start,
                            const LeastSquaresOptions& options = {});

}  // namespace spile
