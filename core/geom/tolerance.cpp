#include "core/geom/tolerance.h"

#include <cmath>

namespace spile {

double noise_mm(double largest_coordinate_mm) {
    return 64 * 0x1p-52 * std::fabs(largest_coordinate_mm);
}

double noise_mm(const Box& box) {
    if (box.empty()) return 0;
    return noise_mm(std::fmax(std::fmax(std::fabs(box.min.x), std::fabs(box.min.y)),
                              std::fmax(std::fabs(box.max.x), std::fabs(box.max.y))));
}

}  // namespace spile
