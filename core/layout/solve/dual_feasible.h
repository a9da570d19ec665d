// Functions that keep what fits together fitting: the arithmetic of bounds on rectangles.
#pragma once

#include <cstdint>
#include <vector>

namespace spile::lay {

/// A dual feasible function on sizes along a room of `whole` units: whatever sizes add up to no more than the room, their
/// shares add up to no more than 1. It never falls as the size grows.
/// Guarantee (Fekete and Schepers 2004): rectangles that lie in a room without overlapping have products of their shares both ways
/// that add up to no more than 1.
/// Sources: steps and ends, Fekete and Schepers 2004; multiples, Carlier, Clautiaux and Moukrim 2007.
class DualFeasible {
  public:
    enum class Kind {
        steps,  ///< by the k + 1 parts of the room it is larger than; whole parts as they are
        ends,  ///< sizes below the least count for nothing, those that leave less than it beside them for all
        multiples,  ///< sizes below half the room in whole multiples, those above by the multiples they leave
    };

    /// Requires: whole >= 2; `of` (k, the least, the multiple) from 1, for ends and multiples to half the room.
    DualFeasible(Kind kind, std::int64_t whole, std::int64_t of) : kind_(kind), whole_(whole), of_(of) {}

    /// Requires: 0 <= size <= whole < 2^40. Error: below 1e-15.
    double share(std::int64_t size) const;
    Kind kind() const { return kind_; }
    std::int64_t of() const { return of_; }

  private:
    Kind kind_;
    std::int64_t whole_, of_;
};

/// Of each kind those that tell these sizes apart, `most` in all at most, the same for the same input.
std::vector<DualFeasible> dual_feasible_for(std::int64_t whole, std::vector<std::int64_t> sizes,
                                            std::size_t most);

}  // namespace spile::lay
