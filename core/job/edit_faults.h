// What edits and merges share inside of core/job.
#pragma once

#include <string>
#include <vector>

#include "core/base/finding.h"
#include "core/job/json_with_lines.h"

namespace spile {

Finding edit_stop(const char* code, std::string says, std::string to_do, std::vector<Quantity> numbers = {});

/// A value as a finding says it: short, in quotes where it is a text.
std::string value_words(const JsonValue& value);

/// A value on one line of JSON.
std::string flat_json(const JsonValue& value);

JsonValue names_as_json(const std::vector<std::string>& names);

/// Every reading that has no id gets the first free "t1", "t2", ... of its space.
void give_readings_ids_everywhere(JsonValue& said);

}  // namespace spile
