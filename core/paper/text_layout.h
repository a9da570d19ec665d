// How a text is set: glyph by glyph, from the table of the shipped font, the same for every renderer.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/paper/display_list.h"

namespace spile {

/// What a character is in a fraction such as 48 1/4 written with U+2044.
enum class FractionPart : std::uint8_t { none, numerator, slash, denominator };

/// One glyph of the shipped font of this weight, `x_em` to the right of the start of the text on its
/// baseline.
struct PlacedGlyph {
    std::uint16_t glyph = 0;  ///< index in the font file; 0 is the box for what the font lacks
    double x_em = 0;
    double rise_em = 0;     ///< above the baseline; 0 but for the figures of a fraction
    double advance_em = 0;  ///< with kerning; x_em + advance_em is where the next glyph stands
    std::uint32_t first_byte =
        0;  ///< the character it shows: LaidOutText::utf8.substr(first_byte, byte_count)
    std::uint32_t byte_count = 0;
    FractionPart part = FractionPart::none;
};

struct LaidOutText {
    std::string
        utf8;  ///< as given, with bytes that are no UTF-8 replaced by U+FFFD and control characters by spaces
    std::vector<PlacedGlyph> glyphs;  ///< one for each character, in the order of the text
    double width_em = 0;
    std::vector<std::string> unknown;  ///< characters the font lacks, once each, in order of appearance
};

/// Sets one line, left to right, in ems (1 em = Text::size_mm).
/// Guarantees:
/// 1. Figures are tabular; pairs are kerned as the font says.
/// 2. `figures U+2044 figures` is one fraction: small raised and lowered figures about a slash; the slash
/// alone, or
///    with a figure missing on a side, stays what it is. A space between a figure and a fraction is set
///    narrow
///    (`narrow_space_em`), so that 48 1/4 reads as one number.
/// 3. Every character of the text has a glyph: what the font lacks is a box and is named in `unknown`.
/// On bad input: never fails; see LaidOutText::utf8.
LaidOutText lay_out(const std::string& utf8, Weight weight);

/// No less: readers of PDF take a gap up to 0.15 em for no space at all, and would find 481/4 for 48 1/4.
inline constexpr double narrow_space_em = 0.16;
inline constexpr double fraction_kern_em =
    0.03;  ///< by which both figures of a fraction close up to its slash

/// Heights of the shipped font above (+) and below (-) the baseline, in ems; the same for both weights.
struct FontHeights {
    double ascender = 0;   ///< clears capitals with an accent, but not with two one above the other
    double descender = 0;  ///< negative; clears cedillas and commas below
    double capital = 0;    ///< also of figures
    double small = 0;      ///< x-height
};
FontHeights font_heights();

/// Unit vector along the baseline in page space (y down) of a text turned counter-clockwise as seen; quarter
/// turns exact.
Vec2 text_direction(double angle_deg);

}  // namespace spile
