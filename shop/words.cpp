#include "shop/words.h"

#include "core/base/text.h"
#include "core/base/utf8.h"
#include "shop/database.h"

namespace spile::shop {
namespace {

std::string lower(std::string_view text) {
    std::string out(text);
    for (char& c : out)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    return out;
}

}  // namespace

void check_text(const std::string& text, const std::string& what, std::size_t most, bool many_lines) {
    const char* to_do = "Write it again, without characters that cannot be printed.";
    std::size_t characters = 0;
    for (std::size_t at = 0; at < text.size(); ++characters) {
        const Utf8Character character = utf8_character(text, at);
        if (!character.well_formed)
            refuse(
                "text-refused",
                "Character " + std::to_string(characters + 1) + " of " + what + " is no character of UTF-8.",
                to_do);
        const bool allowed = many_lines && (character.code == '\n' || character.code == '\t');
        if ((character.code < 32 && !allowed) || character.code == 127)
            refuse("text-refused",
                   "Character " + std::to_string(characters + 1) + " of " + what + " is a control character" +
                       (character.code == '\n' ? ": it must stand on one line." : "."),
                   to_do);
        at += character.bytes;
    }
    if (characters > most)
        refuse("text-refused",
               what + " has " + std::to_string(characters) + " characters; " + std::to_string(most) +
                   " is the most.",
               "Write less.", {"shop", ""},
               {{"has", static_cast<double>(characters), ""}, {"limit", static_cast<double>(most), ""}});
}

std::int64_t sum_of(std::string_view bytes) {
    std::uint64_t sum = 14695981039346656037u;
    for (const char c : bytes) {
        sum ^= static_cast<unsigned char>(c);
        sum *= 1099511628211u;
    }
    return static_cast<std::int64_t>(sum);
}

std::string search_text(const std::vector<std::string>& parts) {
    std::string all;
    for (const std::string& part : parts)
        if (!part.empty()) all += lower(part) + '\n';
    return all;
}

SearchWords search_words(const std::string& query) {
    check_text(query, "what is searched for");
    SearchWords words;
    for (const std::string& word : split_words(lower(query))) {
        std::string pattern = "%";
        for (char c : word) {
            if (c == '%' || c == '_' || c == '\\') pattern += '\\';
            pattern += c;
        }
        words.patterns.push_back(pattern + "%");
        words.sql += " AND search LIKE ? ESCAPE '\\'";
    }
    return words;
}

}  // namespace spile::shop
