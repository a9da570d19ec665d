// Faults of a document as JSON, in words a trimmer can use.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "core/base/finding.h"

namespace spile {

/// What the parser's complaint means. `read`: how many bytes it had read when it gave up, the offending one included;
/// `token`: what it read last; `complaint`: nlohmann-json's own text.
Finding unreadable_json(std::string_view text, std::size_t read, std::string_view token,
                        std::string_view complaint);

Finding duplicate_key(const std::string& key, int line, int first_line, const std::string& pointer);
Finding file_too_large(std::size_t bytes, std::size_t limit);
Finding json_limit(const char* code, int line, const char* says, const char* what, double limit);

/// A stop when the bytes are not UTF-8 by their first look (UTF-16, a binary file).
std::optional<Finding> not_utf8(std::string_view text);

/// `text` fit to print whatever a file holds: control characters as a dot, cut at 60 characters.
std::string printable(std::string_view text);
std::string in_quotes(std::string_view text);  ///< the same between quotation marks

}  // namespace spile
