// What leads from one document to another; edits as JSON.
#include <algorithm>
#include <set>

#include "core/job/edit.h"
#include "core/job/edit_faults.h"
#include "core/job/json_faults.h"
#include "core/job/said.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;
using Slot = const JsonValue*;

class Comparison {
  public:
    void fields(Slot from, Slot to, const KeyTable* table, const std::string& target) {
        std::vector<std::string> keys;
        for (const Slot side : {from, to}) {
            for (std::size_t i = 0; side && i < side->keys.size(); ++i) {
                if (std::find(keys.begin(), keys.end(), side->keys[i]) == keys.end())
                    keys.push_back(side->keys[i]);
            }
        }
        for (const std::string& key : keys)
            field(from ? from->find(key) : nullptr, to ? to->find(key) : nullptr, part_of(table, key), target,
                  key);
    }

    std::vector<Edit> edits;

  private:
    void field(Slot from, Slot to, const Part& part, const std::string& target, const std::string& key) {
        if (same_said(from, to)) return;
        const std::string inner = step_added(target, key);
        const bool enter = part.kind != Part::Kind::leaf && can_enter(from, part) && can_enter(to, part);
        if (!enter) return set(target, key, from, to);
        switch (part.kind) {
            case Part::Kind::leaf:
                break;
            case Part::Kind::group:
                return fields(from, to, part.table, inner);
            case Part::Kind::named_groups:
                return named_groups(from, to, part.table, inner);
            case Part::Kind::list:
                return list(from, to, part, inner);
        }
    }

    static bool can_enter(Slot slot, const Part& part) {
        if (!slot) return true;
        if (!fits(*slot, part)) return false;
        if (part.kind != Part::Kind::list) return true;
        const std::vector<std::string> names = entry_names(*slot, part.holds);
        return std::none_of(names.begin(), names.end(), [](const std::string& n) { return n[0] == '#'; });
    }

    void set(const std::string& target, const std::string& field, Slot from, Slot to) {
        Edit edit;
        edit.target = target;
        edit.field = field;
        if (from) edit.was = *from;
        if (to) edit.shall = *to;
        edits.push_back(std::move(edit));
    }

    void named_groups(Slot from, Slot to, const KeyTable* table, const std::string& target) {
        std::vector<std::string> names;
        for (const Slot side : {from, to}) {
            if (side) names.insert(names.end(), side->keys.begin(), side->keys.end());
        }
        std::sort(names.begin(), names.end());
        names.erase(std::unique(names.begin(), names.end()), names.end());
        // A name turned round is one gone and another come, so the first goes before the other comes.
        for (const bool going : {true, false}) {
            for (const std::string& name : names) {
                const Slot a = from ? from->find(name) : nullptr, b = to ? to->find(name) : nullptr;
                if ((a && !b) == going) fields(a, b, table, step_added(target, name));
            }
        }
    }

    void list(Slot from, Slot to, const Part& part, const std::string& target) {
        const JsonValue none = JsonValue::list();
        if (!from) from = &none;
        if (!to) to = &none;
        const std::vector<std::string> old_names = entry_names(*from, part.holds),
                                       new_names = entry_names(*to, part.holds);
        const std::set<std::string> old_set(old_names.begin(), old_names.end()),
            new_set(new_names.begin(), new_names.end());
        std::vector<std::string> now;
        for (std::size_t i = 0; i < old_names.size(); ++i) {
            if (new_set.count(old_names[i]) > 0) {
                now.push_back(old_names[i]);
            } else {
                set(step_added(target, old_names[i]), "", &from->items[i], nullptr);
                edits.back().behind = now.empty() ? "" : now.back();
            }
        }
        for (std::size_t i = 0; i < new_names.size(); ++i) {
            const std::string behind = i == 0 ? "" : new_names[i - 1];
            if (old_set.count(new_names[i]) > 0) {
                const auto at = std::find(old_names.begin(), old_names.end(), new_names[i]);
                fields(&from->items[static_cast<std::size_t>(at - old_names.begin())], &to->items[i],
                       part.table, step_added(target, new_names[i]));
                continue;
            }
            set(step_added(target, new_names[i]), "", nullptr, &to->items[i]);
            edits.back().behind = behind;
            const auto at = behind.empty() ? now.begin() : std::find(now.begin(), now.end(), behind) + 1;
            now.insert(at, new_names[i]);
        }
        if (now == new_names) return;
        const JsonValue old_order = names_as_json(now), new_order = names_as_json(new_names);
        set(target, "@order", &old_order, &new_order);
    }
};

std::optional<Finding> take_text(const JsonValue& object, const char* key, std::string& out) {
    const JsonValue* value = object.find(key);
    if (value && value->is(Kind::text)) {
        out = value->text;
        return std::nullopt;
    }
    return edit_stop("edit-form", std::string("An edit needs ") + in_quotes(key) + ", a text.",
                     "Write {\"target\", \"field\", \"old\", \"new\"}.");
}

}  // namespace

std::vector<Edit> edits_between(const JsonValue& from, const JsonValue& to) {
    Comparison comparison;
    comparison.fields(&from, &to, &job_keys, "");
    return std::move(comparison.edits);
}

Result<std::vector<Edit>> edits_from_json(const JsonValue& list) {
    Result<std::vector<Edit>> result;
    if (!list.is(Kind::list)) {
        result.findings.push_back(edit_stop("edit-form", "Edits are a list.", "Write [ ... ]."));
        return result;
    }
    std::vector<Edit> edits;
    for (std::size_t i = 0; i < list.items.size(); ++i) {
        const JsonValue& item = list.items[i];
        Edit edit;
        std::vector<std::optional<Finding>> faults;
        faults.push_back(take_text(item, "target", edit.target));
        faults.push_back(take_text(item, "field", edit.field));
        if (const JsonValue* was = item.find("old")) edit.was = *was;
        if (const JsonValue* shall = item.find("new")) edit.shall = *shall;
        if (item.find("behind")) {
            edit.behind.emplace();
            faults.push_back(take_text(item, "behind", *edit.behind));
        }
        for (std::optional<Finding>& fault : faults) {
            if (!fault) continue;
            fault->where = "edit " + std::to_string(i + 1);
            result.findings.push_back(std::move(*fault));
        }
        edits.push_back(std::move(edit));
    }
    if (result.findings.empty()) result.value = std::move(edits);
    return result;
}

JsonValue edits_as_json(const std::vector<Edit>& edits) {
    JsonValue list = JsonValue::list();
    for (const Edit& edit : edits) {
        JsonValue item = JsonValue::object();
        item.set("target", JsonValue::of_text(edit.target));
        item.set("field", JsonValue::of_text(edit.field));
        if (edit.was) item.set("old", *edit.was);
        if (edit.shall) item.set("new", *edit.shall);
        if (edit.behind) item.set("behind", JsonValue::of_text(*edit.behind));
        list.items.push_back(std::move(item));
    }
    return list;
}

}  // namespace spile
