// The three tolerances of Spile and their names. There is no other epsilon.
#pragma once

#include "core/geom/vec2.h"

namespace spile {

/// Noise: what double arithmetic itself may disturb for coordinates of this size. Derived per call from the largest
/// coordinate in play: 64 ulp. A boat of 20 m gives about 3e-10 mm.
double noise_mm(double largest_coordinate_mm);
double noise_mm(const Box& box);

/// Resolution: how far a flattened curve may depart from the true arc, mm, when an algorithm needs polygons.
struct Resolution {
    double mm = 0.01;
};

/// Allowance: what the workshop accepts, mm (chalk line, knife). Always a setting, never a constant of the geometry.
struct Allowance {
    double mm = 0;
};

}  // namespace spile
