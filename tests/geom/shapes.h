// Shapes and second opinions for the tests of geom: own seeded generator, plain polygon arithmetic.
#pragma once

#include <cstdint>
#include <vector>

#include "core/geom/outline.h"

namespace spile::test {

/// SplitMix64 (S. Vigna, public domain algorithm): the same numbers on every machine.
class Random {
  public:
    explicit Random(std::uint64_t seed) : state_(seed) {}
    std::uint64_t next();
    double unit() { return static_cast<double>(next() >> 11) * 0x1p-53; }
    double between(double low, double high) { return low + (high - low) * unit(); }
    double log_between(double low, double high);  ///< log-uniform
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(next() % n); }
    double sign() { return next() & 1 ? 1.0 : -1.0; }
    bool chance(double p) { return unit() < p; }

  private:
    std::uint64_t state_;
};

/// Simple counter-clockwise outline, star-shaped about the origin, of n corners between 0.4 and 1 `size` away; about
/// half its edges are arcs, shallow enough to stay simple.
Outline star(Random& random, std::size_t n, double size);

/// Round-ended bar of length `length` between the centres along x from `from`.
Outline slot(Vec2 from, double length, double radius);

double polygon_area(const std::vector<Vec2>& points);
int winding(const std::vector<Vec2>& points, Vec2 p);

}  // namespace spile::test
