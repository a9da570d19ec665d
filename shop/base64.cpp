#include "shop/base64.h"

#include <algorithm>

namespace spile::shop {
namespace {

constexpr const char* kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

}  // namespace

std::string to_base64(const std::string& bytes) {
    std::string out;
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        unsigned word = 0;
        for (std::size_t k = 0; k < 3; ++k)
            word = word << 8 | (i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u);
        for (std::size_t k = 0; k < 4; ++k)
            out += i + k > bytes.size() ? '=' : kLetters[word >> (18 - 6 * k) & 63];
    }
    return out;
}

std::optional<std::string> from_base64(const std::string& text) {
    if (text.size() % 4) return std::nullopt;
    std::string out;
    unsigned word = 0;
    std::size_t padding = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char* at = std::find(kLetters, kLetters + 64, text[i]);
        if (text[i] == '=')
            ++padding;
        else if (at == kLetters + 64 || padding)
            return std::nullopt;
        word = word << 6 | (text[i] == '=' ? 0u : static_cast<unsigned>(at - kLetters));
        if (i % 4 != 3) continue;
        for (std::size_t k = 0; k < 3; ++k) out += static_cast<char>(word >> (16 - 8 * k) & 255);
        word = 0;
    }
    if (padding > 2) return std::nullopt;
    out.resize(out.size() - padding);
    return out;
}

}  // namespace spile::shop
