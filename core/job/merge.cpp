// Merging two lines of edits: a comparison of three documents, part by part.
#include <algorithm>
#include <cstdint>
#include <map>
#include <set>

#include "core/job/edit.h"
#include "core/job/edit_faults.h"
#include "core/job/said.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;
using Slot = const JsonValue*;  ///< null: not there

Slot find(Slot object, const std::string& key) {
    return object ? object->find(key) : nullptr;
}

/// FNV-1a, 64 bits (Fowler, Noll, Vo; constants from memory): the same conflict has the same id wherever it is met.
std::string conflict_id(const std::string& text) {
    std::uint64_t hash = 14695981039346656037ull;
    for (const char c : text) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 1099511628211ull;
    }
    std::string id = "u";
    for (int i = 0; i < 12; ++i) id += "0123456789abcdef"[(hash >> (4 * i)) & 0xF];
    return id;
}

class Merger {
  public:
    JsonValue run(const JsonValue& base, const JsonValue& x, const JsonValue& y) {
        JsonValue said = fields(&base, &x, &y, &job_keys, "");
        if (unsettled_.empty()) return settled_form(std::move(said));
        JsonValue* list = said.find("unsettled");
        if (!list || !list->is(Kind::list)) list = &said.set("unsettled", JsonValue::list());
        const std::vector<std::string> names = entry_names(*list, Holds::by_id);
        for (auto& [id, entry] : unsettled_) {
            if (std::find(names.begin(), names.end(), id) == names.end())
                list->items.push_back(std::move(entry));
        }
        return settled_form(std::move(said));
    }

  private:
    JsonValue fields(Slot base, Slot x, Slot y, const KeyTable* table, const std::string& target) {
        std::vector<std::string> keys;
        for (const Slot side : {base, x, y}) {
            for (std::size_t i = 0; side && i < side->keys.size(); ++i) {
                if (std::find(keys.begin(), keys.end(), side->keys[i]) == keys.end())
                    keys.push_back(side->keys[i]);
            }
        }
        JsonValue merged = JsonValue::object();
        for (const std::string& key : keys) {
            std::optional<JsonValue> value =
                field(find(base, key), find(x, key), find(y, key), part_of(table, key), target, key);
            if (value) merged.set(key, std::move(*value));
        }
        return merged;
    }

    std::optional<JsonValue> field(Slot base, Slot x, Slot y, const Part& part, const std::string& target,
                                   const std::string& key) {
        if (same_said(x, y) || same_said(y, base)) return copy(x);
        if (same_said(x, base)) return copy(y);
        if (!can_enter(base, x, y, part)) return conflict(base, x, y, target, key);
        const std::string inner = step_added(target, key);
        switch (part.kind) {
            case Part::Kind::leaf:
                break;
            case Part::Kind::group:
                return fields(base, x, y, part.table, inner);
            case Part::Kind::named_groups:
                return named_groups(base, x, y, part.table, inner);
            case Part::Kind::list:
                return list(base, x, y, part, inner);
        }
        return conflict(base, x, y, target, key);
    }

    static bool can_enter(Slot base, Slot x, Slot y, const Part& part) {
        if (part.kind == Part::Kind::leaf) return false;
        for (const Slot side : {base, x, y}) {
            if (!side) continue;
            if (!fits(*side, part)) return false;
            if (part.kind != Part::Kind::list) continue;
            for (const std::string& name : entry_names(*side, part.holds)) {
                if (name[0] == '#') return false;  // its entries cannot be told apart
            }
        }
        return true;
    }

    static std::optional<JsonValue> copy(Slot slot) {
        if (!slot) return std::nullopt;
        return *slot;
    }

    /// Both are kept: the one whose text sorts last, and what is there before what is not, stands.
    std::optional<JsonValue> conflict(Slot base, Slot x, Slot y, const std::string& target,
                                      const std::string& field) {
        const bool x_stands = !y || (x && flat_json(*x) > flat_json(*y));
        const Slot stands = x_stands ? x : y, other = x_stands ? y : x;
        JsonValue entry = JsonValue::object();
        const std::string id = conflict_id(target + "\n" + field + "\n" + (other ? flat_json(*other) : ""));
        entry.set("id", JsonValue::of_text(id));
        entry.set("target", JsonValue::of_text(target));
        entry.set("field", JsonValue::of_text(field));
        if (base) entry.set("was", JsonValue::of_text(flat_json(*base)));
        if (other) entry.set("other", JsonValue::of_text(flat_json(*other)));
        unsettled_.emplace(id, std::move(entry));
        return copy(stands);
    }

    JsonValue named_groups(Slot base, Slot x, Slot y, const KeyTable* table, const std::string& target) {
        // The name that base uses; else the one that sorts first, so that neither side has a say.
        JsonValue names = JsonValue::object();
        std::vector<std::string> all;
        for (const Slot side : {x, y}) {
            if (side) all.insert(all.end(), side->keys.begin(), side->keys.end());
        }
        std::sort(all.begin(), all.end());
        if (base) all.insert(all.begin(), base->keys.begin(), base->keys.end());
        for (const std::string& name : all) {
            if (!named_as(names, name)) names.set(name, JsonValue());
        }
        const auto group = [](Slot groups, const std::string& name) -> Slot {
            const std::optional<std::string> key = groups ? named_as(*groups, name) : std::nullopt;
            return key ? groups->find(*key) : nullptr;
        };
        JsonValue merged = JsonValue::object();
        for (const std::string& name : names.keys) {
            std::optional<JsonValue> value = field(group(base, name), group(x, name), group(y, name),
                                                   {Part::Kind::group, table, Holds::group}, target, name);
            if (value) merged.set(name, std::move(*value));
        }
        return merged;
    }

    /// A list by the names of its entries.
    struct Entries {
        std::vector<std::string> names;
        std::map<std::string, Slot> by_name;

        Entries(Slot list, Holds holds) {
            if (!list) return;
            names = entry_names(*list, holds);
            for (std::size_t i = 0; i < names.size(); ++i) by_name[names[i]] = &list->items[i];
        }
        Slot find(const std::string& name) const {
            const auto at = by_name.find(name);
            return at == by_name.end() ? nullptr : at->second;
        }
    };

    JsonValue list(Slot base_list, Slot x_list, Slot y_list, const Part& part, const std::string& target) {
        const Entries base(base_list, part.holds), x(x_list, part.holds), y(y_list, part.holds);
        std::set<std::string> names(base.names.begin(), base.names.end());
        names.insert(x.names.begin(), x.names.end());
        names.insert(y.names.begin(), y.names.end());
        std::map<std::string, JsonValue> merged;
        for (const std::string& name : names) {
            const Slot b = base.find(name), in_x = x.find(name), in_y = y.find(name);
            const std::string inner = step_added(target, name);
            std::optional<JsonValue> entry;
            if (same_said(in_x, in_y) || same_said(in_y, b)) {
                entry = copy(in_x);
            } else if (same_said(in_x, b)) {
                entry = copy(in_y);
            } else if (in_x && in_y) {
                entry = fields(b, in_x, in_y, part.table, inner);
            } else {
                entry = conflict(b, in_x, in_y, inner, "");
            }
            if (entry) merged.emplace(name, std::move(*entry));
        }
        JsonValue out = JsonValue::list();
        for (const std::string& name : order(base.names, x.names, y.names, merged, target))
            out.items.push_back(std::move(merged.at(name)));
        return out;
    }

    /// Those of `names` that stand in `kept`, in their order.
    static std::vector<std::string> those_in(const std::vector<std::string>& names,
                                             const std::set<std::string>& kept) {
        std::vector<std::string> out;
        std::copy_if(names.begin(), names.end(), std::back_inserter(out),
                     [&kept](const std::string& n) { return kept.count(n) > 0; });
        return out;
    }

    /// Entries that all three know in the order that was changed, if one was; new ones behind the entry they were put behind.
    std::vector<std::string> order(const std::vector<std::string>& base, const std::vector<std::string>& x,
                                   const std::vector<std::string>& y,
                                   const std::map<std::string, JsonValue>& merged,
                                   const std::string& target) {
        std::set<std::string> shared;
        const std::set<std::string> in_x(x.begin(), x.end()), in_y(y.begin(), y.end());
        for (const std::string& name : base) {
            if (in_x.count(name) > 0 && in_y.count(name) > 0) shared.insert(name);
        }
        const std::vector<std::string> as_base = those_in(base, shared), as_x = those_in(x, shared),
                                       as_y = those_in(y, shared);
        std::vector<std::string> first = as_x;
        if (as_x == as_base) first = as_y;
        if (as_x != as_base && as_y != as_base && as_x != as_y) {
            const JsonValue b = names_as_json(as_base), one = names_as_json(as_x), two = names_as_json(as_y);
            conflict(&b, &one, &two, target, "@order");
            first = std::max(flat_json(one), flat_json(two)) == flat_json(one) ? as_x : as_y;
        }

        // The rest hang behind the entry that stands before them in the list they came from.
        std::map<std::string, std::set<std::string>> behind;
        for (const auto& [name, entry] : merged) {
            if (shared.count(name) > 0) continue;
            std::set<std::string> before;
            for (const std::vector<std::string>* side : {&x, &y}) {
                const auto at = std::find(side->begin(), side->end(), name);
                if (at == side->end()) continue;
                auto step = std::make_reverse_iterator(at);
                while (step != side->rend() && merged.count(*step) == 0) ++step;
                before.insert(step == side->rend() ? "" : *step);
            }
            if (!before.empty()) behind[*before.begin()].insert(name);
        }
        std::vector<std::string> out;
        std::set<std::string> placed;
        const auto place = [&](const std::string& root) {
            std::vector<std::string> open{root};
            while (!open.empty()) {
                const std::string name = open.back();
                open.pop_back();
                if (!name.empty()) {
                    if (!placed.insert(name).second) continue;
                    out.push_back(name);
                }
                const auto at = behind.find(name);
                if (at == behind.end()) continue;
                for (auto child = at->second.rbegin(); child != at->second.rend(); ++child)
                    open.push_back(*child);
            }
        };
        place("");
        for (const std::string& name : first) place(name);
        for (const auto& [name, entry] : merged) {
            if (placed.count(name) == 0) place(name);  // two that were each put behind the other
        }
        return out;
    }

    std::map<std::string, JsonValue> unsettled_;  ///< by id
};

}  // namespace

JsonValue merge_said(const JsonValue& base, const JsonValue& x, const JsonValue& y) {
    return Merger().run(base, x, y);
}

}  // namespace spile
