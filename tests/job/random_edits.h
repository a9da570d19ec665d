// Random edits of a job, as a person at a screen makes them: for property tests.
#pragma once

#include <random>
#include <string>
#include <vector>

#include "core/job/edit.h"

namespace spile::testing {

class RandomEdits {
  public:
    explicit RandomEdits(unsigned seed) : random_(seed) {}

    /// The document after `count` edits; they are appended to `edits`.
    JsonValue line(JsonValue said, int count, std::vector<Edit>& edits);

  private:
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(random_() % n); }
    const std::string& one_of(const std::vector<std::string>& words) { return words[below(words.size())]; }

    Edit any(const JsonValue& said);
    Edit set(const JsonValue& said, const std::string& target, const std::string& field, JsonValue shall);
    Edit clear(const JsonValue& said, const std::string& target, const std::string& field);
    Edit come(const JsonValue& said, const std::string& list, const std::string& prefix);
    Edit go(const JsonValue& said, const std::string& list);
    Edit reorder(const JsonValue& said, const std::string& list);
    std::vector<std::string> ids(const JsonValue& said, const std::string& list);

    std::mt19937 random_;
};

}  // namespace spile::testing
