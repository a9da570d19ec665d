// Reading lengths: characters -> tokens -> an exact number of millimetres.
#include <algorithm>
#include <array>
#include <numeric>
#include <optional>
#include <vector>

#include "core/base/length.h"
#include "core/base/text.h"
#include "core/base/utf8.h"

namespace spile {
namespace {

constexpr std::size_t kLongestText = 64;  // characters

/// num/den >= 0 in lowest terms, of whatever unit is being read.
struct Ratio {
    std::int64_t num = 0;
    std::int64_t den = 1;

    bool operator<(std::int64_t whole) const { return num / den < whole; }
    bool whole() const { return den == 1; }
};

Ratio lowest(Ratio r) {
    const std::int64_t common = std::gcd(r.num, r.den);
    return {r.num / common, r.den / common};
}

/// Nothing when the exact result does not fit.
std::optional<Ratio> sum(Ratio a, Ratio b) {
    const std::int64_t common = std::gcd(a.den, b.den);
    Ratio r;
    std::int64_t left = 0, right = 0;
    if (__builtin_mul_overflow(a.num, b.den / common, &left) ||
        __builtin_mul_overflow(b.num, a.den / common, &right) ||
        __builtin_add_overflow(left, right, &r.num) || __builtin_mul_overflow(a.den, b.den / common, &r.den))
        return std::nullopt;
    return lowest(r);
}

std::optional<Ratio> product(Ratio a, Ratio b) {
    const std::int64_t ab = std::gcd(a.num, b.den), ba = std::gcd(b.num, a.den);
    Ratio r;
    if (__builtin_mul_overflow(a.num / ab, b.num / ba, &r.num) ||
        __builtin_mul_overflow(a.den / ba, b.den / ab, &r.den))
        return std::nullopt;
    return lowest(r);
}

bool is_digit(char32_t c) {
    return c >= '0' && c <= '9';
}
bool is_letter(char32_t c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_point(char32_t c) {
    return c == '.' || c == ',';
}
bool is_space(char32_t c) {
    return c == ' ' || (c >= 9 && c <= 13) || c == 0xA0 || c == 0x2009 || c == 0x200A || c == 0x202F;
}
bool is_slash(char32_t c) {
    return c == '/' || c == 0x2044 || c == 0x2215;
}
bool is_dash(char32_t c) {
    return c == '-' || (c >= 0x2010 && c <= 0x2013) || c == 0x2212;
}
bool is_foot_mark(char32_t c) {
    return c == '\'' || c == 0x2032 || c == 0x2018 || c == 0x2019;
}
bool is_inch_mark(char32_t c) {
    return c == '"' || c == 0x2033 || c == 0x201C || c == 0x201D;
}

/// The fractions that are one character each.
std::optional<Ratio> vulgar_fraction(char32_t c) {
    struct Vulgar {
        char32_t code;
        Ratio value;
    };
    static constexpr std::array<Vulgar, 18> all{{
        {0xBC, {1, 4}},
        {0xBD, {1, 2}},
        {0xBE, {3, 4}},
        {0x2150, {1, 7}},
        {0x2151, {1, 9}},
        {0x2152, {1, 10}},
        {0x2153, {1, 3}},
        {0x2154, {2, 3}},
        {0x2155, {1, 5}},
        {0x2156, {2, 5}},
        {0x2157, {3, 5}},
        {0x2158, {4, 5}},
        {0x2159, {1, 6}},
        {0x215A, {5, 6}},
        {0x215B, {1, 8}},
        {0x215C, {3, 8}},
        {0x215D, {5, 8}},
        {0x215E, {7, 8}},
    }};
    for (const Vulgar& v : all)
        if (v.code == c) return v.value;
    return std::nullopt;
}

enum class Kind { number, fraction, yard, foot, inch, millimetre, centimetre, metre, dash };

struct Token {
    Kind kind = Kind::number;
    std::size_t at = 0;  ///< the first character, counted from 1
    Ratio value;
    bool spaced = false;          ///< white space stands before it
    bool like_thousands = false;  ///< "1,607": a comma and three digits
};

std::optional<Kind> unit_word(const std::string& word) {
    if (word == "yd" || word == "yds" || word == "yard" || word == "yards") return Kind::yard;
    if (word == "ft" || word == "foot" || word == "feet") return Kind::foot;
    if (word == "in" || word == "inch" || word == "inches") return Kind::inch;
    if (word == "mm") return Kind::millimetre;
    if (word == "cm") return Kind::centimetre;
    if (word == "m") return Kind::metre;
    return std::nullopt;
}

/// Holds the one fault that ends the reading.
class Reader {
  public:
    Reader(std::string_view text, Unit default_unit, bool allow_negative)
        : text_(text), default_unit_(default_unit), allow_negative_(allow_negative) {}

    Result<TypedLength> read() {
        if (decode() && split() && measure()) return Result<TypedLength>::ok(std::move(length_));
        return Result<TypedLength>::refuse(std::move(fault_));
    }

  private:
    bool refuse(const char* code, std::size_t at, const std::string& why, const std::string& to_do) {
        fault_.code = code;
        fault_.severity = Severity::stop;
        const std::string quoted = "\u201C" + std::string(trimmed(text_)) + "\u201D";
        fault_.says = at > 0 ? quoted + ", character " + std::to_string(at) + ": " + why : why;
        if (at > 0) fault_.numbers.push_back({"character", static_cast<double>(at), ""});
        if (fault_.says.back() != '?') fault_.says += '.';
        fault_.to_do = to_do;
        return false;
    }

    bool refuse_too_fine(std::size_t at) {
        return refuse("length-too-fine", at, "more digits than can be kept exactly",
                      "Write it to a tenth of a millimetre or a 64th of an inch; no tape shows more.");
    }

    bool decode();
    bool split();
    bool split_number();
    bool split_word();
    bool measure();
    bool quantity(Ratio& value);
    bool imperial(Ratio feet, std::size_t feet_at);
    bool finish(Ratio value, Ratio unit_mm, Unit unit);

    char32_t at(std::size_t i) const { return i < codes_.size() ? codes_[i] : U'\0'; }
    const Token* next() const { return next_ < tokens_.size() ? &tokens_[next_] : nullptr; }
    bool next_is(Kind kind) const { return next() && next()->kind == kind; }

    std::string_view text_;
    Unit default_unit_;
    bool allow_negative_;
    std::vector<char32_t> codes_;
    std::size_t here_ = 0;
    std::vector<Token> tokens_;
    std::size_t next_ = 0;
    bool negative_ = false;
    bool has_fraction_ = false;
    const Token* like_thousands_ = nullptr;
    TypedLength length_;
    Finding fault_;
};

bool Reader::decode() {
    if (trimmed(text_).empty())
        return refuse("length-empty", 0, "A length is missing", "Write a length such as 63 1/4 or 1607 mm.");
    for (std::size_t i = 0; i < text_.size();) {
        const Utf8Character c = utf8_character(text_, i);
        const std::size_t place = codes_.size() + 1;
        if (place > kLongestText || !c.well_formed) {
            text_ = text_.substr(0, i);
            return c.well_formed
                       ? refuse("length-too-long", place, "the length goes on for more than 64 characters",
                                "Write one length, such as 63 1/4.")
                       : refuse("length-character", place, "bytes that are not text (UTF-8) follow",
                                "Type the length again.");
        }
        codes_.push_back(c.code);
        i += c.bytes;
    }
    return true;
}

/// An integer, a decimal number or a fraction `n/d`, starting with a digit or a point.
bool Reader::split_number() {
    Token token{Kind::number, here_ + 1, {}, here_ > 0 && is_space(at(here_ - 1)), false};
    std::size_t whole_digits = 0, decimals = 0, points = 0, dropped_zeros = 0;
    const char32_t first = at(here_);
    const bool comma = [&] {
        for (std::size_t i = here_; is_digit(at(i)) || is_point(at(i)); ++i)
            if (is_point(at(i))) return at(i) == ',';
        return false;
    }();
    for (; is_digit(at(here_)) || is_point(at(here_)); ++here_) {
        if (is_point(at(here_))) {
            if (++points == 2)
                return refuse("length-two-points", here_ + 1,
                              "a second point; some write 3.10.1 for 3 ft 10 1/4 in, so this can be read in "
                              "several ways",
                              "Which is meant? Write it with its marks, such as 3' 10 1/4\", or as one "
                              "decimal number.");
            continue;
        }
        const auto digit = static_cast<std::int64_t>(at(here_) - '0');
        if (points == 0) {
            ++whole_digits;
        } else {
            ++decimals;
            if (digit == 0) {  // kept back: zeros at the end add nothing
                ++dropped_zeros;
                continue;
            }
            for (; dropped_zeros > 0; --dropped_zeros)
                if (__builtin_mul_overflow(token.value.num, 10, &token.value.num) ||
                    __builtin_mul_overflow(token.value.den, 10, &token.value.den))
                    return refuse_too_fine(here_ + 1);
            if (__builtin_mul_overflow(token.value.den, 10, &token.value.den))
                return refuse_too_fine(here_ + 1);
        }
        if (__builtin_mul_overflow(token.value.num, 10, &token.value.num) ||
            __builtin_add_overflow(token.value.num, digit, &token.value.num))
            return points == 0 ? refuse("length-too-large", here_ + 1, "longer than 1000 m",
                                        "Look at the reading again: is a space or a point missing?")
                               : refuse_too_fine(here_ + 1);
    }
    if (points == 1 && decimals == 0)
        return refuse("length-point", here_, "a point with no digit after it",
                      "Write the digits after the point, or leave it out.");
    token.value = lowest(token.value);
    token.like_thousands = comma && decimals == 3 && whole_digits >= 1 && whole_digits <= 3 && first != '0';

    std::size_t over = here_;
    while (is_space(at(over))) ++over;
    if (!is_slash(at(over))) {
        tokens_.push_back(token);
        return true;
    }
    const std::size_t slash = over++;
    while (is_space(at(over))) ++over;
    std::int64_t bottom = 0;
    if (points > 0 || !is_digit(at(over)))
        return refuse("length-fraction", slash + 1, "a fraction must be a whole number over a whole number",
                      "Write the fraction as on a tape, such as 63 1/4.");
    for (; is_digit(at(over)); ++over)
        bottom = std::min<std::int64_t>(bottom * 10 + (at(over) - '0'), 1000000);
    if (is_point(at(over)) || is_slash(at(over)))
        return refuse("length-fraction", over + 1, "a fraction must be a whole number over a whole number",
                      "Write the fraction as on a tape, such as 63 1/4.");
    here_ = over;
    token.kind = Kind::fraction;
    token.value.den = bottom;
    tokens_.push_back(token);
    return true;
}

bool Reader::split_word() {
    const std::size_t start = here_;
    std::string word;
    for (; is_letter(at(here_)); ++here_) word += static_cast<char>(at(here_) | 0x20u);
    const std::optional<Kind> kind = unit_word(word);
    if (!kind)
        return refuse("length-unit", start + 1, "\u201C" + word + "\u201D is not a unit of length",
                      "Write yd, ft, in, mm, cm or m, or the number alone.");
    if (at(here_) == '.') ++here_;  // "in."
    tokens_.push_back({*kind, start + 1, {}, false, false});
    return true;
}

bool Reader::split() {
    while (here_ < codes_.size()) {
        const char32_t c = at(here_);
        const bool spaced = here_ > 0 && is_space(at(here_ - 1));
        if (is_space(c)) {
            ++here_;
        } else if (is_digit(c) || (is_point(c) && is_digit(at(here_ + 1)))) {
            if (!split_number()) return false;
        } else if (is_letter(c)) {
            if (!split_word()) return false;
        } else if (const std::optional<Ratio> fraction = vulgar_fraction(c)) {
            tokens_.push_back({Kind::fraction, ++here_, *fraction, spaced, false});
        } else if (is_dash(c)) {
            tokens_.push_back({Kind::dash, ++here_, {}, spaced, false});
        } else if (is_inch_mark(c)) {
            tokens_.push_back({Kind::inch, ++here_, {}, false, false});
        } else if (is_foot_mark(c)) {
            const bool doubled = is_foot_mark(at(here_ + 1));  // 3'' for 3"
            tokens_.push_back({doubled ? Kind::inch : Kind::foot, here_ + 1, {}, false, false});
            here_ += doubled ? 2 : 1;
        } else {
            return refuse("length-character", here_ + 1, "this belongs to no length",
                          "Write a length such as 63 1/4, 5' 3 1/4\" or 1607 mm.");
        }
    }
    return true;
}

/// `63`, `63.25`, `1/4`, `63 1/4` or `63-1/4`.
bool Reader::quantity(Ratio& value) {
    const Token* token = next();
    if (!token || (token->kind != Kind::number && token->kind != Kind::fraction))
        return refuse("length-number", token ? token->at : codes_.size() + 1, "a number is missing",
                      "Write a length such as 63 1/4, 5' 3 1/4\" or 1607 mm.");
    const Token* whole = nullptr;
    if (token->kind == Kind::number) {
        whole = token;
        value = token->value;
        if (token->like_thousands && !like_thousands_) like_thousands_ = token;
        ++next_;
        const bool dashed =
            next_is(Kind::dash) && next_ + 1 < tokens_.size() && tokens_[next_ + 1].kind == Kind::fraction;
        if (dashed && (next()->spaced || tokens_[next_ + 1].spaced))
            return refuse(
                "length-dash", next()->at, "a dash with a space beside it. Is something taken away?",
                "Write the length that is meant, with the fraction straight after it, such as 63-1/4.");
        if (dashed) ++next_;
        token = next();
        if (!token || token->kind != Kind::fraction) return true;
    }
    ++next_;
    has_fraction_ = true;
    const Ratio fraction = token->value;
    if (whole && !whole->value.whole())
        return refuse("length-fraction", token->at, "a fraction behind a decimal number",
                      "Which is meant? Write one or the other, such as 63.25 or 63 1/4.");
    if (fraction.den < 2 || fraction.den > 64 || (fraction.den & (fraction.den - 1)) != 0)
        return refuse(
            "length-fraction-of-no-tape", token->at,
            "a fraction with " + std::to_string(fraction.den) + " below the line, which no tape shows",
            "What does the tape say? Write halves, quarters, eighths, sixteenths, 32nds or 64ths, or a "
            "decimal such as 63.25.");
    if (fraction.num >= fraction.den)
        return refuse("length-fraction-over-one", token->at,
                      "a fraction of one or more. Is a space missing, as in 5 1/4 written 51/4?",
                      "Write the whole number, a space and the fraction, such as 5 1/4.");
    const std::optional<Ratio> both = sum(whole ? whole->value : Ratio{}, lowest(fraction));
    if (!both) return refuse_too_fine(token->at);
    value = *both;
    return true;
}

/// What follows the foot mark: nothing, or inches less than a foot.
bool Reader::imperial(Ratio feet, std::size_t feet_at) {
    static constexpr Ratio foot_mm{1524, 5}, inch_mm{127, 5};
    if (!next()) return finish(feet, foot_mm, Unit::inch);
    if (next_is(Kind::dash)) ++next_;
    const std::size_t inches_at = next() ? next()->at : codes_.size() + 1;
    Ratio inches;
    if (!quantity(inches)) return false;
    if (next_is(Kind::inch)) ++next_;
    if (next())
        return refuse("length-after-inches", next()->at, "more follows after the inches",
                      "Write feet, inches and a fraction, such as 5' 3 1/4\".");
    if (!feet.whole())
        return refuse("length-parts-of-a-foot", feet_at,
                      "parts of a foot, and inches as well. Are they added?",
                      "Write whole feet and the inches, such as 5' 9\".");
    const std::optional<Ratio> in_feet = product(feet, {12, 1});
    const std::optional<Ratio> total = in_feet ? sum(*in_feet, inches) : std::nullopt;
    if (!total) return refuse_too_fine(inches_at);
    if (!(inches < 12)) {
        const double mm = static_cast<double>(total->num) / static_cast<double>(total->den) * 25.4;
        const std::string carried =
            mm < 1e9 ? " Is " + plain_length(mm, {Unit::inch, 64, 0.5, false, true}) + " meant?" : "";
        return refuse("length-inches-over-a-foot", inches_at, "twelve inches or more beside feet",
                      "Look at the reading again." + carried);
    }
    return finish(*total, inch_mm, Unit::inch);
}

bool Reader::measure() {
    if (next_is(Kind::dash)) {
        negative_ = true;
        if (!allow_negative_)
            return refuse("length-negative", next()->at, "a minus; this length cannot be less than nothing",
                          "Leave the minus out, or say the other direction in words.");
        ++next_;
    }
    const std::size_t start = next() ? next()->at : 0;
    Ratio value;
    if (!quantity(value)) return false;
    if (!next()) {
        if (default_unit_ == Unit::inch) return finish(value, {127, 5}, Unit::inch);
        if (has_fraction_)
            return refuse("length-fraction-of-mm", start,
                          "a fraction, but lengths here are in mm. Is it inches?",
                          "Write the unit behind it: 63 1/4 in, or 1606.5 mm.");
        return finish(value, {1, 1}, Unit::mm);
    }
    const Token unit = *next();
    if (unit.kind == Kind::number || unit.kind == Kind::fraction || unit.kind == Kind::dash)
        return refuse("length-two-numbers", unit.at, "a second number without a mark. Is it feet and inches?",
                      "Which is meant? Write 5' 3 1/4\" for feet and inches, or one number.");
    ++next_;
    if (unit.kind == Kind::foot) return imperial(value, start);
    if (next())
        return refuse("length-after-unit", next()->at, "more follows after the unit",
                      "Write one number and one unit, such as 1607 mm or 63 1/4 in.");
    switch (unit.kind) {
        case Kind::yard:
            return finish(value, {4572, 5}, Unit::inch);
        case Kind::inch:
            return finish(value, {127, 5}, Unit::inch);
        case Kind::centimetre:
            return finish(value, {10, 1}, Unit::mm);
        case Kind::metre:
            like_thousands_ = nullptr;  // a thousand metres is no length here, so the comma is a decimal one
            return finish(value, {1000, 1}, Unit::mm);
        default:
            return finish(value, {1, 1}, Unit::mm);
    }
}

bool Reader::finish(Ratio value, Ratio unit_mm, Unit unit) {
    if (like_thousands_)
        return refuse("length-comma", like_thousands_->at,
                      "a comma before three digits. Thousands or decimals?",
                      "Write thousands without the comma (1607) or decimals with a point (1.607).");
    const std::optional<Ratio> mm = product(value, unit_mm);
    const bool too_long =
        mm ? mm->num / mm->den >= kLongestLength_mm && (mm->num > kLongestLength_mm * mm->den)
           : !(value < 1000000);
    if (too_long) {
        fault_.numbers.push_back({"limit", static_cast<double>(kLongestLength_mm), "mm"});
        return refuse("length-too-large", tokens_.front().at, "longer than 1000 m",
                      "Look at the reading again: is a space or a point missing, or is the unit another?");
    }
    if (!mm) return refuse_too_fine(tokens_.front().at);
    length_.typed = std::string(text_);
    length_.value = {negative_ ? -mm->num : mm->num, mm->den};
    length_.unit = unit;
    return true;
}

}  // namespace

Result<TypedLength> parse_length(std::string_view text, Unit default_unit, bool allow_negative) {
    return Reader(text, default_unit, allow_negative).read();
}

}  // namespace spile
