#include "core/measure/tape.h"

#include <gtest/gtest.h>

#include <cmath>

namespace spile {
namespace {

// Directive 2014/32/EU Annex X (MI-008), as in UK SI 2016/1153 Sch. 1I: +-(a + b L), L rounded up to the next whole metre,
// plus c when one end is a surface. Worked values computed from the table.
TEST(Tape, PermissibleErrorOfTheDirective) {
    const struct {
        double length_mm, marks, hook;
    } class_two[] = {{500, .5, .7}, {2400, .9, 1.1}, {5000, 1.3, 1.5}, {7500, 1.9, 2.1}};
    for (const auto& row : class_two) {
        EXPECT_NEAR(permissible_error_mm(TapeClass::II, false, row.length_mm), row.marks, 1e-12);
        EXPECT_NEAR(permissible_error_mm(TapeClass::II, true, row.length_mm), row.hook, 1e-12);
    }
    EXPECT_NEAR(permissible_error_mm(TapeClass::I, false, 3001), .1 + .4, 1e-12);
    EXPECT_NEAR(permissible_error_mm(TapeClass::I, true, 3000), .1 + .3 + .1, 1e-12);
    EXPECT_NEAR(permissible_error_mm(TapeClass::III, false, 3001), .6 + 1.6, 1e-12);
    EXPECT_NEAR(permissible_error_mm(TapeClass::III, true, 999), .6 + .4 + .3, 1e-12);
}

TEST(Tape, StandardDeviationAddsTheThreeDoubts) {
    TapeSettings tape;  // the documented defaults
    EXPECT_EQ(tape.tape_class, TapeClass::II);
    EXPECT_FALSE(tape.hook);
    EXPECT_EQ(tape.reads_to_mm, 25.4 / 16);
    EXPECT_EQ(tape.ends_sd_mm, 0.7);
    EXPECT_EQ(tape.square_sd_rad, 0.0087);
    EXPECT_EQ(tape.line_sd_mm, 1.0);
    // 2.4 m, class II: permissible error .9 mm over sqrt 3, step over sqrt 12, ends .7 mm.
    EXPECT_NEAR(distance_sd_mm(tape, 2400), std::sqrt(.27 + 25.4 * 25.4 / 256 / 12 + .49), 1e-12);
}

}  // namespace
}  // namespace spile
