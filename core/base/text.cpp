#include "core/base/text.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>

#include "core/base/check.h"

namespace spile {
namespace {

bool is_space(char c) {
    return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == '\v';
}

std::string printed(const char* format, int digits, double value) {
    const int size = std::snprintf(nullptr, 0, format, digits, value);
    SPILE_CHECK(size > 0);
    std::string text(static_cast<std::size_t>(size) + 1, '\0');
    std::snprintf(text.data(), text.size(), format, digits, value);
    text.pop_back();
    return text;
}

/// A host program may have set a locale whose decimal point is a comma or several bytes long.
std::string with_point(std::string text) {
    const auto of_a_number = [](char c) {
        return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || c == '-' || c == '+';
    };
    const auto first = std::find_if_not(text.begin(), text.end(), of_a_number);
    if (first == text.end()) return text;
    const auto last = std::find_if(first, text.end(), of_a_number);
    return std::string(text.begin(), first) + '.' + std::string(last, text.end());
}

}  // namespace

std::string fixed(double value, int decimals) {
    SPILE_CHECK(decimals >= 0);
    std::string text = with_point(printed("%.*f", decimals, value));
    if (text.front() == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
    return text;
}

std::string shortest(double value) {
    if (value == 0) return "0";
    for (int digits = 15; digits < 17; ++digits) {
        const std::string text = printed("%.*g", digits, value);
        if (std::strtod(text.c_str(), nullptr) == value) return with_point(text);
    }
    return with_point(printed("%.*g", 17, value));
}

std::string list_words(const std::vector<std::string>& words) {
    std::string list;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) list += i + 1 == words.size() ? " and " : ", ";
        list += words[i];
    }
    return list;
}

std::vector<std::string> split_words(std::string_view text) {
    std::vector<std::string> words;
    std::size_t at = 0;
    while (at < text.size()) {
        if (is_space(text[at])) {
            ++at;
            continue;
        }
        const std::size_t start = at;
        while (at < text.size() && !is_space(text[at])) ++at;
        words.emplace_back(text.substr(start, at - start));
    }
    return words;
}

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return text;
}

std::string count_of(std::size_t n, const std::string& singular, const std::string& plural) {
    return std::to_string(n) + ' ' + (n == 1 ? singular : plural);
}

std::string file_words(std::string_view text) {
    constexpr std::size_t most = 40;
    std::string words;
    bool gap = false;
    for (char c : text) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        if (!((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))) {
            gap = true;
            continue;
        }
        if (gap && !words.empty()) words += '-';
        gap = false;
        if (words.size() >= most) break;
        words += c;
    }
    if (!words.empty() && words.back() == '-') words.pop_back();
    return words;
}

}  // namespace spile
