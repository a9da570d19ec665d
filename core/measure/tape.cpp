#include "core/measure/tape.h"

#include <cmath>

namespace spile {

double permissible_error_mm(TapeClass tape_class, bool hook, double length_mm) {
    struct Row {
        double a, b, c;
    };
    constexpr Row rows[] = {{.1, .1, .1}, {.3, .2, .2}, {.6, .4, .3}};
    const Row& row = rows[static_cast<int>(tape_class)];
    const double metres = std::ceil(length_mm / 1000);
    return row.a + row.b * metres + (hook ? row.c : 0);
}

double distance_sd_mm(const TapeSettings& tape, double length_mm) {
    const double error = permissible_error_mm(tape.tape_class, tape.hook, length_mm);
    return std::sqrt(error * error / 3 + tape.reads_to_mm * tape.reads_to_mm / 12 +
                     tape.ends_sd_mm * tape.ends_sd_mm);
}

}  // namespace spile
