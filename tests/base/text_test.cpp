// Text that is the same everywhere, and findings in their order.
#include "core/base/text.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <bit>
#include <charconv>
#include <clocale>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <limits>

#include "core/base/finding.h"
#include "core/base/length.h"

namespace spile {
namespace {

TEST(Text, FixedDecimals) {
    EXPECT_EQ(fixed(1607.256, 2), "1607.26");
    EXPECT_EQ(fixed(0.5, 0), "0");  // ties to even, as IEEE 754 rounds
    EXPECT_EQ(fixed(-0.001, 2), "0.00");
    EXPECT_EQ(fixed(-0.0, 1), "0.0");
    EXPECT_EQ(fixed(-0.006, 2), "-0.01");
    EXPECT_EQ(fixed(1e20, 1), "100000000000000000000.0");
    EXPECT_EQ(fixed(std::numeric_limits<double>::max(), 3).size(), 313u);
}

// std::to_chars of the standard library is the second opinion.
TEST(Text, ShortestReadsBack) {
    EXPECT_EQ(shortest(0.1), "0.1");
    EXPECT_EQ(shortest(-0.0), "0");
    EXPECT_EQ(shortest(1606.55), "1606.55");
    EXPECT_EQ(shortest(0.1 + 0.2), "0.30000000000000004");
    std::uint64_t state = 3;  // seed
    int longer = 0;
    for (int i = 0; i < 100000; ++i) {
        state = state * 6364136223846793005u + 1442695040888963407u;
        const double value = i % 2 ? std::bit_cast<double>(state) : static_cast<double>(state >> 20) / 1e6;
        if (!std::isnormal(value)) continue;
        const std::string text = shortest(value);
        EXPECT_EQ(std::strtod(text.c_str(), nullptr), value) << text;
        char best[64];
        const auto end = std::to_chars(best, best + sizeof best, value, std::chars_format::scientific).ptr;
        const auto digits = [](std::string_view t) {
            std::size_t n = 0, zeros = 0;
            for (char c : t.substr(0, t.find('e'))) {
                if (c < '0' || c > '9' || (c == '0' && n == 0)) continue;
                ++n;
                zeros = c == '0' ? zeros + 1 : 0;
            }
            return n - zeros;
        };
        if (digits(text) > digits({best, static_cast<std::size_t>(end - best)})) ++longer;
    }
    EXPECT_EQ(longer, 0);
}

// A host program may have set a locale; the decimal point of this one is no point and two bytes long.
TEST(Text, TheSameInAnyLocale) {
    const std::string folder = testing::TempDir() + "spile-locales-" + std::to_string(getpid());
    std::filesystem::create_directories(folder);
    setenv("LOCPATH", folder.c_str(), 1);
    const std::string make = "localedef -c -i ps_AF -f UTF-8 " + folder + "/ps_AF.UTF-8 2>/dev/null";
    ASSERT_LE(WEXITSTATUS(std::system(make.c_str())), 1)
        << "is the package `locales` missing?";  // 1: mere warnings
    ASSERT_TRUE(std::setlocale(LC_NUMERIC, "ps_AF.UTF-8")) << "is the package `locales` missing?";
    ASSERT_STREQ(std::localeconv()->decimal_point, "\u066B");
    EXPECT_EQ(fixed(1607.25, 1), "1607.2");
    EXPECT_EQ(shortest(1606.55), "1606.55");
    EXPECT_EQ(shortest(1.5e-300), "1.5e-300");
    EXPECT_EQ(plain_length(1607.5, {Unit::mm, 16, 0.5}), "1607.5");
    EXPECT_EQ(parse_length("1607.5 mm", Unit::inch)->mm(), 1607.5);
    std::setlocale(LC_NUMERIC, "C");
    std::filesystem::remove_all(folder);
}

TEST(Text, Words) {
    EXPECT_EQ(list_words({}), "");
    EXPECT_EQ(list_words({"a"}), "a");
    EXPECT_EQ(list_words({"a", "b"}), "a and b");
    EXPECT_EQ(list_words({"a", "b", "c"}), "a, b and c");
    EXPECT_EQ(split_words("  A B\t48 1/4 \n"), (std::vector<std::string>{"A", "B", "48", "1/4"}));
    EXPECT_TRUE(split_words(" ").empty());
    EXPECT_EQ(trimmed("  a b\r\n"), "a b");
    EXPECT_EQ(trimmed(" \t"), "");
    EXPECT_EQ(count_of(1, "tie", "ties"), "1 tie");
    EXPECT_EQ(count_of(0, "tie", "ties"), "0 ties");
    EXPECT_EQ(count_of(2, "tie", "ties"), "2 ties");
}

TEST(Text, FileWords) {
    EXPECT_EQ(file_words("round the Post"), "round-the-post");
    EXPECT_EQ(file_words("  ../etc/passwd "), "etc-passwd");
    EXPECT_EQ(file_words("tapis \u00E9troit 2"), "tapis-troit-2");
    EXPECT_EQ(file_words("\u2033/'"), "");
    EXPECT_EQ(file_words(std::string(100, 'a')), std::string(40, 'a'));
    EXPECT_EQ(file_words(std::string(40, 'a') + " b"), std::string(40, 'a'));
}

TEST(Findings, WorstFirstAndEqualOnesInTheirOrder) {
    std::vector<Finding> findings(4);
    findings[0].code = "a";
    findings[1].code = "b";
    findings[1].severity = Severity::stop;
    findings[2].code = "c";
    findings[2].severity = Severity::look;
    findings[3].code = "d";
    findings[3].severity = Severity::stop;
    EXPECT_TRUE(has_stop(findings));
    sort_worst_first(findings);
    std::string order;
    for (const Finding& f : findings) order += f.code;
    EXPECT_EQ(order, "bdca");
    EXPECT_STREQ(severity_name(findings[0].severity), "stop");
    EXPECT_STREQ(severity_name(findings[2].severity), "look");
    EXPECT_STREQ(severity_name(findings[3].severity), "note");
    findings.erase(findings.begin(), findings.begin() + 2);
    EXPECT_FALSE(has_stop(findings));
    append(findings, {Finding{}, Finding{}});
    EXPECT_EQ(findings.size(), 4u);
}

}  // namespace
}  // namespace spile
