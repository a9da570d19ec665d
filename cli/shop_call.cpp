#include "cli/shop_call.h"

#include <cmath>
#include <set>

#include "core/base/stop.h"
#include "core/base/text.h"

namespace spile::cli {
namespace {

struct Place {
    std::string name;  ///< "JOB", "limit"
    std::string kind;  ///< "JOB", "COUNT"; empty: a flag
    bool option = false, must = false, again = false;
};

struct Grammar {
    std::size_t words = 0;  ///< of the command's name
    std::vector<Place> places;
};

bool is_name(const std::string& word) {
    return !word.empty() && word[0] >= 'a' && word[0] <= 'z';
}

Grammar grammar_of(const std::string& usage) {
    Grammar grammar;
    const std::vector<std::string> words = split_words(usage);
    for (std::size_t i = 0; i < words.size(); ++i) {
        std::string word = words[i];
        if (is_name(word)) {
            ++grammar.words;
            continue;
        }
        Place place;
        place.must = word[0] != '[';
        if (!place.must) word.erase(0, 1);
        place.option = word.rfind("--", 0) == 0;
        if (place.option && word.back() != ']') place.kind = words[++i];
        std::string& last = place.kind.empty() ? word : place.kind;
        if (last.size() > 3 && last.substr(last.size() - 3) == "...") {
            place.again = true;
            last.resize(last.size() - 3);
        }
        if (last.back() == ']') last.pop_back();
        place.name = place.option ? word.substr(2) : word;
        if (!place.option) place.kind = word;
        grammar.places.push_back(std::move(place));
    }
    return grammar;
}

const std::set<std::string>& whole_kinds() {
    static const std::set<std::string> kinds = {"CUSTOMER", "BOAT",      "JOB",  "GOODS",   "ROLL", "OFFCUT",
                                                "REV",      "OTHER-REV", "YEAR", "FILE-ID", "COUNT"};
    return kinds;
}

std::optional<double> number_of(const std::string& text) {
    std::size_t points = 0;
    if (text.empty() || text.size() > 12) return std::nullopt;
    for (const char c : text) {
        if (c == '.' && ++points == 1) continue;
        if (c < '0' || c > '9') return std::nullopt;
    }
    return text == "." ? std::nullopt : std::optional<double>(std::stod(text));
}

bool is_whole(const std::string& text) {
    return !text.empty() && text.size() <= 15 && text.find_first_not_of("0123456789") == std::string::npos;
}

/// Why `value` is none of its kind; nothing when it is one.
std::vector<Finding> faults_of(const Place& place, const std::string& value, Unit unit) {
    const auto wrong = [&](const std::string& what) {
        return std::vector<Finding>{refusal("not-understood",
                                            "\"" + value.substr(0, 60) + "\" for " +
                                                (place.option ? "--" : "") + place.name + " is " + what + ".",
                                            "Give another.")};
    };
    if (whole_kinds().count(place.kind) && !is_whole(value)) return wrong("no whole number");
    if (place.kind == "MINUTES" && !number_of(value)) return wrong("no number of minutes");
    if (place.kind == "DAY") return shop::parse_date(value).findings;
    if (place.kind == "LENGTH") return parse_length(value, unit).findings;
    return {};
}

}  // namespace

Finding refusal(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"shop", ""});
}

std::string name_of(const Verb& verb) {
    std::string name;
    for (const std::string& word : split_words(verb.usage)) {
        if (!is_name(word)) break;
        name += (name.empty() ? "" : " ") + word;
    }
    return name;
}

Result<Call> Call::parse(const Verb& verb, const std::vector<std::string>& rest, Unit unit) {
    const Grammar grammar = grammar_of(verb.usage);
    Call call;
    call.unit_ = unit;
    const auto refused = [&](const std::string& says) {
        return Result<Call>::refuse(
            refusal("not-understood", says, std::string("It goes: spile shop ") + verb.usage));
    };
    std::vector<Finding> findings;
    const auto take = [&](const Place& place, const std::string& value) {
        append(findings, faults_of(place, value, unit));
        call.said_[place.name].push_back(value);
    };
    auto next = grammar.places.begin();
    for (std::size_t i = 0; i < rest.size(); ++i) {
        if (rest[i].rfind("--", 0) == 0) {
            const std::string name = rest[i].substr(2);
            auto place = grammar.places.begin();
            while (place != grammar.places.end() && !(place->option && place->name == name)) ++place;
            if (place == grammar.places.end())
                return refused("There is no option --" + name.substr(0, 60) + " here.");
            if (call.has(name) && !place->again) return refused("--" + name + " is given twice.");
            if (place->kind.empty()) {
                call.said_[name];
            } else if (++i == rest.size()) {
                return refused("--" + name + " needs " + place->kind + " behind it.");
            } else {
                take(*place, rest[i]);
            }
            continue;
        }
        while (next != grammar.places.end() && next->option) ++next;
        if (next == grammar.places.end())
            return refused("There is one word too many: \"" + rest[i].substr(0, 60) + "\".");
        take(*next, rest[i]);
        if (!next->again) ++next;
    }
    for (const Place& place : grammar.places)
        if (place.must && !call.has(place.name))
            return refused((place.option ? "--" : "") + place.name + " is missing.");
    if (!findings.empty()) return {std::nullopt, std::move(findings)};
    return Result<Call>::ok(std::move(call));
}

std::string Call::text(const std::string& name, const std::string& otherwise) const {
    return maybe(name).value_or(otherwise);
}

std::optional<std::string> Call::maybe(const std::string& name) const {
    const auto at = said_.find(name);
    return at == said_.end() || at->second.empty() ? std::nullopt
                                                   : std::optional<std::string>(at->second.front());
}

std::vector<std::string> Call::all(const std::string& name) const {
    const auto at = said_.find(name);
    return at == said_.end() ? std::vector<std::string>{} : at->second;
}

shop::Id Call::whole(const std::string& name, shop::Id otherwise) const {
    const std::optional<std::string> said = maybe(name);
    return said ? std::stoll(*said) : otherwise;
}

double Call::number(const std::string& name) const {
    return number_of(text(name)).value_or(0);
}

std::int64_t Call::um(const std::string& name) const {
    const std::optional<std::string> said = maybe(name);
    return said ? std::llround(parse_length(*said, unit_)->mm() * 1000) : 0;
}

}  // namespace spile::cli
