#include "export/dxf/dxf_text.h"

#include "core/base/utf8.h"

namespace spile {
namespace {

std::string escaped(char32_t code) {
    const char* digits = "0123456789ABCDEF";
    std::string out = "\\U+";
    for (int shift = 12; shift >= 0; shift -= 4) out += digits[(code >> shift) & 15];
    return out;
}

}  // namespace

std::string dxf_text(const std::string& utf8) {
    std::string out;
    for (std::size_t at = 0; at < utf8.size();) {
        const Utf8Character c = utf8_character(utf8, at);
        at += c.bytes;
        if (c.code == 0x2044) {
            out += '/';
        } else if (c.code < 0x20 || c.code == 0x7F) {
            out += ' ';
        } else if (c.code > 0x7F || c.code == '%' || c.code == '^' || c.code == '\\') {
            out += escaped(c.code > 0xFFFF ? replacement_character : c.code);
        } else {
            out += static_cast<char>(c.code);
        }
    }
    return out;
}

}  // namespace spile
