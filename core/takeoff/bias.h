// Bias binding cut from cloth.
#pragma once

#include "core/base/length.h"

namespace spile {

/// Length of strip of width `strip_mm` in a square of side `side_mm`, joined all round: s^2 / w.
double bias_from_square_mm(double side_mm, double strip_mm);

/// Side of the square that gives `length_mm` of strip: sqrt(L w), up to the next whole `step_mm`.
double square_for_bias_mm(double length_mm, double strip_mm, double step_mm);

/// What one join at 45 degrees takes from the length, for a seam allowance: 2 a sqrt 2.
double bias_join_mm(double allowance_mm);

/// Strips across a cloth at 45 degrees, each as long as the cloth's diagonal at that angle (width times sqrt 2), taking
/// strip * sqrt 2 of the selvedge each; the two corners at the ends are not counted on.
struct BiasFromCloth {
    int strips = 0;
    int joins = 0;
    double strip_length_mm = 0;
    double cloth_length_mm = 0;  ///< of the cloth to buy
};

/// Requires: positive widths, a join shorter than a strip.
BiasFromCloth bias_from_cloth(double length_mm, double cloth_width_mm, double strip_mm, double allowance_mm);

}  // namespace spile
