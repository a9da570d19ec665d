#include "tests/job/random_edits.h"

#include <algorithm>

namespace spile::testing {
namespace {

JsonValue text(const std::string& t) {
    return JsonValue::of_text(t);
}

/// The list at "/a/b": the field "b" of the thing "/a".
std::optional<JsonValue> list_at(const JsonValue& said, const std::string& list) {
    const std::size_t slash = list.rfind('/');
    return value_at(said, list.substr(0, slash), list.substr(slash + 1));
}

}  // namespace

std::vector<std::string> RandomEdits::ids(const JsonValue& said, const std::string& list) {
    std::vector<std::string> found;
    const std::optional<JsonValue> value = list_at(said, list);
    for (std::size_t i = 0; value && i < value->items.size(); ++i)
        found.push_back(value->items[i].find("id")->text);
    return found;
}

Edit RandomEdits::set(const JsonValue& said, const std::string& target, const std::string& field,
                      JsonValue shall) {
    return {target, field, value_at(said, target, field), std::move(shall), std::nullopt};
}

Edit RandomEdits::clear(const JsonValue& said, const std::string& target, const std::string& field) {
    return {target, field, value_at(said, target, field), std::nullopt, std::nullopt};
}

Edit RandomEdits::come(const JsonValue& said, const std::string& list, const std::string& prefix) {
    const std::vector<std::string> there = ids(said, list);
    std::string id;
    do id = prefix + std::to_string(below(6));  // few, so that two lines often make the same
    while (std::find(there.begin(), there.end(), id) != there.end() && below(8) != 0);
    if (std::find(there.begin(), there.end(), id) != there.end()) return set(said, "", "title", text(id));
    JsonValue entry = JsonValue::object();
    entry.set("id", text(id));
    if (prefix == "n") entry.set("line", text("A B " + std::to_string(90 + below(3))));
    if (prefix == "p") entry.set("mat", text("24 x " + std::to_string(30 + below(3))));
    if (prefix == "o") entry.set("at", text("K"));
    std::optional<std::string> behind;
    if (!there.empty() && below(3) != 0) behind = one_of(there);
    if (!behind && below(2) != 0) behind = "";
    return {list + "/" + id, "", std::nullopt, std::move(entry), std::move(behind)};
}

Edit RandomEdits::go(const JsonValue& said, const std::string& list) {
    const std::vector<std::string> there = ids(said, list);
    if (there.empty()) return clear(said, "", "notes");
    const std::size_t i = below(there.size());
    const std::string target = list + "/" + there[i];
    return {target, "", value_at(said, target, ""), std::nullopt, i == 0 ? "" : there[i - 1]};
}

Edit RandomEdits::reorder(const JsonValue& said, const std::string& list) {
    std::vector<std::string> there = ids(said, list);
    JsonValue was = JsonValue::list(), shall = JsonValue::list();
    for (const std::string& id : there) was.items.push_back(text(id));
    if (!there.empty()) std::swap(there[below(there.size())], there[below(there.size())]);
    for (const std::string& id : there) shall.items.push_back(text(id));
    if (was.items.empty()) return clear(said, "", "boat");
    return {list, "@order", std::move(was), std::move(shall), std::nullopt};
}

Edit RandomEdits::any(const JsonValue& said) {
    const std::vector<std::string> spaces = ids(said, "/spaces"), panels = ids(said, "/panels");
    const std::string space = spaces.empty() ? "" : "/spaces/" + one_of(spaces);
    const std::string panel = panels.empty() ? "" : "/panels/" + one_of(panels);
    const std::string number = std::to_string(below(4));
    switch (below(16)) {
        case 0:
            return set(said, "", one_of({"title", "boat", "notes"}), text("words " + number));
        case 1:
            return set(said, "/goods", one_of({"gap", "thickness", "step"}), text(number + " 1/4"));
        case 2:
            return clear(said, "/finish", one_of({"turn", "binding_growth"}));
        case 3:
            return clear(said, "", one_of({"goods", "clearances", "sewing", "spaces"}));
        case 4:
            return space.empty() ? come(said, "/spaces", "s")
                                 : set(said, space + "/tape", "class", text("III"));
        case 5:
        case 6:
        case 7: {
            const std::vector<std::string> ties =
                space.empty() ? std::vector<std::string>{} : ids(said, space + "/ties");
            if (ties.empty())
                return space.empty() ? clear(said, "", "boat") : come(said, space + "/ties", "n");
            return set(said, space + "/ties/" + ties[below(std::min<std::size_t>(ties.size(), 3))], "line",
                       text("A B 9" + number));
        }
        case 8:
            return space.empty() ? clear(said, "", "boat") : come(said, space + "/ties", "n");
        case 9:
            return space.empty() ? clear(said, "", "boat") : go(said, space + "/ties");
        case 10:
            return come(said, "/panels", "p");
        case 11:
            return go(said, "/panels");
        case 12:
            return reorder(said, "/panels");
        case 13:
            return panel.empty() ? clear(said, "", "boat")
                                 : set(said, panel + "/edges/" + one_of({"A J4", "J4 A", "J2 B"}),
                                       one_of({"situation", "finish"}), text(one_of({"lid", "turned"})));
        case 14:
            return panel.empty() ? clear(said, "", "boat") : come(said, panel + "/openings", "o");
        default:
            return panel.empty() ? clear(said, "", "boat") : set(said, panel, "name", text("name " + number));
    }
}

JsonValue RandomEdits::line(JsonValue said, int count, std::vector<Edit>& edits) {
    for (int i = 0; i < count; ++i) {
        Edit edit = any(said);
        Result<JsonValue> edited = apply_edits(said, {edit});
        if (!edited) continue;  // it set what was not there to what is not there, or the like
        said = std::move(*edited);
        edits.push_back(std::move(edit));
    }
    return said;
}

}  // namespace spile::testing
