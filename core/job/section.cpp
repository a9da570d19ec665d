#include "core/job/section.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

std::vector<std::string> known_keys(const KeyTable& table) {
    std::vector<std::string> names;
    for (const Key& key : table.keys) {
        if (!key.name) break;
        names.push_back(key.name);
    }
    return names;
}

/// Optimal string alignment: insertions, deletions, changes and swaps of neighbours cost one each.
std::size_t keystrokes_between(const std::string& a, const std::string& b) {
    const std::size_t columns = b.size() + 1;
    std::vector<std::size_t> before_last(columns), last(columns), row(columns);
    for (std::size_t j = 0; j < columns; ++j) last[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        row[0] = i;
        for (std::size_t j = 1; j < columns; ++j) {
            const std::size_t changed = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, changed});
            const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
            if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
        }
        std::swap(before_last, last);
        std::swap(last, row);
    }
    return last[b.size()];
}

std::string lower_ascii(std::string text) {
    for (char& c : text) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return text;
}

std::size_t character_count(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0) != 0x80; }));
}

std::size_t most_characters(TextRule rule) {
    switch (rule) {
        case TextRule::id:
            return limits::id_characters;
        case TextRule::line:
            return limits::line_characters;
        case TextRule::notes:
            return limits::notes_characters;
    }
    return limits::line_characters;
}

bool is_control(char c, TextRule rule) {
    if (rule == TextRule::notes && (c == '\n' || c == '\t' || c == '\r')) return false;
    return static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
}

}  // namespace

std::string Place::pointer() const {
    if (!up_) return "";
    std::string pointer = up_->pointer();
    add_pointer_step(pointer, up_->value_->is(Kind::list) ? std::to_string(index_) : std::string(name_));
    return pointer;
}

void Faults::add(Finding finding) {
    if (findings_.size() < limits::findings) {
        findings_.push_back(std::move(finding));
    } else {
        ++unlisted_;
    }
}

void Faults::stop(const char* code, const Place& at, const Subject& subject, std::string says,
                  std::string to_do, std::vector<Quantity> numbers) {
    Finding f;
    f.code = code;
    f.severity = Severity::stop;
    f.subject = subject;
    f.numbers = std::move(numbers);
    f.says = std::move(says);
    f.to_do = std::move(to_do);
    f.where = at.where();
    add(std::move(f));
}

std::vector<Finding> Faults::take() {
    if (unlisted_ > 0) {
        Finding f;
        f.code = "more-faults";
        f.severity = Severity::stop;
        f.subject = {"job", ""};
        f.numbers = {{"not listed", static_cast<double>(unlisted_), ""}};
        f.says = "The file has " + std::to_string(unlisted_) + " more faults than the " +
                 std::to_string(limits::findings) + " listed.";
        f.to_do = "Mend the first ones and read the file again: many may have one cause.";
        f.where = "/";
        findings_.push_back(std::move(f));
        unlisted_ = 0;
    }
    return std::move(findings_);
}

std::optional<std::string> read_text(Faults& faults, const Place& at, const Subject& subject,
                                     const std::string& name, TextRule rule) {
    if (!at->is(Kind::text)) {
        faults.stop("wrong-type", at, subject,
                    said_key(name, subject) + " must be a text, but is " + kind_word(at->kind) + ".",
                    at->is(Kind::null) ? "Write a text in double quotes, or leave the key out."
                                       : "Put it in double quotes.");
        return std::nullopt;
    }
    const std::string& text = at->text;
    const std::size_t characters = character_count(text), most = most_characters(rule);
    if (characters > most) {
        faults.stop(
            "text-too-long", at, subject,
            said_key(name, subject) + " has " + std::to_string(characters) + " characters; at most " +
                std::to_string(most) + " fit.",
            "Shorten it.",
            {{"characters", static_cast<double>(characters), ""}, {"limit", static_cast<double>(most), ""}});
        return std::nullopt;
    }
    if (std::any_of(text.begin(), text.end(), [rule](char c) { return is_control(c, rule); })) {
        faults.stop("text-control-character", at, subject,
                    said_key(name, subject) + " holds a line break or another character that cannot be printed: " +
                        in_quotes(text) + ".",
                    rule == TextRule::notes ? "Delete that character." : "Write it on one line.");
        return std::nullopt;
    }
    if (rule == TextRule::id) {
        const char* fault = text.empty()                  ? "is empty"
                            : trimmed(text) != text       ? "begins or ends with a space"
                            : text.find('/') != text.npos ? "holds a slash, which parts a panel from its edge"
                                                          : nullptr;
        if (fault) {
            faults.stop("bad-id", at, subject, said_key(name, subject) + " " + fault + ": " + in_quotes(text) + ".",
                        "Give it a short name such as \"3\" or \"table post\".");
            return std::nullopt;
        }
    }
    return text;
}

std::string length_words(double mm, Unit unit) {
    return plain_length(mm, {unit, 64, 0.1, true, false});
}

std::optional<double> read_length_mm(Faults& faults, const Place& at, const Subject& subject,
                                     const std::string& name, Unit unit, LengthRule rule) {
    if (!at->is(Kind::text) && !at->is(Kind::number)) {
        faults.stop("wrong-type", at, subject,
                    said_key(name, subject) + " must be a length, but is " + kind_word(at->kind) + ".",
                    "Write a number, or a text as on a tape: \"48 1/4\", \"4' 0 1/4\\\"\" or \"1226 mm\".");
        return std::nullopt;
    }
    Result<TypedLength> length = parse_length(at->text, unit);
    for (Finding& f : length.findings) {
        f.subject = subject;
        f.where = at.where();
        f.says = said_key(name, subject) + ": " + f.says;
        faults.add(std::move(f));
    }
    if (!length) return std::nullopt;
    const double mm = length->mm();
    const bool too_small = mm < rule.least_mm || (rule.above && mm == rule.least_mm);
    if (!too_small && mm <= rule.most_mm) return mm;
    const double limit = too_small ? rule.least_mm : rule.most_mm;
    const std::string limit_words =
        too_small && rule.above && limit == 0
            ? std::string("must be more than nothing")
            : (too_small ? "must be at least " : "can be at most ") + length_words(limit, unit);
    faults.stop("length-out-of-range", at, subject,
                said_key(name, subject) + " is " + in_quotes(at->text) + ", which is " + length_words(mm, unit) +
                    ", but " + limit_words + ".",
                std::string("Look at the number and its unit; a number without a unit is read in ") +
                    (unit == Unit::inch ? "inches" : "millimetres") + " here.",
                {{"value", mm, "mm"}, {"limit", limit, "mm"}});
    return std::nullopt;
}

std::optional<std::string> nearest_word(const std::string& word, const std::vector<std::string>& candidates) {
    constexpr std::size_t longest = 64;  // nothing longer is a slip of the keys of a known word
    if (word.size() > longest) return std::nullopt;
    std::optional<std::string> nearest;
    // One or two letters are a different name at the first stroke; only their case can be a slip.
    std::size_t least = word.size() < 3 ? 1 : std::max<std::size_t>(1, word.size() / 3) + 1;
    for (const std::string& candidate : candidates) {
        const std::size_t strokes = keystrokes_between(lower_ascii(word), lower_ascii(candidate));
        if (strokes >= least) continue;
        least = strokes;
        nearest = candidate;
    }
    return nearest;
}

std::string list_some(std::vector<std::string> words) {
    constexpr std::size_t shown = 16;
    if (words.size() > shown) {
        const std::size_t more = words.size() - shown;
        words.resize(shown);
        words.push_back(std::to_string(more) + " more");
    }
    return list_words(words);
}

std::string did_you_mean(const std::string& word, const std::vector<std::string>& candidates) {
    const std::optional<std::string> nearest = nearest_word(word, candidates);
    return nearest ? "Did you mean " + in_quotes(*nearest) + "? " : "";
}

Section::Section(Faults& faults, const Place& place, const KeyTable& table, Subject subject)
    : faults_(faults), place_(place), table_(table), subject_(std::move(subject)) {
    if (!place_->is(Kind::object)) {
        stop("wrong-type", place_,
             std::string("Here stands ") + kind_word(place_->kind) + " where " + table.what +
                 " is a group in braces.",
             "Write { \"" + std::string(table.keys[0].name) + "\": ... }; see docs/job-format.md.");
        return;
    }
    const std::vector<std::string> known = known_keys(table);
    for (std::size_t i = 0; i < place_->keys.size(); ++i) {
        const std::string& key = place_->keys[i];
        if (std::find(known.begin(), known.end(), key) != known.end()) continue;
        stop("unknown-key", place_.key(key, place_->items[i]),
             std::string("There is no ") + in_quotes(key) + " in " + table.what + ".",
             did_you_mean(key, known) + "Known here: " + list_words(known) + ".");
    }
}

std::optional<Place> Section::find(const char* key) const {
    SPILE_CHECK(std::any_of(table_.keys.begin(), table_.keys.end(),
                            [key](const Key& k) { return k.name && std::string_view(k.name) == key; }));
    if (!place_->is(Kind::object)) return std::nullopt;
    const JsonValue* value = place_->find(key);
    if (!value) return std::nullopt;
    return place_.key(key, *value);
}

std::optional<Place> Section::need(const char* key, const char* example) {
    std::optional<Place> at = find(key);
    if (!at && place_->is(Kind::object)) {
        stop("missing-key", place_, said_key(key, subject_) + " is missing.",
             "Say it. " + in_a_file(example));
    }
    return at;
}

bool Section::right_kind(const Place& at, const char* key, Kind kind) {
    if (at->is(kind)) return true;
    stop("wrong-type", at,
         said_key(key, subject_) + " must be " + kind_word(kind) + ", but is " + kind_word(at->kind) + ".",
         kind == Kind::list     ? "Write it in brackets: [ ... ]."
         : kind == Kind::number ? "Write the number alone, without quotes and without a unit."
                                : "Write true or false, without quotes.");
    return false;
}

std::optional<Place> Section::list(const char* key, std::size_t most) {
    std::optional<Place> at = find(key);
    if (!at || !right_kind(*at, key, Kind::list)) return std::nullopt;
    const std::size_t count = (*at)->items.size();
    if (count <= most) return at;
    stop("too-many", *at,
         said_key(key, subject_) + ": " + std::to_string(count) + " entries; at most " + std::to_string(most) +
             " are read.",
         "Is this the right file? Split a very large job into several.",
         {{"entries", static_cast<double>(count), ""}, {"limit", static_cast<double>(most), ""}});
    return std::nullopt;
}

bool Section::text(const char* key, std::string& out, TextRule rule) {
    const std::optional<Place> at = find(key);
    if (!at) return false;
    std::optional<std::string> text = read_text(faults_, *at, subject_, key, rule);
    if (!text) return false;
    out = std::move(*text);
    return true;
}

bool Section::length(const char* key, Unit unit, double& out_mm, LengthRule rule) {
    const std::optional<Place> at = find(key);
    if (!at) return false;
    const std::optional<double> mm = read_length_mm(faults_, *at, subject_, key, unit, rule);
    if (!mm) return false;
    out_mm = *mm;
    return true;
}

bool Section::number(const char* key, double& out, double least, double most, const char* unit,
                     const char* to_do) {
    const std::optional<Place> at = find(key);
    if (!at || !right_kind(*at, key, Kind::number)) return false;
    const double value = (*at)->number;
    if (value >= least && value <= most) {
        out = value;
        return true;
    }
    const std::string behind = *unit ? std::string(" ") + unit : std::string();
    stop("number-out-of-range", *at,
         said_key(key, subject_) + " is " + (*at)->text + behind + "; it lies between " + shortest(least) + " and " +
             shortest(most) + behind + ".",
         to_do, {{"value", value, unit}, {"least", least, unit}, {"most", most, unit}});
    return false;
}

bool Section::flag(const char* key, bool& out) {
    const std::optional<Place> at = find(key);
    if (!at || !right_kind(*at, key, Kind::boolean)) return false;
    out = (*at)->flag;
    return true;
}

std::optional<std::size_t> Section::choice_index(const char* key, const std::vector<std::string>& words) {
    const std::optional<Place> at = find(key);
    if (!at) return std::nullopt;
    std::vector<std::string> shown;
    for (const std::string& word : words) shown.push_back(in_quotes(word));
    if (!(*at)->is(Kind::text)) {
        stop("wrong-type", *at,
             said_key(key, subject_) + " must be one of " + list_words(shown) + ", but is " + kind_word((*at)->kind) +
                 ".",
             "Write the word in double quotes.");
        return std::nullopt;
    }
    const auto found = std::find(words.begin(), words.end(), (*at)->text);
    if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
    stop("unknown-word", *at,
         said_key(key, subject_) + " is " + in_quotes((*at)->text) + ", which is none of " + list_words(shown) + ".",
         did_you_mean((*at)->text, words) + "Write one of them.");
    return std::nullopt;
}

}  // namespace spile
