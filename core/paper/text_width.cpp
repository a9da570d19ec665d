// Setting a line of text from the table of the shipped font.
#include <algorithm>
#include <cmath>

#include "core/base/utf8.h"
#include "core/paper/font_table.h"
#include "core/paper/text_layout.h"

namespace spile {
namespace {

constexpr char32_t fraction_slash = 0x2044;

struct Character {
    char32_t code = 0;
    std::uint32_t first_byte = 0;
    std::uint32_t byte_count = 0;
};

std::vector<Character> characters_of(const std::string& given, std::string& cleaned) {
    std::vector<Character> characters;
    for (std::size_t at = 0; at < given.size();) {
        const Utf8Character read = utf8_character(given, at);
        Character c{read.code, static_cast<std::uint32_t>(cleaned.size()), 0};
        if (!read.well_formed) {
            cleaned += "\uFFFD";
        } else if (c.code < 0x20 || (c.code >= 0x7F && c.code < 0xA0)) {
            c.code = ' ';
            cleaned += ' ';
        } else {
            cleaned.append(given, at, read.bytes);
        }
        c.byte_count = static_cast<std::uint32_t>(cleaned.size()) - c.first_byte;
        characters.push_back(c);
        at += read.bytes;
    }
    return characters;
}

bool is_figure(char32_t code) {
    return code >= '0' && code <= '9';
}

std::vector<FractionPart> parts_of(const std::vector<Character>& text) {
    std::vector<FractionPart> parts(text.size(), FractionPart::none);
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i].code != fraction_slash) continue;
        std::size_t first = i;
        while (first > 0 && is_figure(text[first - 1].code) && parts[first - 1] == FractionPart::none)
            --first;
        std::size_t end = i + 1;
        while (end < text.size() && is_figure(text[end].code)) ++end;
        if (first == i || end == i + 1) continue;
        std::fill(parts.begin() + first, parts.begin() + i, FractionPart::numerator);
        parts[i] = FractionPart::slash;
        std::fill(parts.begin() + i + 1, parts.begin() + end, FractionPart::denominator);
    }
    return parts;
}

const FontCharacter* find(const FontTable& font, char32_t code) {
    const FontCharacter* end = font.characters + font.character_count;
    const FontCharacter* at = std::lower_bound(
        font.characters, end, code, [](const FontCharacter& c, char32_t wanted) { return c.code < wanted; });
    return at != end && at->code == code ? at : nullptr;
}

int kerning(const FontTable& font, const FontCharacter* left, const FontCharacter* right) {
    if (!left || !right || left->kern_left == 0 || right->kern_right == 0) return 0;
    const int wanted = left->kern_left * 256 + right->kern_right;
    const KernPair* end = font.kerning + font.kern_count;
    const KernPair* at = std::lower_bound(font.kerning, end, wanted, [](const KernPair& pair, int key) {
        return pair.left * 256 + pair.right < key;
    });
    return at != end && at->left * 256 + at->right == wanted ? at->by : 0;
}

/// What stands for one character, in font units.
struct Drawn {
    FontGlyph glyph;
    int rise = 0;
    const FontCharacter* kerned = nullptr;  ///< null: not kerned with its neighbours
};

Drawn drawn_as(const FontTable& font, char32_t code, FractionPart part) {
    switch (part) {
        case FractionPart::numerator:
            return {font.numerator[code - '0'], font.numerator_rise};
        case FractionPart::slash:
            return {font.fraction_slash};
        case FractionPart::denominator:
            return {font.denominator[code - '0'], font.denominator_rise};
        case FractionPart::none:
            break;
    }
    const FontCharacter* character = find(font, code);
    if (!character) return {font.unknown};
    return {{character->glyph, character->advance}, 0, character};
}

}  // namespace

LaidOutText lay_out(const std::string& utf8, Weight weight) {
    const FontTable& font = font_table(weight);
    const auto em = [&](int units) { return static_cast<double>(units) / font.units_per_em; };
    const int narrow_space = static_cast<int>(narrow_space_em * font.units_per_em);
    const int fraction_kern = static_cast<int>(fraction_kern_em * font.units_per_em);

    LaidOutText out;
    const std::vector<Character> text = characters_of(utf8, out.utf8);
    const std::vector<FractionPart> parts = parts_of(text);
    out.glyphs.reserve(text.size());

    int x = 0;  // font units: whole numbers, so that the sum is exact
    for (std::size_t i = 0; i < text.size(); ++i) {
        const Character& c = text[i];
        const bool last = i + 1 == text.size();
        const FractionPart next = last ? FractionPart::none : parts[i + 1];
        const Drawn drawn = drawn_as(font, c.code, parts[i]);
        int advance = drawn.glyph.advance;
        if (drawn.kerned && !last && next == FractionPart::none) {
            advance += kerning(font, drawn.kerned, find(font, text[i + 1].code));
        } else if (parts[i] == FractionPart::slash ||
                   (parts[i] == FractionPart::numerator && next == FractionPart::slash)) {
            advance -= fraction_kern;
        } else if (c.code == ' ' && next == FractionPart::numerator && i > 0 && is_figure(text[i - 1].code)) {
            advance = narrow_space;
        }
        out.glyphs.push_back(
            {drawn.glyph.id, em(x), em(drawn.rise), em(advance), c.first_byte, c.byte_count, parts[i]});
        x += advance;

        if (drawn.glyph.id == font.unknown.id) {
            const std::string character = out.utf8.substr(c.first_byte, c.byte_count);
            if (std::find(out.unknown.begin(), out.unknown.end(), character) == out.unknown.end())
                out.unknown.push_back(character);
        }
    }
    out.width_em = em(x);
    return out;
}

FontHeights font_heights() {
    const FontTable& font = font_table(Weight::regular);
    const auto em = [&](int units) { return static_cast<double>(units) / font.units_per_em; };
    return {em(font.ascender), em(font.descender), em(font.cap_height), em(font.x_height)};
}

double text_width_mm(const std::string& utf8, double size_mm, Weight weight) {
    return lay_out(utf8, weight).width_em * size_mm;
}

Box text_box_mm(const Text& text) {
    const double width = text_width_mm(text.utf8, text.size_mm, text.weight);
    const double start = text.anchor == Anchor::start    ? 0
                         : text.anchor == Anchor::middle ? -width / 2
                                                         : -width;
    const FontHeights heights = font_heights();
    const Vec2 along = text_direction(text.angle_deg);
    const Vec2 up = {along.y, -along.x};  // page space is y down
    Box box;
    for (const double x : {start, start + width})
        for (const double y : {heights.descender * text.size_mm, heights.ascender * text.size_mm})
            box.add(text.at_mm + x * along + y * up);
    return box;
}

Vec2 text_direction(double angle_deg) {
    // Quarter turns are exact, so that upright pages hold whole numbers.
    const double turned = angle_deg - 360 * std::floor(angle_deg / 360);
    if (turned == 0) return {1, 0};
    if (turned == 90) return {0, -1};
    if (turned == 180) return {-1, 0};
    if (turned == 270) return {0, 1};
    const double rad = turned * 3.14159265358979323846 / 180;
    return {std::cos(rad), -std::sin(rad)};
}

}  // namespace spile
