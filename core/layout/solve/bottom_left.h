// Bottom-left: each item in turn to the first place along the strip that is free.
#pragma once

#include <functional>
#include <vector>

#include "core/layout/solve/problem.h"

namespace spile::lay {

/// Places items in the order given, each at the least x (and there the least y) found, then slid left and down until it
/// rests against others. Items in `kept` stay where they are.
/// Method: free places across the strip are read off the no-fit polygons along lines x = const (cf. Chehrazad, Roose and
/// Wauters 2022, who hold the shapes themselves as such lines); between lines by halving and sliding.
/// An item of a cloth goes to the first free place of the lattice that the first placed item of its cloth began.
/// Guarantees: legal for the table's shapes. Returns empty when `stop` answers true, or an item of a cloth has no place of
/// its lattice across the strip.
/// Requires: every item fits the width in one of its shapes.
Spots bottom_left(const FitTable& table, const std::vector<int>& order, const Spots& kept,
                  const std::vector<char>& is_kept, const std::function<bool()>& stop);
Spots bottom_left(const FitTable& table, const std::vector<int>& order, const std::function<bool()>& stop);

/// Item orders worth trying first: by length, area, width, girth, longest first.
std::vector<std::vector<int>> usual_orders(const Problem& problem);

}  // namespace spile::lay
