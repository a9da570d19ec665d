// The document as text.
#include "core/job/document.h"
#include "core/job/edit_faults.h"
#include "core/job/keys.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr std::size_t longest_line = 100;  ///< groups and lists that fit are written on one line
constexpr int indent_step = 2;

void write_text(const std::string& text, std::string& out) {
    static constexpr char hex[] = "0123456789abcdef";
    out += '"';
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        switch (c) {
            case '"':
                out += "\\\"";
                break;
            case '\\':
                out += "\\\\";
                break;
            case '\n':
                out += "\\n";
                break;
            case '\t':
                out += "\\t";
                break;
            case '\r':
                out += "\\r";
                break;
            default:
                if (byte < 0x20) {
                    out += "\\u00";
                    out += hex[byte >> 4];
                    out += hex[byte & 0xF];
                } else {
                    out += c;
                }
        }
    }
    out += '"';
}

/// Known keys in the order of their table, then the others as they came.
std::vector<std::size_t> order_of(const JsonValue& object, const KeyTable* table) {
    std::vector<std::size_t> order;
    std::vector<bool> done(object.keys.size());
    if (table) {
        for (const Key& key : table->keys) {
            if (!key.name) break;
            for (std::size_t i = 0; i < object.keys.size(); ++i) {
                if (done[i] || object.keys[i] != key.name) continue;
                order.push_back(i);
                done[i] = true;
            }
        }
    }
    for (std::size_t i = 0; i < object.keys.size(); ++i) {
        if (!done[i]) order.push_back(i);
    }
    return order;
}

/// What a value under `key` of a group by `table` is ordered by.
struct Ordering {
    const KeyTable* table = nullptr;
    bool named_groups = false;  ///< the value itself is a map of free names to groups by `table`

    Ordering of(const std::string& key) const {
        if (named_groups) return {table, false};
        if (!table) return {};
        for (const Key& k : table->keys) {
            if (k.name && key == k.name) return {k.group, k.holds == Holds::named_groups};
        }
        return {};
    }
    const KeyTable* own_table() const { return named_groups ? nullptr : table; }
};

void write_flat(const JsonValue& value, const Ordering& ordering, std::string& out) {
    switch (value.kind) {
        case Kind::null:
            out += "null";
            break;
        case Kind::boolean:
            out += value.flag ? "true" : "false";
            break;
        case Kind::number:
            out += value.text;
            break;
        case Kind::text:
            write_text(value.text, out);
            break;
        case Kind::list:
            out += '[';
            for (std::size_t i = 0; i < value.items.size(); ++i) {
                if (i > 0) out += ", ";
                write_flat(value.items[i], ordering, out);
            }
            out += ']';
            break;
        case Kind::object: {
            if (value.items.empty()) {
                out += "{}";
                break;
            }
            const char* before = "{ ";
            for (const std::size_t i : order_of(value, ordering.own_table())) {
                out += before;
                write_text(value.keys[i], out);
                out += ": ";
                write_flat(value.items[i], ordering.of(value.keys[i]), out);
                before = ", ";
            }
            out += " }";
        }
    }
}

/// Broken over lines where it does not fit on one, or always when `open`.
void write(const JsonValue& value, const Ordering& ordering, int indent, bool open, std::string& out) {
    const bool nests = value.is(Kind::list) || value.is(Kind::object);
    if (!nests || value.items.empty()) return write_flat(value, ordering, out);
    if (!open) {
        std::string flat;
        write_flat(value, ordering, flat);
        if (flat.size() + static_cast<std::size_t>(indent) <= longest_line) {
            out += flat;
            return;
        }
    }
    const std::string inner = "\n" + std::string(static_cast<std::size_t>(indent + indent_step), ' ');
    const bool object = value.is(Kind::object);
    out += object ? '{' : '[';
    const std::vector<std::size_t> order =
        object ? order_of(value, ordering.own_table()) : std::vector<std::size_t>{};
    for (std::size_t n = 0; n < value.items.size(); ++n) {
        const std::size_t i = object ? order[n] : n;
        if (n > 0) out += ',';
        out += inner;
        if (object) {
            write_text(value.keys[i], out);
            out += ": ";
        }
        write(value.items[i], object ? ordering.of(value.keys[i]) : ordering, indent + indent_step, false,
              out);
    }
    out += "\n" + std::string(static_cast<std::size_t>(indent), ' ');
    out += object ? '}' : ']';
}

}  // namespace

std::string write_said(const JsonValue& said) {
    std::string out;
    write(said, {&job_keys, false}, 0, true, out);
    out += '\n';
    return out;
}

std::string flat_json(const JsonValue& value) {
    std::string out;
    write_flat(value, {}, out);
    return out;
}

std::string write_job(const Job& job) {
    return write_said(job.said);
}

}  // namespace spile
