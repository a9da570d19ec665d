// The table of widths against FreeType reading the font that is built in.
#include <ft2build.h>
#include <gtest/gtest.h>

#include "core/paper/font_table.h"
#include "export/draw/fonts.h"
#include FT_FREETYPE_H

namespace spile {
namespace {

class Font {
  public:
    explicit Font(Weight weight) {
        const std::string_view bytes = font_bytes(weight);
        EXPECT_EQ(FT_Init_FreeType(&library_), 0);
        EXPECT_EQ(FT_New_Memory_Face(library_, reinterpret_cast<const FT_Byte*>(bytes.data()),
                                     static_cast<FT_Long>(bytes.size()), 0, &face_),
                  0);
    }
    ~Font() {
        FT_Done_Face(face_);
        FT_Done_FreeType(library_);
    }
    int advance(unsigned glyph) const {
        EXPECT_EQ(FT_Load_Glyph(face_, glyph, FT_LOAD_NO_SCALE), 0);
        return static_cast<int>(face_->glyph->metrics.horiAdvance);
    }
    unsigned glyph(unsigned code) const { return FT_Get_Char_Index(face_, code); }
    FT_Face face() const { return face_; }

  private:
    FT_Library library_ = nullptr;
    FT_Face face_ = nullptr;
};

class FontTableAgainstFreeType : public testing::TestWithParam<Weight> {};
INSTANTIATE_TEST_SUITE_P(Weights, FontTableAgainstFreeType,
                         testing::Values(Weight::regular, Weight::semibold));

TEST_P(FontTableAgainstFreeType, EveryCharacterHasItsGlyphAndAdvance) {
    const Font font(GetParam());
    const FontTable& table = font_table(GetParam());
    EXPECT_EQ(table.units_per_em, font.face()->units_per_EM);
    EXPECT_GE(table.ascender, font.face()->ascender);
    EXPECT_LE(table.descender, font.face()->descender);
    EXPECT_GT(table.character_count, 1400);
    for (int i = 0; i < table.character_count; ++i) {
        const FontCharacter& c = table.characters[i];
        if (c.code >= '0' && c.code <= '9') continue;
        ASSERT_EQ(c.glyph, font.glyph(c.code)) << c.code;
        ASSERT_EQ(c.advance, font.advance(c.glyph)) << c.code;
    }
}

TEST_P(FontTableAgainstFreeType, FiguresStandOnTheWidestOfTheTabularOnes) {
    const Font font(GetParam());
    const FontTable& table = font_table(GetParam());
    int widest = 0, narrowest = 1 << 20;
    for (int i = 0; i < table.character_count; ++i) {
        const FontCharacter& c = table.characters[i];
        if (c.code < '0' || c.code > '9') continue;
        EXPECT_NE(c.glyph, font.glyph(c.code)) << "not the tabular one";
        widest = std::max(widest, font.advance(c.glyph));
        narrowest = std::min(narrowest, font.advance(c.glyph));
    }
    EXPECT_LE(widest - narrowest, 3) << "of " << table.units_per_em;
    for (int i = 0; i < table.character_count; ++i) {
        const FontCharacter& c = table.characters[i];
        if (c.code >= '0' && c.code <= '9') {
            EXPECT_EQ(c.advance, widest);
        }
    }
}

TEST_P(FontTableAgainstFreeType, FractionsAreMadeOfTheFontsOwnGlyphs) {
    const Font font(GetParam());
    const FontTable& table = font_table(GetParam());
    EXPECT_EQ(table.fraction_slash.id, font.glyph(0x2044));
    EXPECT_EQ(table.fraction_slash.advance, font.advance(table.fraction_slash.id));
    EXPECT_EQ(table.unknown.advance, font.advance(0));
    for (int i = 0; i < 10; ++i) {
        EXPECT_EQ(table.numerator[i].advance, font.advance(table.numerator[i].id));
        EXPECT_EQ(table.denominator[i].advance, font.advance(table.denominator[i].id));
    }
    // After the rise a flat figure stands from the baseline, or reaches the height of capitals.
    ASSERT_EQ(FT_Load_Glyph(font.face(), table.denominator[4].id, FT_LOAD_NO_SCALE), 0);
    const FT_Glyph_Metrics lower = font.face()->glyph->metrics;
    EXPECT_EQ(lower.horiBearingY - lower.height + table.denominator_rise, 0);
    ASSERT_EQ(FT_Load_Glyph(font.face(), table.numerator[4].id, FT_LOAD_NO_SCALE), 0);
    EXPECT_EQ(font.face()->glyph->metrics.horiBearingY + table.numerator_rise, table.cap_height);
}

}  // namespace
}  // namespace spile
