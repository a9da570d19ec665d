// A document for a person: facts one to a line, lists as tables.
#include <algorithm>
#include <set>

#include "cli/shop_call.h"
#include "cli/terminal.h"
#include "core/base/text.h"

namespace spile::cli {
namespace {

bool ends_with(const std::string& text, const std::string& end) {
    return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

std::string heading(std::string key) {
    if (ends_with(key, "_mm2"))
        key.resize(key.size() - 4);
    else if (ends_with(key, "_mm"))
        key.resize(key.size() - 3);
    std::replace(key.begin(), key.end(), '_', ' ');
    return key;
}

const std::set<std::string>& moments() {
    static const std::set<std::string> keys = {"at", "created", "changed", "received", "added", "taken_back"};
    return keys;
}

bool is_money(const Json& value) {
    return value.is_object() && value.contains("coins") && value.contains("text");
}

bool is_plain(const Json& value) {
    return is_money(value) || (!value.is_structured() && !value.is_null());
}

bool is_nothing(const Json& value) {
    return value.is_null() || value == 0 || value == "" || value == false || value == false ||
           (is_money(value) && value["coins"] == 0);
}

std::string cell(const std::string& key, const Json& value, LengthStyle style);

/// Further lengths of a layout: "roll 2, used 42 13/16 in".
std::string more_of(const Json& rows, const LengthStyle& style) {
    std::string text;
    for (const Json& row : rows) {
        std::string part;
        for (const auto& [key, value] : row.items())
            if (is_plain(value) && !is_nothing(value))
                part += (part.empty() ? "" : ", ") + heading(key) + " " + cell(key, value, style);
        text += (text.empty() ? "" : "; ") + part;
    }
    return text;
}

std::string cell(const std::string& key, const Json& value, LengthStyle style) {
    if (key == "more" && value.is_array()) return more_of(value, style);
    if (is_money(value)) return harmless(value["text"].get<std::string>());
    if (value.is_string()) return harmless(value.get<std::string>());
    if (value.is_boolean()) return value.get<bool>() ? "yes" : "no";
    if (!value.is_number()) return "";
    if (moments().count(key)) return value == 0 ? "" : shop::date_of(value.get<shop::Seconds>());
    const double number = value.get<double>();
    style.with_unit = true;
    if (ends_with(key, "_mm")) return plain_length(number, style);
    if (ends_with(key, "_mm2"))
        return style.unit == Unit::inch ? fixed(number / (304.8 * 304.8), 1) + " sq ft"
                                        : fixed(number / 1e6, 2) + " m2";
    return value.is_number_integer() ? std::to_string(value.get<std::int64_t>()) : fixed(number, 2);
}

/// Columns in the order of the keys; one that holds nothing in any row is left out.
std::string table(const Json& list, const LengthStyle& style) {
    std::vector<std::string> keys;
    for (const auto& item : list.front().items())
        if (std::any_of(list.begin(), list.end(), [&](const Json& row) {
                if (!row.contains(item.key())) return false;
                const Json& value = row[item.key()];
                return item.key() == "more" ? !value.empty() : is_plain(value) && !is_nothing(value);
            }))
            keys.push_back(item.key());
    std::vector<std::vector<std::string>> rows(1);
    for (const std::string& key : keys) rows[0].push_back(heading(key));
    for (const Json& row : list) {
        rows.emplace_back();
        for (const std::string& key : keys)
            rows.back().push_back(row.contains(key) && (row[key].is_boolean() || !is_nothing(row[key]))
                                      ? cell(key, row[key], style)
                                      : "");
    }
    return table_text(rows);
}

std::string list_text(const std::string& key, const Json& list, const LengthStyle& style) {
    if (list.empty()) return heading(key) + ": none\n";
    if (list.front().is_object()) return heading(key) + '\n' + table(list, style);
    std::string text = heading(key) + '\n';
    for (const Json& item : list)
        if (item.is_string()) text += wrapped("  -", harmless(item.get<std::string>()), 4, terminal_width());
    return text;
}

}  // namespace

std::string readable(const Json& json, const LengthStyle& style) {
    std::string facts, lists;
    for (const auto& [key, value] : json.items()) {
        if (value.is_array()) {
            lists += (lists.empty() && facts.empty() ? "" : "\n") + list_text(key, value, style);
        } else if (is_plain(value)) {
            if (!is_nothing(value) || value == false || is_money(value))
                facts += heading(key) + ": " + cell(key, value, style) + '\n';
        } else if (value.is_object()) {
            lists += (lists.empty() && facts.empty() ? "" : "\n") + heading(key) + '\n';
            for (const auto& [inner, fact] : value.items())
                if (is_plain(fact) && !is_nothing(fact))
                    lists += "  " + heading(inner) + ": " + cell(inner, fact, style) + '\n';
        }
    }
    return facts + lists;
}

}  // namespace spile::cli
