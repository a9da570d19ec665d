// The document as a tree that edits and merges can address: what its parts are, and one way of writing each. Inside of
// core/job.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/job/json_with_lines.h"
#include "core/job/keys.h"

namespace spile {

/// What stands under a key: a leaf is one value however large.
struct Part {
    enum class Kind { leaf, group, named_groups, list };
    Kind kind = Kind::leaf;
    const KeyTable* table = nullptr;  ///< of the group, of each named group, of each entry
    Holds holds = Holds::group;       ///< of a list: how its entries are told apart
};

/// A leaf for keys that the table does not know. Requires: nothing; a null table knows none.
Part part_of(const KeyTable* table, std::string_view key);

/// Whether a value can be gone into as this part; false sends an edit or a merge to treat it as one value.
bool fits(const JsonValue& value, const Part& part);

/// Whether leaving the value out says the same: a group or a list that holds nothing.
bool says_nothing(const JsonValue& value, const Part& part);

/// What the entries of a list go by, one for each: the id, or code and subject behind a space. An entry that has none,
/// or one that came before, goes by "#" and its number from 1.
std::vector<std::string> entry_names(const JsonValue& list, Holds holds);

/// The name under which a group stands in `groups`: an edge is the same either way round ("A B", "B A").
std::optional<std::string> named_as(const JsonValue& groups, std::string_view name);

/// Whether two values say the same: keys in any order, numbers by their value ("1.50" is 1.5). Null pointers: not there.
bool same_said(const JsonValue& a, const JsonValue& b);
bool same_said(const JsonValue* a, const JsonValue* b);

/// The one order of keys: that of the table, then unknown ones and the names of edges by their bytes; groups and lists that
/// hold nothing are left out where leaving out means the same. Nothing else changes.
JsonValue canonical_said(JsonValue said);
/// The same of one value that stands or shall stand under a key; nothing when it says nothing.
std::optional<JsonValue> canonical_value(JsonValue value, const Part& part);

/// The steps of an address ("/spaces/cockpit/ties/t2"), unescaped as RFC 6901 says; nothing when it is none.
std::optional<std::vector<std::string>> steps_of(std::string_view target);
std::string step_added(const std::string& target, std::string_view step);

}  // namespace spile
