// Texts as the book takes, sums and finds them. Inside of shop/.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace spile::shop {

inline constexpr std::size_t kLine_characters = 200;
inline constexpr std::size_t kNotes_characters = 20'000;

/// Refuses with "text-refused" unless `text` is UTF-8 without control characters (new lines and tabs pass where
/// `many_lines`) of at most `most` characters. `what` names it: "the name of a customer".
void check_text(const std::string& text, const std::string& what, std::size_t most = kLine_characters,
                bool many_lines = false);

/// FNV-1a, 64 bit: tells a damaged text from a whole one, not a forged one.
std::int64_t sum_of(std::string_view bytes);

/// What a search looks in: the parts in lower case (ASCII letters only), parted by a character that no query holds.
std::string search_text(const std::vector<std::string>& parts);

/// " AND search LIKE ? ..." for every word, and the patterns to bind.
struct SearchWords {
    std::string sql;
    std::vector<std::string> patterns;
};
SearchWords search_words(const std::string& query);

}  // namespace spile::shop
