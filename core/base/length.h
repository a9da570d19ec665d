// Lengths: exact as typed, printed as a tape reads.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "core/base/result.h"

namespace spile {

/// Units a person may work in. Inside, every length is millimetres.
enum class Unit { inch, mm };

const char* unit_name(Unit unit);  ///< "in" or "mm"

/// An exact length: num/den millimetres in lowest terms, den > 0. 1 in = 127/5 mm.
struct ExactLength {
    std::int64_t num = 0;
    std::int64_t den = 1;

    double mm() const { return static_cast<double>(num) / static_cast<double>(den); }
    bool operator==(const ExactLength&) const = default;
};

/// A length as somebody wrote it, next to its value. `typed` is never changed.
struct TypedLength {
    std::string typed;
    ExactLength value;
    Unit unit = Unit::mm;  ///< the unit it was read in, by its own mark or by the default

    double mm() const { return value.mm(); }
};

/// Longer than this is no length of a boat or a roll but a slip of the pen.
constexpr std::int64_t kLongestLength_mm = 1000000;

/// Reads one length. Accepts feet-inches-fractions (`5' 3 1/4"`, `5 ft 3-1/4 in`), inches (`63 1/4`, `63.25`,
/// `63¼`), yards (`12 yd`), and `mm`, `cm`, `m` with a decimal point or comma. A number without a unit is in `default_unit`.
/// Negative lengths are refused unless `allow_negative`.
/// Guarantees: the value is exact (no binary rounding of what was typed).
/// On bad input: a stop with code "length-..." that names the character and how to write it. Ambiguous writing is
/// refused as a question: `3.10.1`, `5' 14"`, `51/4`, `1,607`, a fraction without a unit where lengths are in mm, a
/// fraction that no tape shows. So are more than 64 characters, more than `kLongestLength_mm` and more digits than
/// 64 bits hold exactly.
/// Source: HABS guideline s. 3.1.4 for why `3.10.1` is refused.
Result<TypedLength> parse_length(std::string_view text, Unit default_unit, bool allow_negative = false);

/// How lengths are printed.
struct LengthStyle {
    Unit unit = Unit::inch;
    int inch_denominator = 16;  ///< 16 or 32 (any power of two up to 64)
    double mm_step = 0.5;       ///< for Unit::mm; 0.5 or 1 or 0.1
    bool with_unit = false;     ///< append " in" / " mm"
    bool feet = false;          ///< inches of 24 and over as feet and inches
};

/// A printed length. `text` uses U+2044 between numerator and denominator ("48 1⁄4"), which fonts draw as one
/// fraction.
struct PrintedLength {
    std::string text;
    double printed_mm = 0;  ///< what the text says, exactly
    bool rounded = false;   ///< the text differs from the length by more than the noise of a double
};

/// Nearest mark, ties to even mark. Requires: `mm` finite.
PrintedLength print_length(double mm, const LengthStyle& style);

/// The same with an ASCII slash ("48 1/4"), for terminals, CSV and JSON.
std::string plain_length(double mm, const LengthStyle& style);

}  // namespace spile
