// Moving overlapping items apart inside a strip of fixed length.
#pragma once

#include <functional>
#include <vector>

#include "core/layout/solve/best_place.h"
#include "core/layout/solve/random.h"

namespace spile::lay {

/// Guided local search over overlaps: items that overlap go, one at a time, to where their weighted depth is least; pairs
/// that stay stuck weigh more from pass to pass, those that came apart less.
/// Sources: guided local search on overlap, Egeblad, Nielsen and Odgaard 2007; Umetani and Murakami 2021; weights that
/// grow with the share of the worst overlap, Gardeyn, Vanden Berghe and Wauters 2025.
class Separator {
  public:
    explicit Separator(const FieldTable& fields);

    /// Takes a layout; all weights 1.
    void start(const Places& places, double length);

    /// One pass over the items that overlap, in random order, then new weights.
    void pass(Random& random);

    /// Sum of the depths of all pairs beyond the tolerance, units; 0: all apart.
    double total() const { return total_; }
    const Places& places() const { return places_; }
    double length() const { return length_; }
    void put(const Places& places);  ///< places from the same strip; weights stay
    void forget();                   ///< weights back to 1
    double overlap_of(std::size_t item) const;

    long moves = 0, tries = 0;

  private:
    void measure_row(std::size_t item);
    double weighted(std::size_t item) const;
    void reweigh();

    const FieldTable& fields_;
    std::size_t n_;
    double tolerance_;
    PlaceFinder finder_;
    Places places_;
    double length_ = 0;
    std::vector<double> depth_;  // n x n
    std::vector<float> weight_;  // n x n
    double total_ = 0;
    std::vector<std::size_t> order_;
};

}  // namespace spile::lay
