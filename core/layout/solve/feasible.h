// Is there a point that meets some linear conditions? A small simplex tableau that conditions are added to one by one.
#pragma once

#include <vector>

namespace spile::lay {

/// coefficients . z <= most
struct Condition {
    std::vector<double> coefficients;
    double most = 0;
};

/// Variables from 0 to a limit each. Copied from a node of a search tree to its children.
class Feasible {
  public:
    enum class Answer { yes, no, unknown };

    /// `conditions` outlives it and holds, in their order, those that were added; first of all the limits of the variables.
    explicit Feasible(const std::vector<double>& limits);

    void add(const Condition& condition);

    /// Dual simplex from the tableau as it stands. `no` only with a certificate that holds on `conditions` as they were
    /// written: multipliers not below 0 of which the contradiction is at least 1e-6 in the unit of the conditions.
    Answer solve(const std::vector<Condition>& conditions);

    /// After `yes`: the point, within 1e-7 of every condition with coefficients of unit length.
    std::vector<double> point() const;

  private:
    struct Row {
        int variable;  ///< basic: below variables_ one of z, from there on the slack of a condition
        double value;
        std::vector<double> of;  ///< variable + of . nonbasic = value
    };
    void pivot(std::size_t row, std::size_t column);
    bool contradicts(const Row& row, const std::vector<Condition>& conditions) const;

    int variables_ = 0, added_ = 0;
    std::vector<double> limits_;
    std::vector<int> nonbasic_;
    std::vector<Row> rows_;
};

}  // namespace spile::lay
