// Keys of the document as a trimmer says them: a sentence is read on a screen too, where there are no keys; the place beside
// it has the key for who writes the file.
#pragma once

#include <string>
#include <string_view>

#include "core/base/finding.h"

namespace spile {

/// "slit gap" of "slit_gap", "side that is marked" of "mark_on": in the middle of a sentence, without an article.
std::string key_words(std::string_view key);

/// "The size of opening 1/post", at the beginning of one; of the job and its goods the thing alone: "The usable width".
std::string said_key(std::string_view key, const Subject& subject);

/// "In a job file: ..."
std::string in_a_file(const std::string& example);

}  // namespace spile
