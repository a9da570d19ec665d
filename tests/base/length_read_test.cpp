// Every way of writing a length that is read, and every one that is refused.
#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "core/base/length.h"

namespace spile {
namespace {

struct Written {
    const char* text;
    ExactLength mm;
    Unit unit;
};

// 1 in = 25.4 mm exactly (international inch, 1959); 1/64 in = 127/320 mm.
const std::vector<Written> kRead = {
    {"5' 3 1/4\"", {32131, 20}, Unit::inch},  // 63.25 in = 1606.55 mm
    {"5 ft 3-1/4 in", {32131, 20}, Unit::inch},
    {"5 ft. 3-1/4 in.", {32131, 20}, Unit::inch},
    {"5 feet 3 1/4 inches", {32131, 20}, Unit::inch},
    {"5FT3 1/4IN", {32131, 20}, Unit::inch},
    {"5'-3-1/4\"", {32131, 20}, Unit::inch},
    {"5' - 3 1/4\"", {32131, 20}, Unit::inch},
    {"5' 3 1/4", {32131, 20}, Unit::inch},
    {"5' 3.25\"", {32131, 20}, Unit::inch},
    {"5\u2032 3\u00BC\u2033", {32131, 20}, Unit::inch},  // prime, one quarter, double prime
    {"5\u2019 3 1/4\u201D", {32131, 20}, Unit::inch},    // what word processors make of ' and "
    {"5\u2018 3 1/4\u201C", {32131, 20}, Unit::inch},
    {"5' 3 1/4''", {32131, 20}, Unit::inch},
    {"63.25", {32131, 20}, Unit::inch},
    {"63,25", {32131, 20}, Unit::inch},
    {"63.250", {32131, 20}, Unit::inch},
    {"063.25", {32131, 20}, Unit::inch},
    {"63 1/4", {32131, 20}, Unit::inch},
    {"63-1/4", {32131, 20}, Unit::inch},
    {"63 1 / 4", {32131, 20}, Unit::inch},
    {"63 1\u20444", {32131, 20}, Unit::inch},       // fraction slash
    {"63\u20111\u22154", {32131, 20}, Unit::inch},  // unbreakable hyphen, division slash
    {"63\u00A01/4", {32131, 20}, Unit::inch},       // unbreakable space
    {"63\u00BC", {32131, 20}, Unit::inch},
    {"63 \u00BC in", {32131, 20}, Unit::inch},
    {"  63 1/4  ", {32131, 20}, Unit::inch},
    {"63 16/64", {32131, 20}, Unit::inch},
    {"1/64", {127, 320}, Unit::inch},
    {"63/64", {8001, 320}, Unit::inch},
    {"\u215B", {127, 40}, Unit::inch},
    {"\u215E\"", {889, 40}, Unit::inch},
    {".5", {127, 10}, Unit::inch},
    {"0", {0, 1}, Unit::inch},
    {"0/2", {0, 1}, Unit::inch},
    {"5'", {1524, 1}, Unit::inch},
    {"5 1/2'", {8382, 5}, Unit::inch},
    {"5.5 ft", {8382, 5}, Unit::inch},
    {"12 yd", {54864, 5}, Unit::inch},  // 1 yd = 0.9144 m exactly: NIST Handbook 44, appendix C
    {"2 1/2 yards", {2286, 1}, Unit::inch},
    {"0' 11 63/64\"", {97409, 320}, Unit::inch},
    {"1607 mm", {1607, 1}, Unit::mm},
    {"1607mm", {1607, 1}, Unit::mm},
    {"160.7 cm", {1607, 1}, Unit::mm},
    {"1.607 m", {1607, 1}, Unit::mm},
    {"1,607 m", {1607, 1}, Unit::mm},  // a thousand metres is no length here
    {"0,607 cm", {607, 100}, Unit::mm},
    {"1607,5 mm", {3215, 2}, Unit::mm},
    {"12 1/2 mm", {25, 2}, Unit::mm},
    {"1000000 mm", {1000000, 1}, Unit::mm},
    {"96.30000000000001 mm", {9630000000000001, 100000000000000}, Unit::mm},  // what JSON makes of a sum
};

TEST(ReadLength, EveryNotation) {
    for (const Written& w : kRead) {
        const Result<TypedLength> r = parse_length(w.text, Unit::inch);
        ASSERT_TRUE(r) << w.text << ": " << r.findings.front().says;
        EXPECT_EQ(r->value, w.mm) << w.text;
        EXPECT_EQ(r->unit, w.unit) << w.text;
        EXPECT_EQ(r->typed, w.text);
        EXPECT_TRUE(r.findings.empty());
    }
}

TEST(ReadLength, ItsOwnMarkGoesBeforeTheDefaultUnit) {
    EXPECT_EQ(parse_length("1607,5", Unit::mm)->value, (ExactLength{3215, 2}));
    EXPECT_EQ(parse_length("63.25", Unit::mm)->value, (ExactLength{253, 4}));
    EXPECT_EQ(parse_length("63 1/4 in", Unit::mm)->value, (ExactLength{32131, 20}));
    EXPECT_EQ(parse_length("63 1/4 in", Unit::mm)->unit, Unit::inch);
    EXPECT_EQ(parse_length("1607", Unit::mm)->unit, Unit::mm);
}

TEST(ReadLength, NegativeOnlyWhereAllowed) {
    for (const char* text : {"-63 1/4", "-63-1/4", "\u221263.25", "- 5' 3 1/4\""}) {
        const Result<TypedLength> r = parse_length(text, Unit::inch, true);
        ASSERT_TRUE(r) << text;
        EXPECT_EQ(r->value, (ExactLength{-32131, 20})) << text;
        const Result<TypedLength> refused = parse_length(text, Unit::inch);
        ASSERT_FALSE(refused) << text;
        EXPECT_EQ(refused.findings.front().code, "length-negative");
    }
    EXPECT_EQ(parse_length("-0", Unit::inch, true)->value, (ExactLength{0, 1}));
    EXPECT_FALSE(parse_length("--5", Unit::inch, true));
}

struct Refused {
    std::string text;
    const char* code;
    int character;  ///< 0: no place to name
    Unit unit = Unit::inch;
};

const std::vector<Refused> kRefused = {
    {"3.10.1", "length-two-points", 5},  // HABS guideline s. 3.1.4 reads it as 3 ft 10 1/4 in
    {"1,607.5", "length-two-points", 6},
    {"5' 14\"", "length-inches-over-a-foot", 4},
    {"5' 12\"", "length-inches-over-a-foot", 4},
    {"5 ft 12.5 in", "length-inches-over-a-foot", 6},
    {"51/4", "length-fraction-over-one", 1},
    {"63 5/4", "length-fraction-over-one", 4},
    {"63 4/4", "length-fraction-over-one", 4},
    {"63 1/3", "length-fraction-of-no-tape", 4},
    {"63 2/5", "length-fraction-of-no-tape", 4},
    {"63 1/1", "length-fraction-of-no-tape", 4},
    {"63 1/0", "length-fraction-of-no-tape", 4},
    {"63 1/128", "length-fraction-of-no-tape", 4},
    {"63 1/99999999999999999999", "length-fraction-of-no-tape", 4},
    {"63\u2153", "length-fraction-of-no-tape", 3},  // one third
    {"63 1/", "length-fraction", 5},
    {"63 1//4", "length-fraction", 5},
    {"63 1/4/2", "length-fraction", 7},
    {"63 1/4.5", "length-fraction", 7},
    {"63.1/4", "length-fraction", 5},
    {"63.25 1/4", "length-fraction", 7},
    {"63 - 1/4", "length-dash", 4},
    {"63 -1/4", "length-dash", 4},
    {"5 3 1/4", "length-two-numbers", 3},
    {"63 1/4 1/4", "length-two-numbers", 8},
    {"63-64", "length-two-numbers", 3},
    {"5.5' 3\"", "length-parts-of-a-foot", 1},
    {"5 1/2' 3\"", "length-parts-of-a-foot", 1},
    {"5' 3\" 4", "length-after-inches", 7},
    {"5' 3'", "length-after-inches", 5},
    {"5' 3 mm", "length-after-inches", 6},
    {"1 m 607 mm", "length-after-unit", 5},
    {"63\" 1/4", "length-after-unit", 5},
    {"1607 mm mm", "length-after-unit", 9},
    {"1,607", "length-comma", 1},
    {"1,607 mm", "length-comma", 1},
    {"1,607 cm", "length-comma", 1},
    {"5' 1,607\"", "length-comma", 4},
    {"63 1/4", "length-fraction-of-mm", 1, Unit::mm},
    {"\u00BD", "length-fraction-of-mm", 1, Unit::mm},
    {"5' -", "length-number", 5},
    {"'", "length-number", 1},
    {"mm", "length-number", 1},
    {"\" 5", "length-number", 1},
    {"5.", "length-point", 2},
    {"5. in", "length-point", 2},
    {".", "length-character", 1},
    {"12 ell", "length-unit", 4},
    {"3 yd 6 in", "length-after-unit", 6},
    {"1e3", "length-unit", 2},
    {"nan", "length-unit", 1},
    {"inf", "length-unit", 1},
    {"0x10", "length-unit", 2},
    {"63 \u00D7 4", "length-character", 4},
    {"+63", "length-character", 1},
    {"63\u20AC", "length-character", 3},
    {std::string("63\0", 3), "length-character", 3},
    {"63\xFF", "length-character", 3},
    {"63\xC3", "length-character", 3},
    {"63\xE2\x80", "length-character", 3},
    {"", "length-empty", 0},
    {" \t ", "length-empty", 0},
    {std::string(65, '1'), "length-too-long", 65},
    {"1000000.1 mm", "length-too-large", 1},
    {"1001 m", "length-too-large", 1},
    {"3281 ft", "length-too-large", 1},
    {"9000000000000000000 ft", "length-too-large", 1},
    {"99999999999999999999", "length-too-large", 19},
    {"0.123456789012345678901", "length-too-fine", 21},
    {"1000.12345678901234567 in", "length-too-fine", 21},
    {"0.0000000000000000001", "length-too-fine", 21},
};

TEST(ReadLength, RefusesByTheCharacter) {
    for (const Refused& w : kRefused) {
        const Result<TypedLength> r = parse_length(w.text, w.unit);
        ASSERT_FALSE(r) << w.text << " was read as " << r->mm() << " mm";
        ASSERT_EQ(r.findings.size(), 1u);
        const Finding& f = r.findings.front();
        EXPECT_EQ(f.code, w.code) << w.text << ": " << f.says;
        EXPECT_EQ(f.severity, Severity::stop);
        EXPECT_FALSE(f.to_do.empty());
        int character = 0;
        for (const Quantity& q : f.numbers)
            if (q.name == "character") character = static_cast<int>(q.value);
        EXPECT_EQ(character, w.character) << w.text << ": " << f.says;
        const std::string place = w.character > 0 ? ", character " + std::to_string(w.character) + ":" : "";
        EXPECT_NE(f.says.find(place), std::string::npos) << f.says;
    }
}

TEST(ReadLength, AsksWithTheCarriedReading) {
    const Finding f = parse_length("5' 14\"", Unit::inch).findings.front();
    EXPECT_EQ(f.says, "\u201C5' 14\"\u201D, character 4: twelve inches or more beside feet.");
    EXPECT_EQ(f.to_do, "Look at the reading again. Is 6' 2\" meant?");
}

TEST(ReadLength, NamesTheLimit) {
    const Finding f = parse_length("1001 m", Unit::mm).findings.front();
    ASSERT_FALSE(f.numbers.empty());
    EXPECT_EQ(f.numbers.front().name, "limit");
    EXPECT_EQ(f.numbers.front().value, 1e6);
}

// Whatever bytes come in: an answer, and never a value without its text.
TEST(ReadLength, AnyBytesAtAll) {
    const std::string alphabet[] = {"0", "1",    "4",      "64",     "9",      ".",   ",",  "/",
                                    "'", "\"",   " ",      "-",      "mm",     "m",   "in", "ft",
                                    "x", "\xC2", "\u00BC", "\u2032", "\u2044", "\xFF"};
    std::uint32_t state = 20240601;  // seed
    for (int run = 0; run < 200000; ++run) {
        std::string text;
        state = state * 1664525u + 1013904223u;
        const std::uint32_t pieces = (state >> 20) % 9;
        for (std::uint32_t i = 0; i < pieces; ++i) {
            state = state * 1664525u + 1013904223u;
            text += alphabet[(state >> 16) % std::size(alphabet)];
        }
        const Result<TypedLength> r = parse_length(text, run % 2 ? Unit::inch : Unit::mm, run % 3 == 0);
        ASSERT_EQ(static_cast<bool>(r), r.findings.empty()) << text;
        if (r) {
            ASSERT_EQ(r->typed, text);
            ASSERT_GT(r->value.den, 0);
            ASSERT_LE(r->mm(), static_cast<double>(kLongestLength_mm));
        }
    }
}

}  // namespace
}  // namespace spile
