// The shipped font as numbers: glyphs, advances and kerning. Only text_width.cpp and its tests look in here.
#pragma once

#include <cstdint>

#include "core/paper/display_list.h"

namespace spile {

struct FontGlyph {
    std::uint16_t id;      ///< in the font file
    std::int16_t advance;  ///< font units
};

struct FontCharacter {
    std::uint16_t code;  ///< Unicode
    std::uint16_t glyph;
    std::int16_t advance;     ///< font units
    std::uint8_t kern_left;   ///< class when it stands before another character; 0: never kerned
    std::uint8_t kern_right;  ///< class when it stands after one
};

struct KernPair {
    std::uint8_t left;
    std::uint8_t right;
    std::int16_t by;  ///< font units, added to the advance of the left one
};

struct FontTable {
    int units_per_em;
    int ascender, descender, cap_height, x_height;  ///< font units; as FontHeights says
    FontGlyph unknown;                              ///< .notdef, an upright box
    FontGlyph numerator[10];
    FontGlyph fraction_slash;
    FontGlyph denominator[10];
    int numerator_rise;               ///< font units, to bring its top to the height of capitals
    int denominator_rise;             ///< to bring its foot to the baseline
    const FontCharacter* characters;  ///< ascending by code; figures are the tabular ones
    int character_count;
    const KernPair* kerning;  ///< ascending by (left, right)
    int kern_count;
};

const FontTable& font_table(Weight weight);

}  // namespace spile
