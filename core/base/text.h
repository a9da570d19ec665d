// Small text helpers that print the same everywhere (no locale).
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace spile {

/// `value` with exactly `decimals` digits after the point; never "-0".
std::string fixed(double value, int decimals);

/// The shortest decimal that reads back as `value`.
std::string shortest(double value);

/// "a, b and c".
std::string list_words(const std::vector<std::string>& words);

std::vector<std::string> split_words(std::string_view text);  ///< by white space
std::string_view trimmed(std::string_view text);

/// "1 tie", "2 ties": `plural` is the whole plural word.
std::string count_of(std::size_t n, const std::string& singular, const std::string& plural);

/// For a file name: the ASCII letters and figures of `text`, lower case, words joined by "-", at most 40 characters.
/// Empty when nothing is left.
std::string file_words(std::string_view text);

}  // namespace spile
