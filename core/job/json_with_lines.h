// A JSON document as it was written: order of keys, digits as typed, and the line of every value.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/result.h"

namespace spile {

struct JsonValue {
    enum class Kind { null, boolean, number, text, list, object };

    Kind kind = Kind::null;
    int line = 0;  ///< from 1, where the value stands in its file; 0: it came from no file
    bool flag = false;
    double number = 0;
    std::string text;               ///< of a text; of a number, its digits as typed
    std::vector<std::string> keys;  ///< of an object: keys[i] names items[i]
    std::vector<JsonValue> items;   ///< of a list or an object

    static JsonValue of_text(std::string text);
    static JsonValue of_whole(long long value);
    static JsonValue list();
    static JsonValue object();

    bool is(Kind k) const { return kind == k; }
    /// The first value of that key, or null. Requires: nothing; other kinds have no keys.
    const JsonValue* find(std::string_view key) const;
    JsonValue* find(std::string_view key);
    /// Sets or appends. Requires: an object.
    JsonValue& set(std::string_view key, JsonValue value);
    void erase(std::string_view key);

    /// Same content in the same order; lines do not count.
    bool operator==(const JsonValue& other) const;
};

const char* kind_word(JsonValue::Kind kind);  ///< "a text", "a list"

/// What a document may hold, so that no file can exhaust the machine. A job of 10,000 ties stays far below.
struct JsonLimits {
    std::size_t bytes = 4'000'000;
    std::size_t values = 400'000;
    int depth = 16;
};

/// Reads JSON (RFC 8259, UTF-8) with `//` and `/* */` comments, which are dropped.
/// Guarantees: time and memory linear in the text; no recursion deeper than `limits.depth`.
/// On bad input: a stop "not-json", "not-utf8", "file-too-large", "too-deep" or "too-many-values" with line and column and
/// no value; duplicate keys give a stop "duplicate-key" each and the value keeps both, the first one counting.
Result<JsonValue> parse_json(std::string_view text, const JsonLimits& limits = {});

/// Appends "/key" to a JSON pointer (RFC 6901); a key that cannot be printed or is very long is shortened, for it is a
/// person who reads it.
void add_pointer_step(std::string& pointer, std::string_view key);

/// "line 12, /spaces/0/ties/3"; without a line, the pointer alone; the whole document is "/".
std::string where_text(int line, const std::string& pointer);

}  // namespace spile
