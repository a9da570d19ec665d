#include "core/takeoff/bias.h"

#include <cmath>

#include "core/base/check.h"
#include "core/layout/layout.h"

namespace spile {
namespace {

const double kRoot2 = std::sqrt(2.0);

}  // namespace

double bias_from_square_mm(double side_mm, double strip_mm) {
    SPILE_CHECK(strip_mm > 0);
    return side_mm * side_mm / strip_mm;
}

double square_for_bias_mm(double length_mm, double strip_mm, double step_mm) {
    const double side = std::sqrt(length_mm * strip_mm);
    return step_mm > 0 ? std::ceil((side - kPlacementRounding_mm) / step_mm) * step_mm : side;
}

double bias_join_mm(double allowance_mm) {
    return 2 * allowance_mm * kRoot2;
}

BiasFromCloth bias_from_cloth(double length_mm, double cloth_width_mm, double strip_mm, double allowance_mm) {
    SPILE_CHECK(cloth_width_mm > 0 && strip_mm > 0);
    BiasFromCloth made;
    if (length_mm <= 0) return made;
    made.strip_length_mm = cloth_width_mm * kRoot2;
    const double join = bias_join_mm(allowance_mm), gained = made.strip_length_mm - join;
    SPILE_CHECK(gained > 0);
    // n strips give n (strip - join) + join: one join fewer than strips.
    const double needed = std::ceil((length_mm - join - kPlacementRounding_mm) / gained);
    made.strips = needed < 1 ? 1 : static_cast<int>(needed);
    made.joins = made.strips - 1;
    made.cloth_length_mm = cloth_width_mm + made.strips * strip_mm * kRoot2;
    return made;
}

}  // namespace spile
