// Printing lengths to the nearest mark of a tape.
#include <cmath>
#include <limits>

#include "core/base/check.h"
#include "core/base/length.h"

namespace spile {
namespace {

constexpr double kLargestPrinted_mm = 1e15;

/// What double arithmetic may disturb in a length: 64 ulp, of a metre at least, since lengths come out of
/// coordinates.
double noise(double largest) {
    return 64 * std::numeric_limits<double>::epsilon() * std::fmax(std::fabs(largest), 1000.0);
}

/// The nearest whole number of marks; within noise of halfway, the even one.
std::int64_t nearest_mark(double marks) {
    const double below = std::floor(marks);
    const double past_half = marks - below - 0.5;
    const auto low = static_cast<std::int64_t>(below);
    if (std::fabs(past_half) <= noise(marks)) return low % 2 == 0 ? low : low + 1;
    return past_half < 0 ? low : low + 1;
}

struct Slash {
    const char* utf8;
};
constexpr Slash kFractionSlash{"\u2044"};
constexpr Slash kPlainSlash{"/"};

/// `marks` of 1/denominator, as "48 1/4", "48" or "0"; a fraction alone as "1/4", or "0 1/4" when `zero` is
/// wanted.
std::string mixed_number(std::int64_t marks, std::int64_t denominator, Slash slash, bool zero) {
    const std::int64_t whole = marks / denominator;
    std::int64_t over = marks % denominator;
    while (over != 0 && over % 2 == 0) {
        over /= 2;
        denominator /= 2;
    }
    if (over == 0) return std::to_string(whole);
    const std::string fraction = std::to_string(over) + slash.utf8 + std::to_string(denominator);
    return whole == 0 && !zero ? fraction : std::to_string(whole) + ' ' + fraction;
}

PrintedLength print_inches(double mm, const LengthStyle& style, Slash slash) {
    const int den = style.inch_denominator;
    SPILE_CHECK(den >= 1 && den <= 64 && (den & (den - 1)) == 0);
    const std::int64_t marks = nearest_mark(mm * den / 25.4);
    const std::int64_t size = marks < 0 ? -marks : marks;
    PrintedLength out;
    out.printed_mm = static_cast<double>(marks * 127) / static_cast<double>(5 * den);
    if (marks < 0) out.text = "-";
    const std::int64_t foot = 12 * static_cast<std::int64_t>(den);
    if (style.feet && size >= 2 * foot) {
        out.text += std::to_string(size / foot) + "' " + mixed_number(size % foot, den, slash, true) + '"';
    } else {
        out.text += mixed_number(size, den, slash, false);
        if (style.with_unit) out.text += " in";
    }
    return out;
}

PrintedLength print_mm(double mm, const LengthStyle& style) {
    const auto step_um = static_cast<std::int64_t>(std::llround(style.mm_step * 1000));
    SPILE_CHECK(step_um > 0);
    const std::int64_t um = nearest_mark(mm * 1000 / static_cast<double>(step_um)) * step_um;
    const std::int64_t size = um < 0 ? -um : um;
    PrintedLength out;
    out.printed_mm = static_cast<double>(um) / 1000;
    if (um < 0) out.text = "-";
    out.text += std::to_string(size / 1000);
    if (size % 1000 != 0) {
        std::string decimals = std::to_string(1000 + size % 1000).substr(1);
        decimals.erase(decimals.find_last_not_of('0') + 1);
        out.text += '.' + decimals;
    }
    if (style.with_unit) out.text += " mm";
    return out;
}

PrintedLength print_with(double mm, const LengthStyle& style, Slash slash) {
    SPILE_CHECK(std::fabs(mm) < kLargestPrinted_mm);
    PrintedLength out = style.unit == Unit::inch ? print_inches(mm, style, slash) : print_mm(mm, style);
    out.rounded = std::fabs(out.printed_mm - mm) > noise(mm);
    return out;
}

}  // namespace

const char* unit_name(Unit unit) {
    return unit == Unit::inch ? "in" : "mm";
}

PrintedLength print_length(double mm, const LengthStyle& style) {
    return print_with(mm, style, kFractionSlash);
}

std::string plain_length(double mm, const LengthStyle& style) {
    return print_with(mm, style, kPlainSlash).text;
}

}  // namespace spile
