#include "core/job/said.h"

#include <algorithm>
#include <set>

#include "core/base/text.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

std::string text_at(const JsonValue& object, const char* key) {
    const JsonValue* value = object.find(key);
    return value && value->is(Kind::text) ? value->text : std::string();
}

void order_keys(JsonValue& object, const KeyTable* table) {
    const auto rank = [table](const std::string& key) {
        std::size_t i = 0;
        for (; table && i < table->keys.size() && table->keys[i].name; ++i) {
            if (key == table->keys[i].name) return i;
        }
        return i;
    };
    std::vector<std::size_t> order(object.keys.size()), ranks;
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    for (const std::string& key : object.keys) ranks.push_back(rank(key));
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        if (ranks[a] != ranks[b]) return ranks[a] < ranks[b];
        return object.keys[a] < object.keys[b];
    });
    JsonValue sorted = JsonValue::object();
    sorted.line = object.line;
    for (const std::size_t i : order) {
        sorted.keys.push_back(std::move(object.keys[i]));
        sorted.items.push_back(std::move(object.items[i]));
    }
    object = std::move(sorted);
}

/// A value that edits do not go into: objects in it have their keys in order, nothing else changes.
void order_deep(JsonValue& value, const KeyTable* table) {
    for (JsonValue& item : value.items) order_deep(item, value.is(Kind::list) ? table : nullptr);
    if (value.is(Kind::object)) order_keys(value, table);
}

void make_canonical(JsonValue& object, const KeyTable* table);

void make_canonical(JsonValue& value, const Part& part) {
    if (!fits(value, part)) return order_deep(value, part.table);
    switch (part.kind) {
        case Part::Kind::leaf:
            order_deep(value, part.table);
            break;
        case Part::Kind::group:
            make_canonical(value, part.table);
            break;
        case Part::Kind::named_groups:
            for (JsonValue& item : value.items) make_canonical(item, Part{Part::Kind::group, part.table});
            for (std::size_t i = value.items.size(); i-- > 0;) {
                if (!value.items[i].is(Kind::object) || !value.items[i].items.empty()) continue;
                value.keys.erase(value.keys.begin() + static_cast<std::ptrdiff_t>(i));
                value.items.erase(value.items.begin() + static_cast<std::ptrdiff_t>(i));
            }
            order_keys(value, nullptr);
            break;
        case Part::Kind::list:
            for (JsonValue& item : value.items) {
                if (item.is(Kind::object)) make_canonical(item, part.table);
            }
            if (part.table == &unsettled_keys) {
                std::stable_sort(value.items.begin(), value.items.end(),
                                 [](const JsonValue& a, const JsonValue& b) {
                                     return text_at(a, "id") < text_at(b, "id");
                                 });
            }
            break;
    }
}

void make_canonical(JsonValue& object, const KeyTable* table) {
    for (std::size_t i = object.items.size(); i-- > 0;) {
        const Part part = part_of(table, object.keys[i]);
        make_canonical(object.items[i], part);
        if (!says_nothing(object.items[i], part)) continue;
        object.keys.erase(object.keys.begin() + static_cast<std::ptrdiff_t>(i));
        object.items.erase(object.items.begin() + static_cast<std::ptrdiff_t>(i));
    }
    order_keys(object, table);
}

std::vector<std::string> ends_of(std::string_view name) {
    std::vector<std::string> ends = split_words(name);
    std::sort(ends.begin(), ends.end());
    return ends;
}

}  // namespace

Part part_of(const KeyTable* table, std::string_view key) {
    if (!table) return {};
    for (const Key& k : table->keys) {
        if (!k.name) break;
        if (key != k.name) continue;
        if (!k.group) return {};
        switch (k.holds) {
            case Holds::group:
                return {Part::Kind::group, k.group, k.holds};
            case Holds::named_groups:
                return {Part::Kind::named_groups, k.group, k.holds};
            case Holds::by_id:
            case Holds::by_code:
                return {Part::Kind::list, k.group, k.holds};
            case Holds::whole_list:
                return {Part::Kind::leaf, k.group, k.holds};
        }
    }
    return {};
}

bool fits(const JsonValue& value, const Part& part) {
    switch (part.kind) {
        case Part::Kind::leaf:
            return true;
        case Part::Kind::group:
            return value.is(Kind::object);
        case Part::Kind::named_groups:
            return value.is(Kind::object) &&
                   std::all_of(value.items.begin(), value.items.end(),
                               [](const JsonValue& item) { return item.is(Kind::object); });
        case Part::Kind::list:
            return value.is(Kind::list);
    }
    return false;
}

bool says_nothing(const JsonValue& value, const Part& part) {
    return part.kind != Part::Kind::leaf && value.items.empty() && fits(value, part);
}

std::vector<std::string> entry_names(const JsonValue& list, Holds holds) {
    std::vector<std::string> names;
    std::set<std::string> taken;
    for (std::size_t i = 0; i < list.items.size(); ++i) {
        std::string name = text_at(list.items[i], holds == Holds::by_code ? "code" : "id");
        if (holds == Holds::by_code && !name.empty()) name += " " + text_at(list.items[i], "subject");
        if (name.empty() || taken.count(name) > 0) name = "#" + std::to_string(i + 1);
        while (taken.count(name) > 0) name += "'";
        taken.insert(name);
        names.push_back(std::move(name));
    }
    return names;
}

std::optional<std::string> named_as(const JsonValue& groups, std::string_view name) {
    if (groups.find(name)) return std::string(name);
    const std::vector<std::string> ends = ends_of(name);
    for (const std::string& key : groups.keys) {
        if (ends_of(key) == ends) return key;
    }
    return std::nullopt;
}

bool same_said(const JsonValue& a, const JsonValue& b) {
    if (a.kind != b.kind || a.items.size() != b.items.size()) return false;
    switch (a.kind) {
        case Kind::null:
            return true;
        case Kind::boolean:
            return a.flag == b.flag;
        case Kind::number:
            return a.number == b.number;
        case Kind::text:
            return a.text == b.text;
        case Kind::list:
            for (std::size_t i = 0; i < a.items.size(); ++i) {
                if (!same_said(a.items[i], b.items[i])) return false;
            }
            return true;
        case Kind::object:
            for (std::size_t i = 0; i < a.items.size(); ++i) {
                const JsonValue* other = b.find(a.keys[i]);
                if (!other || !same_said(a.items[i], *other)) return false;
            }
            return true;
    }
    return false;
}

bool same_said(const JsonValue* a, const JsonValue* b) {
    return a && b ? same_said(*a, *b) : a == b;
}

JsonValue canonical_said(JsonValue said) {
    if (said.is(Kind::object)) make_canonical(said, &job_keys);
    return said;
}

std::optional<JsonValue> canonical_value(JsonValue value, const Part& part) {
    make_canonical(value, part);
    if (says_nothing(value, part)) return std::nullopt;
    return value;
}

std::optional<std::vector<std::string>> steps_of(std::string_view target) {
    std::vector<std::string> steps;
    if (target.empty()) return steps;
    if (target[0] != '/') return std::nullopt;
    for (std::size_t i = 0; i < target.size(); ++i) {
        if (target[i] == '/') {
            steps.emplace_back();
        } else if (target[i] != '~') {
            steps.back() += target[i];
        } else if (i + 1 < target.size() && (target[i + 1] == '0' || target[i + 1] == '1')) {
            steps.back() += target[++i] == '0' ? '~' : '/';
        } else {
            return std::nullopt;
        }
    }
    return steps;
}

std::string step_added(const std::string& target, std::string_view step) {
    std::string out = target + "/";
    for (const char c : step) {
        if (c == '~') {
            out += "~0";
        } else if (c == '/') {
            out += "~1";
        } else {
            out += c;
        }
    }
    return out;
}

}  // namespace spile
