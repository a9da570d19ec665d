// Moving overlapping items apart inside a strip of fixed length.
#pragma once

#include <functional>
#include <vector>

#include "core/layout/solve/best_place.h"
#include "core/layout/solve/random.h"

namespace spile::lay {

/// How the overlap search is tuned; found by trial on the research instances, see docs/design/layout.md.
struct SeparateSettings {
    std::size_t candidates = 2;  ///< low places of the raster followed per item
    double size_power =
        0.5;  ///< a pair's overlap counts by its hull areas: (area a * area b) to the half of this
    float least_growth =
        1.2F;  ///< of the weight of a pair that overlaps, per pass: from least to most by its share
    float most_growth = 2.0F;  ///< of the worst overlap
    float decay = 0.95F;       ///< of the weight of a pair that does not
};

/// Guided local search over overlaps: items that overlap go, one at a time, to where their weighted depth is least; pairs
/// that stay stuck weigh more from pass to pass, those that came apart less.
/// Sources: guided local search on overlap, Egeblad, Nielsen and Odgaard 2007; Umetani and Murakami 2021; weights that
/// grow with the share of the worst overlap and overlaps that count by the size of the shapes, Gardeyn, Vanden Berghe and
/// Wauters 2025.
class Separator {
  public:
    /// `halt` answering true leaves everything as it stands, overlapping; it then goes on answering true. May be empty.
    Separator(const FieldTable& fields, const SeparateSettings& settings, std::function<bool()> halt);

    /// Takes a layout for a strip of that length: items are pushed inside it, all weights start afresh.
    void start(const Places& places, double length);
    /// Takes a layout of the same strip; weights stay.
    void put(const Places& places);

    /// One pass over the items that overlap, in random order, then new weights.
    void pass(Random& random);

    /// Sum of the depths of all pairs beyond the tolerance, larger pairs counting more; 0: all apart.
    double total() const { return total_; }
    const Places& places() const { return places_; }
    double length() const { return length_; }
    long tries() const { return tries_; }  ///< items looked at so far

  private:
    void turn_to_fit(std::size_t item, Place& p) const;
    float depth_of(std::size_t i, std::size_t j) const;
    void measure_row(std::size_t item);
    double weighted(std::size_t item) const;
    void reweigh();

    const FieldTable& fields_;
    SeparateSettings settings_;
    std::function<bool()> halt_;
    std::size_t n_;
    PlaceFinder finder_;
    Places places_;
    double length_ = 0;
    double total_ = 0;
    long tries_ = 0;
    std::vector<float> base_, depth_, weight_;  ///< n x n, symmetric
    std::vector<std::size_t> order_;
};

/// The hull area of an item's shape, square units.
double hull_area(const Problem& problem, int item);

}  // namespace spile::lay
