#include "core/layout/solve/feasible.h"

#include <algorithm>
#include <cmath>

namespace spile::lay {
namespace {

constexpr double kMissed = 1e-7;         // a condition is met within this
constexpr double kPivot = 1e-9;          // smaller coefficients count as 0 while pivoting
constexpr double kContradiction = 1e-6;  // what a certificate must leave
constexpr int kQuick = 60,
              kMost = 600;  // steps by the largest miss, then by the least index (Bland), then given up

}  // namespace

Feasible::Feasible(const std::vector<double>& limits)
    : variables_(static_cast<int>(limits.size())), limits_(limits) {
    for (int j = 0; j < variables_; ++j) nonbasic_.push_back(j);
}

void Feasible::add(const Condition& condition) {
    Row row{variables_ + added_++, condition.most, std::vector<double>(nonbasic_.size(), 0)};
    for (std::size_t k = 0; k < nonbasic_.size(); ++k)
        if (nonbasic_[k] < variables_)
            row.of[k] = condition.coefficients[static_cast<std::size_t>(nonbasic_[k])];
    for (const Row& other : rows_) {
        if (other.variable >= variables_) continue;
        const double c = condition.coefficients[static_cast<std::size_t>(other.variable)];
        if (c == 0) continue;
        row.value -= c * other.value;
        for (std::size_t k = 0; k < row.of.size(); ++k) row.of[k] -= c * other.of[k];
    }
    rows_.push_back(std::move(row));
}

Feasible::Answer Feasible::solve(const std::vector<Condition>& conditions) {
    for (int step = 0; step < kMost; ++step) {
        const bool quick = step < kQuick;
        std::size_t leaving = rows_.size();
        for (std::size_t r = 0; r < rows_.size(); ++r) {
            if (rows_[r].value >= -kMissed) continue;
            const bool better =
                leaving == rows_.size() ||
                (quick ? rows_[r].value < rows_[leaving].value : rows_[r].variable < rows_[leaving].variable);
            if (better) leaving = r;
        }
        if (leaving == rows_.size()) return Answer::yes;
        const Row& row = rows_[leaving];
        std::size_t entering = nonbasic_.size();
        for (std::size_t k = 0; k < nonbasic_.size(); ++k) {
            if (row.of[k] >= -kPivot) continue;
            const bool better = entering == nonbasic_.size() ||
                                (quick ? row.of[k] < row.of[entering] : nonbasic_[k] < nonbasic_[entering]);
            if (better) entering = k;
        }
        if (entering == nonbasic_.size()) return contradicts(row, conditions) ? Answer::no : Answer::unknown;
        pivot(leaving, entering);
    }
    return Answer::unknown;
}

void Feasible::pivot(std::size_t leaving, std::size_t entering) {
    Row& row = rows_[leaving];
    const double by = row.of[entering];
    row.value /= by;
    for (double& c : row.of) c /= by;
    row.of[entering] = 1 / by;
    std::swap(row.variable, nonbasic_[entering]);
    for (Row& other : rows_) {
        if (&other == &row) continue;
        const double c = other.of[entering];
        if (c == 0) continue;
        other.value -= c * row.value;
        for (std::size_t k = 0; k < other.of.size(); ++k)
            other.of[k] = k == entering ? -c * row.of[k] : other.of[k] - c * row.of[k];
    }
}

bool Feasible::contradicts(const Row& row, const std::vector<Condition>& conditions) const {
    // Sum of multiplier times (most - coefficients . z) and multiplier times z, all not below 0 where conditions are met.
    double constant = 0;
    std::vector<double> slope(static_cast<std::size_t>(variables_), 0);
    const auto take = [&](int variable, double multiplier) {
        if (multiplier <= 0) return;
        if (variable < variables_) {
            slope[static_cast<std::size_t>(variable)] += multiplier;
            return;
        }
        const Condition& c = conditions[static_cast<std::size_t>(variable - variables_)];
        constant += multiplier * c.most;
        for (std::size_t j = 0; j < slope.size(); ++j) slope[j] -= multiplier * c.coefficients[j];
    };
    take(row.variable, 1);
    for (std::size_t k = 0; k < nonbasic_.size(); ++k) take(nonbasic_[k], row.of[k]);
    double most = constant;  // of the sum, over the box of the variables
    for (std::size_t j = 0; j < slope.size(); ++j) most += std::fmax(slope[j], 0) * limits_[j];
    return most < -kContradiction;
}

std::vector<double> Feasible::point() const {
    std::vector<double> z(static_cast<std::size_t>(variables_), 0);
    for (const Row& row : rows_)
        if (row.variable < variables_) z[static_cast<std::size_t>(row.variable)] = row.value;
    return z;
}

}  // namespace spile::lay
