// Reading text character by character.
#pragma once

#include <cstddef>
#include <string_view>

namespace spile {

inline constexpr char32_t replacement_character = 0xFFFD;

struct Utf8Character {
    char32_t code = replacement_character;
    std::size_t bytes = 1;
    bool well_formed = false;
};

/// The character that begins at byte `at`. Where there is no well-formed one (The Unicode Standard 15.0, table 3-7:
/// overlong, surrogate, cut off, beyond 10FFFF) a single byte stands for U+FFFD. Requires: at < text.size().
Utf8Character utf8_character(std::string_view text, std::size_t at);

}  // namespace spile
