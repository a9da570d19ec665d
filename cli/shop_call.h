// One command of `spile shop`: its usage line is its grammar, so that help and what is understood never part.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "shop/show.h"

namespace spile::cli {

using shop::Json;

/// What a command answers: a document; in words where a table of it would not do.
struct Said {
    Json json;
    std::string text = {};  ///< empty: readable(json)
    bool as_is = false;     ///< without --json, `text` is a file's bytes and is printed as it is
};

struct Verb;

/// A command as it was given, every word already proved to be of its kind.
class Call {
  public:
    /// On bad input: a stop "not-understood" that shows the usage.
    static Result<Call> parse(const Verb& verb, const std::vector<std::string>& rest, Unit unit);

    bool has(const std::string& name) const { return said_.count(name) != 0; }
    std::string text(const std::string& name, const std::string& otherwise = "") const;
    std::optional<std::string> maybe(const std::string& name) const;
    std::vector<std::string> all(const std::string& name) const;
    shop::Id whole(const std::string& name, shop::Id otherwise = 0) const;
    double number(const std::string& name) const;
    std::int64_t um(const std::string& name) const;  ///< of a LENGTH; 0 when it was not given

    shop::Store* store = nullptr;  ///< null where Verb::needs says so
    std::string book;              ///< its file
    std::string by, day;           ///< who, and the day that counts as today
    LengthStyle style;

  private:
    std::map<std::string, std::vector<std::string>> said_;
    Unit unit_ = Unit::inch;
};

/// Usage: lower case words name the command; JOB is one that must be given, [TEXT] one that may be, [--limit COUNT] an option,
/// [--rush] a flag; an option that ends in ... may be given again. COUNT, DAY, LENGTH, MINUTES and the names of things that
/// have numbers (JOB, ROLL, ...) are proved before the command runs.
struct Verb {
    enum class Needs { book, nothing };
    const char* usage;
    const char* says;
    Result<Said> (*run)(const Call& call);
    Needs needs = Needs::book;
};

std::vector<Verb> people_verbs();
std::vector<Verb> job_verbs();
std::vector<Verb> stock_verbs();
std::vector<Verb> money_verbs();
std::vector<Verb> repeat_verbs();
std::vector<Verb> safe_verbs();

/// The words before the first that is not lower case: "job add".
std::string name_of(const Verb& verb);

/// A document for a person: facts one to a line, lists as tables without the columns that hold nothing.
std::string readable(const Json& json, const LengthStyle& style);

/// A value as JSON under a name, findings passed on; most commands are this.
template <class T>
Result<Said> say(Result<T> result, const char* name = nullptr) {
    if (!result) return {std::nullopt, std::move(result.findings)};
    Json json = shop::shown(*result);
    return {Said{name ? Json{{name, std::move(json)}} : std::move(json)}, std::move(result.findings)};
}

/// A refusal of the shell's own.
Finding refusal(const char* code, std::string says, std::string to_do);

}  // namespace spile::cli
