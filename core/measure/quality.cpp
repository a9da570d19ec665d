#include "core/measure/quality.h"

#include <algorithm>
#include <cmath>

namespace spile::survey {

Quality::Quality(const Equations& equations, const Places& places,
                 const std::vector<std::pair<int, int>>& wanted)
    : equations_(equations) {
    const std::vector<Observation>& observations = equations.network().observations;
    for (const int i : equations.used()) {
        equations.add_row(observations[i], places, rows_);
        misclosure_.push_back(-misfit_mm(observations[i], places.at, places.pose) / observations[i].sd_mm);
    }
    std::vector<std::pair<int, int>> columns;
    const auto want = [&](int p, int q) {
        for (const int i : {equations.column_x(p), equations.column_y(p)}) {
            for (const int j : {equations.column_x(q), equations.column_y(q)}) {
                if (i >= 0 && j >= 0) columns.push_back({i, j});
            }
        }
    };
    for (int p = 0; p < equations.network().points(); ++p) {
        if (equations.takes_part(p)) want(p, p);
    }
    for (const auto& [p, q] : wanted) want(p, q);
    normal_.emplace(equations.parameters(), rows_, columns);
    normal_->form(rows_);
    fixed_ = normal_->factor();
    if (!fixed_) return;
    normal_->invert_within_pattern();

    const std::vector<double> step =
        normal_->solve(transposed_times(rows_, misclosure_, equations.parameters()));
    residual_ = misclosure_;
    redundancy_.resize(rows());
    for (std::size_t r = 0; r < rows(); ++r) {
        double share = 0;
        for (std::size_t a = rows_.start[r]; a < rows_.start[r + 1]; ++a) {
            residual_[r] -= rows_.value[a] * step[rows_.column[a]];
            share += rows_.value[a] * rows_.value[a] * normal_->inverse(rows_.column[a], rows_.column[a]);
            for (std::size_t b = rows_.start[r]; b < a; ++b) {
                share +=
                    2 * rows_.value[a] * rows_.value[b] * normal_->inverse(rows_.column[a], rows_.column[b]);
            }
        }
        redundancy_[r] = std::clamp(1 - share, 0.0, 1.0);
    }
}

Cov2 Quality::covariance(int point) const {
    const int x = equations_.column_x(point), y = equations_.column_y(point);
    return {entry(x, x), entry(x, y), entry(y, y)};
}

std::array<double, 4> Quality::covariance(int p, int q) const {
    const int px = equations_.column_x(p), py = equations_.column_y(p);
    const int qx = equations_.column_x(q), qy = equations_.column_y(q);
    return {entry(px, qx), entry(px, qy), entry(py, qx), entry(py, qy)};
}

std::vector<double> Quality::covariance(const std::vector<int>& points) const {
    std::vector<int> columns;
    for (const int p : points) {
        columns.push_back(equations_.column_x(p));
        columns.push_back(equations_.column_y(p));
    }
    std::vector<double> out;
    out.reserve(columns.size() * columns.size());
    for (const int i : columns) {
        std::vector<double> row;
        if (i >= 0) {
            std::vector<double> one(equations_.parameters(), 0);
            one[static_cast<std::size_t>(i)] = 1;
            row = normal_->solve(one);
        }
        for (const int j : columns) out.push_back(i < 0 || j < 0 ? 0.0 : row[static_cast<std::size_t>(j)]);
    }
    return out;
}

double Quality::w(std::size_t row) const {
    return checked(row) ? residual_[row] / std::sqrt(redundancy_[row]) : 0;
}

std::vector<double> Quality::response(std::size_t row) const {
    std::vector<double> right(equations_.parameters(), 0);
    for (std::size_t k = rows_.start[row]; k < rows_.start[row + 1]; ++k)
        right[rows_.column[k]] = rows_.value[k];
    return normal_->solve(right);
}

double Quality::residual_share(std::size_t row, std::size_t of_row,
                               const std::vector<double>& response) const {
    double share = row == of_row ? 1 : 0;
    for (std::size_t k = rows_.start[row]; k < rows_.start[row + 1]; ++k) {
        share -= rows_.value[k] * response[rows_.column[k]];
    }
    return share;
}

}  // namespace spile::survey
