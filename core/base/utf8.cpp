#include "core/base/utf8.h"

#include "core/base/check.h"

namespace spile {

Utf8Character utf8_character(std::string_view text, std::size_t at) {
    SPILE_CHECK(at < text.size());
    const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const unsigned lead = byte(at);
    if (lead < 0x80) return {static_cast<char32_t>(lead), 1, true};
    std::size_t count = 0;
    if (lead >= 0xC2 && lead < 0xE0) count = 2;
    if (lead >= 0xE0 && lead < 0xF0) count = 3;
    if (lead >= 0xF0 && lead < 0xF5) count = 4;
    if (count == 0 || at + count > text.size()) return {};

    char32_t code = lead & (0xFFu >> (count + 1));
    for (std::size_t i = 1; i < count; ++i) {
        if ((byte(at + i) & 0xC0) != 0x80) return {};
        code = (code << 6) | (byte(at + i) & 0x3Fu);
    }
    const bool overlong = (count == 3 && code < 0x800) || (count == 4 && code < 0x10000);
    const bool surrogate = code >= 0xD800 && code < 0xE000;
    if (overlong || surrogate || code > 0x10FFFF) return {};
    return {code, count, true};
}

}  // namespace spile
