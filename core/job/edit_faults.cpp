#include "core/job/edit_faults.h"

#include "core/base/stop.h"
#include "core/job/json_faults.h"

namespace spile {

using Kind = JsonValue::Kind;

Finding edit_stop(const char* code, std::string says, std::string to_do, std::vector<Quantity> numbers) {
    return stop_finding(code, std::move(says), std::move(to_do), {"job", ""}, std::move(numbers));
}

std::string value_words(const JsonValue& value) {
    switch (value.kind) {
        case Kind::text:
            return in_quotes(value.text);
        case Kind::number:
            return value.text;
        default:
            return printable(flat_json(value));
    }
}

JsonValue names_as_json(const std::vector<std::string>& names) {
    JsonValue list = JsonValue::list();
    for (const std::string& name : names) list.items.push_back(JsonValue::of_text(name));
    return list;
}

}  // namespace spile
