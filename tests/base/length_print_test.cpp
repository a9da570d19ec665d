// Lengths printed as a tape reads, and read back.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <string>

#include "core/base/length.h"
#include "core/base/running_length.h"

namespace spile {
namespace {

constexpr double kInch = 25.4;

LengthStyle inches(int denominator, bool with_unit = false, bool feet = false) {
    LengthStyle s;
    s.inch_denominator = denominator;
    s.with_unit = with_unit;
    s.feet = feet;
    return s;
}

LengthStyle mm(double step, bool with_unit = false) {
    LengthStyle s;
    s.unit = Unit::mm;
    s.mm_step = step;
    s.with_unit = with_unit;
    return s;
}

TEST(PrintLength, DefaultsAsDocumented) {
    const LengthStyle s;
    EXPECT_EQ(s.unit, Unit::inch);
    EXPECT_EQ(s.inch_denominator, 16);
    EXPECT_EQ(s.mm_step, 0.5);
    EXPECT_FALSE(s.with_unit);
    EXPECT_FALSE(s.feet);
}

TEST(PrintLength, Inches) {
    EXPECT_EQ(print_length(48.25 * kInch, {}).text, "48 1\u20444");
    EXPECT_EQ(plain_length(48.25 * kInch, {}), "48 1/4");
    EXPECT_EQ(plain_length(48 * kInch, {}), "48");
    EXPECT_EQ(plain_length(kInch / 16, {}), "1/16");
    EXPECT_EQ(plain_length(0, {}), "0");
    EXPECT_EQ(plain_length(-48.25 * kInch, {}), "-48 1/4");
    EXPECT_EQ(plain_length(63.25 * kInch, inches(16, true)), "63 1/4 in");
    EXPECT_EQ(plain_length(1607, inches(32)), "63 9/32");  // 1607 / 25.4 = 63.2677...
    EXPECT_EQ(plain_length(1607, inches(64)), "63 17/64");
    EXPECT_EQ(plain_length(1607, inches(1)), "63");
}

TEST(PrintLength, FeetFromTwentyFourInches) {
    EXPECT_EQ(plain_length(63.25 * kInch, inches(16, false, true)), "5' 3 1/4\"");
    EXPECT_EQ(plain_length(48.25 * kInch, inches(16, true, true)), "4' 0 1/4\"");
    EXPECT_EQ(plain_length(24 * kInch, inches(16, false, true)), "2' 0\"");
    EXPECT_EQ(plain_length(23.99 * kInch, inches(16, false, true)), "2' 0\"");
    EXPECT_EQ(plain_length(23.9375 * kInch, inches(16, true, true)), "23 15/16 in");
    EXPECT_EQ(plain_length(-63.25 * kInch, inches(16, false, true)), "-5' 3 1/4\"");
}

TEST(PrintLength, Millimetres) {
    EXPECT_EQ(plain_length(1607.26, mm(0.5)), "1607.5");
    EXPECT_EQ(plain_length(1607.24, mm(0.5)), "1607");
    EXPECT_EQ(plain_length(1607.26, mm(1, true)), "1607 mm");
    EXPECT_EQ(plain_length(1607.26, mm(0.1)), "1607.3");
    EXPECT_EQ(plain_length(0.04, mm(0.01)), "0.04");
    EXPECT_EQ(plain_length(-0.2, mm(0.5)), "0");
    EXPECT_EQ(plain_length(-0.5, mm(0.5)), "-0.5");
}

TEST(PrintLength, HalfwayGoesToTheEvenMark) {
    for (int mark = 0; mark < 4000; ++mark) {
        const double half =
            (mark + 0.5) * kInch / 16;  // not exact in binary: within noise it is still halfway
        const int even = mark % 2 == 0 ? mark : mark + 1;
        EXPECT_EQ(print_length(half, {}).printed_mm, static_cast<double>(even * 127) / 80) << mark;
        EXPECT_EQ(print_length(-half, {}).printed_mm, -static_cast<double>(even * 127) / 80) << mark;
    }
    EXPECT_EQ(plain_length(1607.25, mm(0.5)), "1607");
    EXPECT_EQ(plain_length(1607.75, mm(0.5)), "1608");
}

TEST(PrintLength, SaysWhenItRounded) {
    EXPECT_FALSE(print_length(48.25 * kInch, {}).rounded);
    EXPECT_TRUE(print_length(1607, {}).rounded);
    EXPECT_FALSE(print_length(1607, mm(0.5)).rounded);
    EXPECT_TRUE(print_length(1607.001, mm(0.5)).rounded);
    // What adding and taking away in doubles leaves behind is not rounding.
    EXPECT_FALSE(print_length(48.25 * kInch + 1e-12, {}).rounded);
    EXPECT_FALSE(print_length(0.1 + 0.2, mm(0.1)).rounded);
    EXPECT_TRUE(print_length(48.25 * kInch + 1e-9, {}).rounded);
}

TEST(PrintLength, NeverFurtherThanHalfAMark) {
    std::uint64_t state = 7;  // seed
    for (int i = 0; i < 20000; ++i) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        const double length = static_cast<double>(state >> 33) / 4e5 - 2000;
        for (const LengthStyle& s :
             {inches(16), inches(32), inches(64), inches(16, true, true), mm(0.5), mm(0.1, true)}) {
            const double step = s.unit == Unit::inch ? kInch / s.inch_denominator : s.mm_step;
            EXPECT_LE(std::fabs(print_length(length, s).printed_mm - length), step / 2 + 1e-10);
        }
    }
}

// parse(print(x)) is exactly what print said it printed, and printing that again changes nothing.
TEST(PrintLength, ReadsBackWhatItPrinted) {
    std::uint64_t state = 11;  // seed
    for (int i = 0; i < 20000; ++i) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        const double size =
            std::ldexp(static_cast<double>(state >> 40) / (1 << 24), static_cast<int>(state >> 35) % 20);
        const double length = state % 5 == 0 ? -size : size;
        for (const LengthStyle& s : {inches(16), inches(32, true), inches(64, true, true), inches(1), mm(0.5),
                                     mm(1, true), mm(0.1), mm(0.001)}) {
            const PrintedLength out = print_length(length, s);
            for (const std::string& text : {out.text, plain_length(length, s)}) {
                const Result<TypedLength> back = parse_length(text, s.unit, true);
                ASSERT_TRUE(back) << text;
                EXPECT_EQ(back->mm(), out.printed_mm) << text;
                EXPECT_EQ(back->unit, s.unit);
            }
            const PrintedLength again = print_length(out.printed_mm, s);
            EXPECT_EQ(again.text, out.text);
            EXPECT_FALSE(again.rounded);
        }
    }
}

TEST(PrintLength, SixtyFourthsAreExactBothWays) {
    for (std::int64_t n = 0; n < 64 * 200; ++n) {
        const ExactLength exact =
            parse_length(plain_length(static_cast<double>(n * 127) / 320, inches(64)), Unit::inch)->value;
        EXPECT_EQ(exact.num * 320, n * 127 * exact.den);
    }
}

TEST(RunningLength, IsOrderedInYardsOrMetresAndNeverShort) {
    EXPECT_EQ(running_length(108 * kInch, {}), "3 yd");
    EXPECT_EQ(running_length(90 * kInch, {}), "2.5 yd");
    EXPECT_EQ(running_length(137.0625 * kInch, {}), "3.81 yd");  // 3.8073
    EXPECT_EQ(running_length(108.01 * kInch, {}), "3.01 yd");
    EXPECT_EQ(running_length(36 * kInch, {}), "1 yd");
    EXPECT_EQ(running_length(35.5 * kInch, {}), "35 1/2 in");
    LengthStyle mm;
    mm.unit = Unit::mm;
    EXPECT_EQ(running_length(2500, mm), "2.5 m");
    EXPECT_EQ(running_length(12031, mm), "12.04 m");
    EXPECT_EQ(running_length(999, mm), "999 mm");
}

TEST(PrintLengthDeathTest, OnlyFiniteLengthsAndRealTapes) {
    EXPECT_DEATH(print_length(std::numeric_limits<double>::quiet_NaN(), {}), "a fault in the program");
    EXPECT_DEATH(print_length(std::numeric_limits<double>::infinity(), {}), "a fault in the program");
    EXPECT_DEATH(print_length(1, inches(10)), "a fault in the program");
}

TEST(UnitName, Words) {
    EXPECT_STREQ(unit_name(Unit::inch), "in");
    EXPECT_STREQ(unit_name(Unit::mm), "mm");
}

}  // namespace
}  // namespace spile
