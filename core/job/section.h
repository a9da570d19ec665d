// Reading a document piece by piece: where each value stands, and every fault collected.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/length.h"
#include "core/job/json_with_lines.h"
#include "core/job/keys.h"

namespace spile {

/// A value and the way to it. Requires: the place it came from outlives it.
class Place {
  public:
    explicit Place(const JsonValue& root) : value_(&root) {}

    Place key(std::string_view name, const JsonValue& value) const { return Place(value, this, name, 0); }
    Place item(std::size_t index) const { return Place(value_->items[index], this, {}, index); }

    const JsonValue& value() const { return *value_; }
    const JsonValue* operator->() const { return value_; }
    std::string pointer() const;
    std::string where() const { return where_text(value_->line, pointer()); }

  private:
    Place(const JsonValue& value, const Place* up, std::string_view name, std::size_t index)
        : value_(&value), up_(up), name_(name), index_(index) {}

    const JsonValue* value_;
    const Place* up_ = nullptr;
    std::string_view name_;
    std::size_t index_ = 0;
};

/// All faults of a document. Beyond limits::findings they are counted instead of listed, so that a file of nonsense
/// stays readable; a single last finding says how many there were.
class Faults {
  public:
    void add(Finding finding);
    void stop(const char* code, const Place& at, const Subject& subject, std::string says, std::string to_do,
              std::vector<Quantity> numbers = {});
    std::size_t count() const { return findings_.size() + unlisted_; }
    std::vector<Finding> take();

  private:
    std::vector<Finding> findings_;
    std::size_t unlisted_ = 0;
};

/// A word of a choice and what it means.
template <class E>
struct Choice {
    const char* word;
    E value;
};

struct LengthRule {
    double least_mm = 0;
    bool above = false;  ///< must be more than `least_mm`
    double most_mm = 100'000;
};
inline constexpr LengthRule any_length{};
inline constexpr LengthRule more_than_nothing{0, true, 100'000};

/// A length as findings say it: to 1/64 in or 0.1 mm, with its unit.
std::string length_words(double mm, Unit unit);

enum class TextRule { id, line, notes };

/// Reads a text that fits the rule; nothing and a fault otherwise. `name` is what findings call it.
std::optional<std::string> read_text(Faults& faults, const Place& at, const Subject& subject,
                                     const std::string& name, TextRule rule);

/// Reads a length: a text as on a tape, or a plain number; both in `unit` unless the text names its own.
std::optional<double> read_length_mm(Faults& faults, const Place& at, const Subject& subject,
                                     const std::string& name, Unit unit, LengthRule rule);

/// The candidate nearest to `word` when it is near enough to be a slip of the keys; else nothing.
std::optional<std::string> nearest_word(const std::string& word, const std::vector<std::string>& candidates);

/// "A B, B C and C D"; of very many, the first and how many more.
std::string list_some(std::vector<std::string> words);

/// ` Did you mean "width"?`, or nothing.
std::string did_you_mean(const std::string& word, const std::vector<std::string>& candidates);

/// One group of the document. Making one reports a wrong kind and every unknown key. All readers leave `out` as it is
/// and return false when the key is absent or faulty; faults are reported.
class Section {
  public:
    Section(Faults& faults, const Place& place, const KeyTable& table, Subject subject);

    const Place& place() const { return place_; }
    const Subject& subject() const { return subject_; }
    void set_subject(Subject subject) { subject_ = std::move(subject); }

    bool has(const char* key) const { return place_->find(key) != nullptr; }
    std::optional<Place> find(const char* key) const;
    /// The same; absent is a stop "missing-key" that shows `example`.
    std::optional<Place> need(const char* key, const char* example);
    /// A list no longer than `most`; absent is nothing.
    std::optional<Place> list(const char* key, std::size_t most);

    bool text(const char* key, std::string& out, TextRule rule);
    bool length(const char* key, Unit unit, double& out_mm, LengthRule rule);
    bool number(const char* key, double& out, double least, double most, const char* unit,
                const char* to_do = "Write a number in that range.");
    bool flag(const char* key, bool& out);

    template <class E, std::size_t N>
    bool choice(const char* key, E& out, const Choice<E> (&choices)[N]) {
        std::vector<std::string> words;
        for (const Choice<E>& c : choices) words.push_back(c.word);
        const std::optional<std::size_t> index = choice_index(key, words);
        if (!index) return false;
        out = choices[*index].value;
        return true;
    }

    void stop(const char* code, const Place& at, std::string says, std::string to_do,
              std::vector<Quantity> numbers = {}) {
        faults_.stop(code, at, subject_, std::move(says), std::move(to_do), std::move(numbers));
    }

  private:
    std::optional<std::size_t> choice_index(const char* key, const std::vector<std::string>& words);
    bool right_kind(const Place& at, const char* key, JsonValue::Kind kind);

    Faults& faults_;
    Place place_;
    const KeyTable& table_;
    Subject subject_;
};

}  // namespace spile
