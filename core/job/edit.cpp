// Applying edits and taking them back.
#include "core/job/edit.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/job/edit_faults.h"
#include "core/job/json_faults.h"
#include "core/job/said.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

/// A thing on the way down, and what it is.
struct Found {
    JsonValue* value = nullptr;
    Part part;
};

/// Applies one edit after another to one document.
class Editor {
  public:
    explicit Editor(JsonValue& said) : said_(said) {}

    /// Why the edit cannot be applied; nothing when it was.
    std::optional<Finding> apply(const Edit& edit) {
        const std::optional<std::vector<std::string>> steps = steps_of(edit.target);
        if (!steps || steps->size() > 6)
            return edit_stop("edit-target", in_quotes(edit.target) + " is no address of a part of the job.",
                             "Write it as \"/spaces/cockpit/ties/t2\".");
        if (edit.field.empty()) return entry(edit, *steps);
        if (edit.field == "@order") return order(edit, *steps);
        return field(edit, *steps);
    }

    /// What stands at a field of a thing; null when there is none.
    const JsonValue* value_at(const std::string& target, const std::string& field) {
        const std::optional<std::vector<std::string>> steps = steps_of(target);
        const std::optional<Found> thing = steps ? find(*steps, steps->size(), false) : std::nullopt;
        if (!thing) return nullptr;
        return field.empty() ? thing->value : thing->value->find(field);
    }

  private:
    static Finding no_such(const Edit& edit) {
        return edit_stop("edit-target", "There is nothing at " + in_quotes(edit.target) + ".",
                         "It may have been taken out meanwhile: look at the job again.");
    }
    static Finding outdated(const Edit& edit, const JsonValue* there) {
        const std::string what = edit.field.empty() ? in_quotes(edit.target)
                                                    : in_quotes(edit.field) + " of " + in_quotes(edit.target);
        return edit_stop("edit-outdated",
                         what + " is " + (there ? value_words(*there) : std::string("not there")) +
                             " and not, as the edit says, " +
                             (edit.was ? value_words(*edit.was) : std::string("absent")) + ".",
                         "Look at the job again and repeat the change.");
    }

    /// The thing the steps lead to. `make`: groups on the way that are not there are made, entries of lists never.
    std::optional<Found> find(const std::vector<std::string>& steps, std::size_t count, bool make) {
        Found at{&said_, {Part::Kind::group, &job_keys, Holds::group}};
        for (std::size_t i = 0; i < count; ++i) {
            const std::string& step = steps[i];
            switch (at.part.kind) {
                case Part::Kind::leaf:
                    return std::nullopt;
                case Part::Kind::group: {
                    const Part part = part_of(at.part.table, step);
                    if (part.kind == Part::Kind::leaf) return std::nullopt;
                    JsonValue* value = at.value->find(step);
                    if (!value && !make) return std::nullopt;
                    if (!value)
                        value = &at.value->set(
                            step, part.kind == Part::Kind::list ? JsonValue::list() : JsonValue::object());
                    at = {value, part};
                    break;
                }
                case Part::Kind::named_groups: {
                    const std::optional<std::string> name = named_as(*at.value, step);
                    if (!name && !make) return std::nullopt;
                    JsonValue* value =
                        name ? at.value->find(*name) : &at.value->set(step, JsonValue::object());
                    at = {value, {Part::Kind::group, at.part.table, Holds::group}};
                    break;
                }
                case Part::Kind::list: {
                    const std::optional<std::size_t> index = entry_index(*at.value, at.part.holds, step);
                    if (!index) return std::nullopt;
                    at = {&at.value->items[*index], {Part::Kind::group, at.part.table, Holds::group}};
                    break;
                }
            }
            if (!fits(*at.value, at.part)) return std::nullopt;
        }
        return at;
    }

    static std::optional<std::size_t> entry_index(const JsonValue& list, Holds holds,
                                                  const std::string& name) {
        const std::vector<std::string> names = entry_names(list, holds);
        const auto at = std::find(names.begin(), names.end(), name);
        if (at == names.end()) return std::nullopt;
        return static_cast<std::size_t>(at - names.begin());
    }

    static std::optional<JsonValue> canonical(const std::optional<JsonValue>& value, const Part& part) {
        return value ? canonical_value(*value, part) : std::nullopt;
    }

    /// Groups and lists that an edit has emptied go, so that between two edits the document is as before and after all.
    void prune(const std::vector<std::string>& steps, std::size_t count) {
        for (; count > 0; --count) {
            const std::optional<Found> emptied = find(steps, count, false),
                                       parent = find(steps, count - 1, false);
            if (!emptied || !parent || !emptied->value->items.empty() ||
                parent->part.kind == Part::Kind::list)
                return;
            const bool by_name = parent->part.kind == Part::Kind::named_groups;
            parent->value->erase(by_name ? named_as(*parent->value, steps[count - 1]).value_or("")
                                         : steps[count - 1]);
        }
    }

    std::optional<Finding> field(const Edit& edit, const std::vector<std::string>& steps) {
        if (edit.behind)
            return edit_stop("edit-form", "\"behind\" belongs to an entry that comes or goes.", "");
        if (steps.empty() && edit.field == "spile")
            return edit_stop("edit-form", "The version of the format is not edited.", "");
        const std::optional<Found> thing = find(steps, steps.size(), edit.shall.has_value());
        if (!thing || thing->part.kind != Part::Kind::group) {
            // Nothing to be taken out of nothing.
            if (!edit.was && !edit.shall) return std::nullopt;
            return no_such(edit);
        }
        const Part part = part_of(thing->part.table, edit.field);
        const std::optional<JsonValue> was = canonical(edit.was, part), shall = canonical(edit.shall, part);
        const JsonValue* there = thing->value->find(edit.field);
        if (!same_said(there, was ? &*was : nullptr)) return outdated(edit, there);
        if (shall) {
            thing->value->set(edit.field, *shall);
        } else {
            thing->value->erase(edit.field);
            prune(steps, steps.size());
        }
        return std::nullopt;
    }

    std::optional<Finding> entry(const Edit& edit, const std::vector<std::string>& steps) {
        if (edit.was.has_value() == edit.shall.has_value())
            return edit_stop("edit-form", "An entry either comes or goes: give \"old\" or \"new\".", "");
        const std::optional<Found> list =
            steps.empty() ? std::nullopt : find(steps, steps.size() - 1, edit.shall.has_value());
        if (!list || list->part.kind != Part::Kind::list) return no_such(edit);
        JsonValue& items = *list->value;
        const Holds holds = list->part.holds;
        const Part part{Part::Kind::group, list->part.table, Holds::group};
        const std::optional<std::size_t> index = entry_index(items, holds, steps.back());
        if (edit.was) {
            if (!index) return no_such(edit);
            const std::optional<JsonValue> was = canonical(edit.was, part);
            if (!same_said(&items.items[*index], was ? &*was : nullptr))
                return outdated(edit, &items.items[*index]);
            items.items.erase(items.items.begin() + static_cast<std::ptrdiff_t>(*index));
            prune(steps, steps.size() - 1);
            return std::nullopt;
        }
        if (index) return outdated(edit, &items.items[*index]);
        std::size_t at = items.items.size();
        if (edit.behind && edit.behind->empty()) at = 0;
        if (edit.behind && !edit.behind->empty()) {
            const std::optional<std::size_t> before = entry_index(items, holds, *edit.behind);
            if (before) at = *before + 1;
        }
        items.items.insert(items.items.begin() + static_cast<std::ptrdiff_t>(at),
                           canonical(edit.shall, part).value_or(JsonValue::object()));
        if (entry_index(items, holds, steps.back()) == at) return std::nullopt;
        return edit_stop("edit-form",
                         "The entry for " + in_quotes(edit.target) + " does not go by that name itself.",
                         "Give it the id that its address says.");
    }

    std::optional<Finding> order(const Edit& edit, const std::vector<std::string>& steps) {
        const std::optional<Found> list = find(steps, steps.size(), false);
        if (!list || list->part.kind != Part::Kind::list) return no_such(edit);
        if (!edit.was || !edit.shall || !edit.was->is(Kind::list) || !edit.shall->is(Kind::list))
            return edit_stop("edit-form", "An order goes from one list of names to another.", "");
        const std::vector<std::string> names = entry_names(*list->value, list->part.holds);
        const JsonValue there = names_as_json(names);
        if (!same_said(there, *edit.was)) return outdated(edit, &there);
        JsonValue sorted = JsonValue::list();
        std::vector<bool> done(names.size());
        for (const JsonValue& name : edit.shall->items) {
            const auto at = std::find(names.begin(), names.end(), name.text);
            const auto i = static_cast<std::size_t>(at - names.begin());
            if (at == names.end() || !name.is(Kind::text) || done[i] ||
                edit.shall->items.size() != names.size())
                return edit_stop("edit-form", "The new order must name each entry once.", "");
            done[i] = true;
            sorted.items.push_back(list->value->items[i]);
        }
        *list->value = std::move(sorted);
        return std::nullopt;
    }

    JsonValue& said_;
};

}  // namespace

JsonValue settled_form(JsonValue said) {
    give_readings_ids_everywhere(said);
    return canonical_said(std::move(said));
}

Result<JsonValue> apply_edits(const JsonValue& said, const std::vector<Edit>& edits) {
    if (edits.size() > most_edits) {
        return Result<JsonValue>::refuse(edit_stop("too-many-edits",
                                                   count_of(edits.size(), "edit", "edits") +
                                                       " at once are more than " +
                                                       std::to_string(most_edits) + ".",
                                                   "Make them in several steps.",
                                                   {{"edits", static_cast<double>(edits.size()), ""},
                                                    {"limit", static_cast<double>(most_edits), ""}}));
    }
    JsonValue edited = said;
    Editor editor(edited);
    for (std::size_t i = 0; i < edits.size(); ++i) {
        std::optional<Finding> fault = editor.apply(edits[i]);
        if (!fault) continue;
        fault->where = "edit " + std::to_string(i + 1);
        return Result<JsonValue>::refuse(std::move(*fault));
    }
    return Result<JsonValue>::ok(settled_form(std::move(edited)));
}

std::optional<JsonValue> value_at(const JsonValue& said, const std::string& target,
                                  const std::string& field) {
    JsonValue copy = said;
    const JsonValue* value = Editor(copy).value_at(target, field);
    if (!value) return std::nullopt;
    return *value;
}

std::vector<Edit> inverse(const std::vector<Edit>& edits) {
    std::vector<Edit> back(edits.rbegin(), edits.rend());
    for (Edit& edit : back) std::swap(edit.was, edit.shall);
    return back;
}

}  // namespace spile
