// How good adjusted places are: covariances, and how well every reading is checked by the others. Internal to measuring.
#pragma once

#include <array>
#include <optional>
#include <utility>
#include <vector>

#include "core/measure/equations.h"

namespace spile::survey {

/// Baarda's delta0 for a level of .001 and a power of .80: the shift in standard deviations that shows four times in five.
constexpr double kDelta0 = 4.1321;
/// A reading with less redundancy than this is checked by nothing: its own slip would move w by less than it shows.
constexpr double kLeastRedundancy = 1e-4;

/// A linear view of the adjustment at one set of places. Rows are the observations of `equations.used()`.
class Quality {
  public:
    /// `wanted`: further pairs of points whose covariance will be asked for.
    Quality(const Equations& equations, const Places& places,
            const std::vector<std::pair<int, int>>& wanted = {});

    bool fixed() const {
        return fixed_;
    }  ///< false: some coordinate is not determined; nothing else may be asked
    std::size_t rows() const { return rows_.rows(); }
    int observation(std::size_t row) const { return equations_.used()[row]; }

    Cov2 covariance(int point) const;
    /// Covariances of p's with q's coordinates: {xx, xy, yx, yy}, mm2.
    std::array<double, 4> covariance(int p, int q) const;

    /// Covariances of all coordinates of the points, x and y in their order, row by row, mm2. Cost: a solution per coordinate.
    std::vector<double> covariance(const std::vector<int>& points) const;

    /// Observed less computed at the places, in standard deviations.
    const std::vector<double>& misclosure() const { return misclosure_; }
    /// What is left of the misclosures after a least-squares step from the places, in standard deviations.
    const std::vector<double>& residual() const { return residual_; }
    double redundancy(std::size_t row) const { return redundancy_[row]; }
    bool checked(std::size_t row) const { return redundancy_[row] > kLeastRedundancy; }
    double w(std::size_t row) const;

    /// Movement of all parameters per standard deviation of error in one reading.
    std::vector<double> response(std::size_t row) const;
    /// Element of the residual-forming matrix between a row and a response.
    double residual_share(std::size_t row, std::size_t of_row, const std::vector<double>& response) const;
    const Equations& equations() const { return equations_; }
    const NormalEquations& normal() const { return *normal_; }

  private:
    double entry(int i, int j) const { return i < 0 || j < 0 ? 0.0 : normal_->inverse(i, j); }

    const Equations& equations_;
    SparseRows rows_;
    std::optional<NormalEquations> normal_;
    std::vector<double> misclosure_, residual_, redundancy_;
    bool fixed_ = false;
};

}  // namespace spile::survey
