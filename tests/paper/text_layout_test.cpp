#include "core/paper/text_layout.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>

#include "core/paper/font_table.h"

namespace spile {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const std::string slash = "\u2044";
constexpr double rounding_em = 1e-12;  // of a sum of some fifty whole numbers over 2816

std::vector<int> glyphs_of(const std::string& utf8, Weight weight = Weight::regular) {
    std::vector<int> glyphs;
    for (const PlacedGlyph& g : lay_out(utf8, weight).glyphs) glyphs.push_back(g.glyph);
    return glyphs;
}

int plain_glyph(char c) {
    return glyphs_of(std::string(1, c)).at(0);
}

TEST(TextLayout, EmptyTextHasNoGlyphsAndNoWidth) {
    EXPECT_THAT(lay_out("", Weight::regular).glyphs, IsEmpty());
    EXPECT_EQ(text_width_mm("", 4, Weight::semibold), 0);
}

TEST(TextLayout, GlyphsFollowOneAnotherAndEndAtTheWidth) {
    for (const Weight weight : {Weight::regular, Weight::semibold}) {
        const LaidOutText set = lay_out("AVATAR To Ty. 48 1" + slash + "4, Łódź", weight);
        double x = 0;
        std::uint32_t byte = 0;
        for (const PlacedGlyph& g : set.glyphs) {
            EXPECT_NEAR(g.x_em, x, rounding_em);
            EXPECT_EQ(g.first_byte, byte);
            x += g.advance_em;
            byte += g.byte_count;
        }
        EXPECT_NEAR(set.width_em, x, rounding_em);
        EXPECT_EQ(byte, set.utf8.size());
        EXPECT_THAT(set.unknown, IsEmpty());
    }
}

TEST(TextLayout, FiguresAreTabular) {
    for (const Weight weight : {Weight::regular, Weight::semibold})
        for (char figure = '0'; figure <= '9'; ++figure)
            EXPECT_EQ(text_width_mm(std::string(3, figure), 10, weight), text_width_mm("000", 10, weight));
}

// Advances and kerning of Inter Regular 3.19 read with fontTools: A 1904, V 1904, AV -192; T 1808, y 1568, Ty
// -176.
TEST(TextLayout, PairsAreKerned) {
    EXPECT_DOUBLE_EQ(lay_out("AV", Weight::regular).width_em, (1904 + 1904 - 192) / 2816.0);
    EXPECT_DOUBLE_EQ(lay_out("Ty", Weight::regular).width_em, (1808 + 1568 - 176) / 2816.0);
}

TEST(TextLayout, FiguresAboutAFractionSlashAreOneFraction) {
    const FontTable& font = font_table(Weight::regular);
    EXPECT_THAT(glyphs_of("15" + slash + "16"),
                ElementsAre(font.numerator[1].id, font.numerator[5].id, font.fraction_slash.id,
                            font.denominator[1].id, font.denominator[6].id));
    EXPECT_THAT(glyphs_of("48 1" + slash + "4"),
                ElementsAre(plain_glyph('4'), plain_glyph('8'), plain_glyph(' '), font.numerator[1].id,
                            font.fraction_slash.id, font.denominator[4].id));
}

TEST(TextLayout, AFractionStandsBetweenBaselineAndCapitals) {
    const LaidOutText set = lay_out("4" + slash + "4", Weight::regular);
    EXPECT_LT(set.glyphs[0].rise_em, 0);
    EXPECT_EQ(set.glyphs[1].rise_em, 0);
    EXPECT_GT(set.glyphs[2].rise_em, 0);
}

TEST(TextLayout, TheSpaceBeforeAFractionIsNarrowOnlyAfterAFigure) {
    const auto space = [](const std::string& utf8, std::size_t at) {
        return lay_out(utf8, Weight::regular).glyphs.at(at).advance_em;
    };
    const double narrow = 450 / 2816.0;  // narrow_space_em in whole units of the font
    EXPECT_NEAR(space("48 1" + slash + "4", 2), narrow, rounding_em);
    EXPECT_GT(space("by 1" + slash + "4", 2), 1.5 * narrow);
    EXPECT_GT(space("48 1/4", 2), 1.5 * narrow);
    EXPECT_GT(space("48 14", 2), 1.5 * narrow);
}

TEST(TextLayout, ASlashWithoutFiguresOnBothSidesIsNoFraction) {
    for (const std::string& utf8 : {"1" + slash, slash + "4", "a" + slash + "4", "1" + slash + "b"})
        for (const PlacedGlyph& g : lay_out(utf8, Weight::regular).glyphs) EXPECT_EQ(g.rise_em, 0) << utf8;
    EXPECT_EQ(glyphs_of("1/4").front(), plain_glyph('1'));
}

TEST(TextLayout, AChainOfSlashesUsesEachFigureOnce) {
    const FontTable& font = font_table(Weight::regular);
    EXPECT_THAT(glyphs_of("1" + slash + "2" + slash + "3"),
                ElementsAre(font.numerator[1].id, font.fraction_slash.id, font.denominator[2].id,
                            font.fraction_slash.id, plain_glyph('3')));
}

TEST(TextLayout, WhatTheFontLacksIsABoxAndIsNamedOnce) {
    const LaidOutText set = lay_out("漢字 漢 A", Weight::regular);
    EXPECT_EQ(set.glyphs[0].glyph, 0);
    EXPECT_GT(set.glyphs[0].advance_em, 0);
    EXPECT_THAT(set.unknown, ElementsAre("漢", "字"));
}

// Ill-formed sequences of The Unicode Standard 15.0, section 3.9: overlong, surrogate, cut off, beyond
// 10FFFF.
TEST(TextLayout, BytesThatAreNoUtf8BecomeReplacements) {
    const std::string r = "\uFFFD";
    EXPECT_EQ(lay_out("a\xFFz", Weight::regular).utf8, "a" + r + "z");
    EXPECT_EQ(lay_out("\xC0\xAF", Weight::regular).utf8, r + r);
    EXPECT_EQ(lay_out("\xED\xA0\x80", Weight::regular).utf8, r + r + r);
    EXPECT_EQ(lay_out("\xF4\x90\x80\x80", Weight::regular).utf8, r + r + r + r);
    EXPECT_EQ(lay_out("\xE2\x81", Weight::regular).utf8, r + r);
    EXPECT_EQ(lay_out("\xF0\x9F\x98\x80", Weight::regular).utf8, "\xF0\x9F\x98\x80");
    EXPECT_EQ(lay_out("tab\tline\n\x7F", Weight::regular).utf8, "tab line  ");
    EXPECT_EQ(lay_out(std::string("nul\0", 4), Weight::regular).utf8, "nul ");
}

TEST(TextLayout, EveryLetterTheExamplesOfTheTradeNeedIsThere) {
    EXPECT_THAT(
        lay_out("ÆØÅ æøå Łódź ĐÞß ŞşĞğ Πειραιάς Мурманск Đà Nẵng – — ‘’“” ′ ″ × − ± ° → ← ↑ ↓ □ ✓ € £ ½ ¼ ¾",
                Weight::semibold)
            .unknown,
        IsEmpty());
}

TEST(TextBox, StandsFromDescenderToAscenderAtTheAnchor) {
    const FontHeights heights = font_heights();
    Text text;
    text.at_mm = {100, 50};
    text.utf8 = "Bow";
    text.size_mm = 10;
    const double width = text_width_mm("Bow", 10, Weight::regular);

    Box box = text_box_mm(text);
    EXPECT_DOUBLE_EQ(box.min.x, 100);
    EXPECT_DOUBLE_EQ(box.max.x, 100 + width);
    EXPECT_DOUBLE_EQ(box.min.y, 50 - 10 * heights.ascender);
    EXPECT_DOUBLE_EQ(box.max.y, 50 - 10 * heights.descender);

    text.anchor = Anchor::middle;
    EXPECT_DOUBLE_EQ(text_box_mm(text).min.x, 100 - width / 2);
    text.anchor = Anchor::end;
    EXPECT_DOUBLE_EQ(text_box_mm(text).max.x, 100);
}

TEST(TextBox, TurnsCounterClockwiseAsSeen) {
    const FontHeights heights = font_heights();
    Text text;
    text.utf8 = "Bow";
    text.size_mm = 10;
    text.angle_deg = 90;  // reads upwards: y down, so towards smaller y; its ascenders to the left
    const double width = text_width_mm("Bow", 10, Weight::regular);
    const Box box = text_box_mm(text);
    EXPECT_DOUBLE_EQ(box.min.y, -width);
    EXPECT_DOUBLE_EQ(box.max.y, 0);
    EXPECT_DOUBLE_EQ(box.min.x, -10 * heights.ascender);
    EXPECT_DOUBLE_EQ(box.max.x, -10 * heights.descender);
    EXPECT_EQ(text_direction(-270), text_direction(90));
    EXPECT_EQ(text_direction(720), (Vec2{1, 0}));
}

std::string contents(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

TEST(FontTable, IsSortedForSearching) {
    for (const Weight weight : {Weight::regular, Weight::semibold}) {
        const FontTable& font = font_table(weight);
        for (int i = 1; i < font.character_count; ++i)
            ASSERT_LT(font.characters[i - 1].code, font.characters[i].code);
        for (int i = 1; i < font.kern_count; ++i)
            ASSERT_LT(font.kerning[i - 1].left * 256 + font.kerning[i - 1].right,
                      font.kerning[i].left * 256 + font.kerning[i].right);
    }
}

TEST(FontTable, IsWhatTheGeneratorWrites) {
    if (std::system("/usr/bin/python3 -c 'import fontTools' 2>/dev/null") != 0)
        GTEST_SKIP() << "no python3-fonttools";
    const std::string source = SPILE_SOURCE_DIR;
    const std::string again = std::string(SPILE_BINARY_DIR) + "/font_table_again.cpp";
    ASSERT_EQ(
        std::system(
            ("/usr/bin/python3 '" + source + "/tools/make_font_table.py' --out '" + again + "'").c_str()),
        0);
    EXPECT_TRUE(contents(again) == contents(source + "/core/paper/font_table.cpp"))
        << "run tools/make_font_table.py and commit what it writes";
}

}  // namespace
}  // namespace spile
