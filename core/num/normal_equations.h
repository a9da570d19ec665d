// Normal equations N = J^T J of a sparse least-squares problem: factor, solve, and the part of the inverse
// that matters.
#pragma once

#include <memory>
#include <utility>
#include <vector>

#include "core/num/sparse_rows.h"

namespace spile {

/// Keeps the pattern of one problem and refactors it as its numbers change. Sparse Cholesky (LDL^T, fill
/// reduced by minimum degree). The columns of a row may come in any order but not twice.
class NormalEquations {
  public:
    /// `wanted`: further pairs of parameters whose covariance will be asked for.
    NormalEquations(std::size_t parameters, const SparseRows& pattern,
                    const std::vector<std::pair<int, int>>& wanted = {});
    ~NormalEquations();
    NormalEquations(NormalEquations&&) noexcept;
    NormalEquations& operator=(NormalEquations&&) noexcept;

    std::size_t parameters() const;

    /// Multiplications one factorisation takes, about.
    double work() const;

    /// N = rows^T rows. Requires: the pattern given at construction.
    void form(const SparseRows& rows);
    double diagonal(int parameter) const;

    /// Factors N plus `added` (one value per parameter, or empty). False when that is not positive definite
    /// to within the noise of its own diagonal: some combination of parameters is not determined.
    bool factor(const std::vector<double>& added = {});

    /// Requires: factor() returned true; likewise below.
    std::vector<double> solve(const std::vector<double>& right) const;

    /// Computes the entries of the inverse within the pattern of the factor (Takahashi, Fagan & Chin 1973,
    /// from memory). Cost: about that of the factorisation.
    void invert_within_pattern();

    /// An entry of the inverse. Requires: invert_within_pattern() after the last factor(); both parameters
    /// occur together in a row or in `wanted`, or are the same.
    double inverse(int i, int j) const;

  private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// rows^T right.
std::vector<double> transposed_times(const SparseRows& rows, const std::vector<double>& right,
                                     std::size_t parameters);

}  // namespace spile
