#include "core/job/json_with_lines.h"

#include <algorithm>
#include <cstdint>
#include <iterator>
#include <nlohmann/json.hpp>
#include <numeric>

#include "core/base/check.h"
#include "core/job/json_faults.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

/// Walks the text and tells how far the reader has come, which is what turns a value into a line.
class CountingIterator {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CountingIterator(const char* at, const char** furthest) : at_(at), furthest_(furthest) {}
    reference operator*() const { return *at_; }
    CountingIterator& operator++() {
        *furthest_ = ++at_;
        return *this;
    }
    CountingIterator operator++(int) {
        CountingIterator before = *this;
        ++*this;
        return before;
    }
    bool operator==(const CountingIterator& other) const { return at_ == other.at_; }
    bool operator!=(const CountingIterator& other) const { return at_ != other.at_; }

  private:
    const char* at_;
    const char** furthest_;
};

/// Builds the tree from the events of the parser. Containers are kept on `open_` until they end.
class TreeBuilder : public nlohmann::json_sax<nlohmann::json> {
  public:
    TreeBuilder(std::string_view text, const char* const* furthest, const JsonLimits& limits)
        : text_(text), furthest_(furthest), counted_(text.data()), limits_(limits) {}

    bool null() override { return put(Kind::null); }
    bool boolean(bool value) override {
        JsonValue v = made(Kind::boolean);
        v.flag = value;
        return add(std::move(v));
    }
    bool number_integer(number_integer_t value) override {
        return put_number(static_cast<double>(value), std::to_string(value));
    }
    bool number_unsigned(number_unsigned_t value) override {
        return put_number(static_cast<double>(value), std::to_string(value));
    }
    bool number_float(number_float_t value, const string_t& digits) override {
        return put_number(value, with_point(digits));
    }
    bool string(string_t& value) override {
        JsonValue v = made(Kind::text);
        v.text = std::move(value);
        return add(std::move(v));
    }
    bool binary(binary_t&) override { return false; }
    bool start_object(std::size_t) override { return open(Kind::object); }
    bool key(string_t& value) override {
        open_.back().keys.push_back(std::move(value));
        return true;
    }
    bool end_object() override {
        refuse_duplicates(open_.back());
        return close();
    }
    bool start_array(std::size_t) override { return open(Kind::list); }
    bool end_array() override { return close(); }
    bool parse_error(std::size_t, const std::string& token,
                     const nlohmann::detail::exception& error) override {
        const auto read = static_cast<std::size_t>(*furthest_ - text_.data());
        findings_.push_back(unreadable_json(text_, read, token, error.what()));
        return false;
    }

    JsonValue& root() { return root_; }
    std::vector<Finding>& findings() { return findings_; }

  private:
    /// The parser has read one character behind a number, and none behind anything else.
    int line() {
        const char* last_read = *furthest_ == text_.data() ? *furthest_ : *furthest_ - 1;
        line_ += static_cast<int>(std::count(counted_, last_read, '\n'));
        counted_ = last_read;
        return line_;
    }
    JsonValue made(Kind kind) {
        JsonValue v;
        v.kind = kind;
        v.line = line();
        return v;
    }
    bool put(Kind kind) { return add(made(kind)); }
    bool put_number(double value, std::string digits) {
        JsonValue v = made(Kind::number);
        v.number = value;
        v.text = std::move(digits);
        return add(std::move(v));
    }
    /// The parser writes the decimal point of the host's locale into the digits.
    static std::string with_point(std::string digits) {
        for (char& c : digits) {
            const bool of_a_number = (c >= '0' && c <= '9') || c == '-' || c == '+' || c == 'e' || c == 'E';
            if (!of_a_number) c = '.';
        }
        return digits;
    }

    bool open(Kind kind) {
        if (open_.size() >= static_cast<std::size_t>(limits_.depth)) {
            findings_.push_back(
                json_limit("too-deep", line(), "Brackets stand inside brackets", "levels", limits_.depth));
            return false;
        }
        open_.push_back(made(kind));
        return true;
    }
    bool close() {
        JsonValue done = std::move(open_.back());
        open_.pop_back();
        return add(std::move(done));
    }
    bool add(JsonValue value) {
        if (++values_ > limits_.values) {
            findings_.push_back(json_limit("too-many-values", value.line,
                                           "The file holds more values than a job can use", "values",
                                           static_cast<double>(limits_.values)));
            return false;
        }
        if (open_.empty()) {
            root_ = std::move(value);
        } else {
            open_.back().items.push_back(std::move(value));
        }
        return true;
    }

    void refuse_duplicates(const JsonValue& object) {
        std::vector<std::size_t> order(object.keys.size());
        std::iota(order.begin(), order.end(), std::size_t{0});
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            return object.keys[a] != object.keys[b] ? object.keys[a] < object.keys[b] : a < b;
        });
        std::vector<std::size_t> repeats;
        std::size_t first = 0;
        std::vector<std::size_t> first_of(object.keys.size());
        for (std::size_t i = 1; i < order.size(); ++i) {
            if (object.keys[order[i]] != object.keys[order[first]]) {
                first = i;
                continue;
            }
            repeats.push_back(order[i]);
            first_of[order[i]] = order[first];
        }
        std::sort(repeats.begin(), repeats.end());
        for (const std::size_t i : repeats) {
            std::string pointer = pointer_of_open();
            add_pointer_step(pointer, object.keys[i]);
            findings_.push_back(
                duplicate_key(object.keys[i], object.items[i].line, object.items[first_of[i]].line, pointer));
        }
    }
    std::string pointer_of_open() const {
        std::string pointer;
        for (std::size_t i = 0; i + 1 < open_.size(); ++i) {
            add_pointer_step(pointer, open_[i].is(Kind::object) ? open_[i].keys.back()
                                                                : std::to_string(open_[i].items.size()));
        }
        return pointer;
    }

    std::string_view text_;
    const char* const* furthest_;
    const char* counted_;
    int line_ = 1;
    JsonLimits limits_;
    std::size_t values_ = 0;
    std::vector<JsonValue> open_;
    JsonValue root_;
    std::vector<Finding> findings_;
};

}  // namespace

JsonValue JsonValue::of_text(std::string text) {
    JsonValue v;
    v.kind = Kind::text;
    v.text = std::move(text);
    return v;
}

JsonValue JsonValue::of_whole(long long value) {
    JsonValue v;
    v.kind = Kind::number;
    v.number = static_cast<double>(value);
    v.text = std::to_string(value);
    return v;
}

JsonValue JsonValue::list() {
    JsonValue v;
    v.kind = Kind::list;
    return v;
}

JsonValue JsonValue::object() {
    JsonValue v;
    v.kind = Kind::object;
    return v;
}

const JsonValue* JsonValue::find(std::string_view key) const {
    for (std::size_t i = 0; i < keys.size(); ++i) {
        if (keys[i] == key) return &items[i];
    }
    return nullptr;
}

JsonValue* JsonValue::find(std::string_view key) {
    return const_cast<JsonValue*>(static_cast<const JsonValue*>(this)->find(key));
}

JsonValue& JsonValue::set(std::string_view key, JsonValue value) {
    SPILE_CHECK(is(Kind::object));
    if (JsonValue* there = find(key)) return *there = std::move(value);
    keys.emplace_back(key);
    items.push_back(std::move(value));
    return items.back();
}

void JsonValue::erase(std::string_view key) {
    for (std::size_t i = keys.size(); i-- > 0;) {
        if (keys[i] != key) continue;
        keys.erase(keys.begin() + static_cast<std::ptrdiff_t>(i));
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(i));
    }
}

bool JsonValue::operator==(const JsonValue& other) const {
    return kind == other.kind && flag == other.flag && text == other.text && keys == other.keys &&
           items == other.items;
}

const char* kind_word(JsonValue::Kind kind) {
    switch (kind) {
        case Kind::null:
            return "null";
        case Kind::boolean:
            return "true or false";
        case Kind::number:
            return "a number";
        case Kind::text:
            return "a text";
        case Kind::list:
            return "a list";
        case Kind::object:
            return "a group in braces";
    }
    return "null";
}

Result<JsonValue> parse_json(std::string_view text, const JsonLimits& limits) {
    if (text.size() > limits.bytes)
        return Result<JsonValue>::refuse(file_too_large(text.size(), limits.bytes));
    if (std::optional<Finding> fault = not_utf8(text)) return Result<JsonValue>::refuse(std::move(*fault));
    const char* furthest = text.data();
    TreeBuilder builder(text, &furthest, limits);
    const CountingIterator begin(text.data(), &furthest), end(text.data() + text.size(), &furthest);
    constexpr bool nothing_behind = true, comments = true;
    const bool read = nlohmann::json::sax_parse(begin, end, &builder, nlohmann::json::input_format_t::json,
                                                nothing_behind, comments);
    Result<JsonValue> result;
    result.findings = std::move(builder.findings());
    if (read) result.value = std::move(builder.root());
    SPILE_CHECK(read || has_stop(result.findings));
    return result;
}

void add_pointer_step(std::string& pointer, std::string_view key) {
    pointer += '/';
    for (const char c : printable(key)) {
        if (c == '~') {
            pointer += "~0";
        } else if (c == '/') {
            pointer += "~1";
        } else {
            pointer += c;
        }
    }
}

std::string where_text(int line, const std::string& pointer) {
    const std::string path = pointer.empty() ? "/" : pointer;
    return line > 0 ? "line " + std::to_string(line) + ", " + path : path;
}

}  // namespace spile
