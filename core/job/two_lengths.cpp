#include "core/job/two_lengths.h"

#include "core/base/text.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"

namespace spile {
namespace {

/// Where "x" (or the multiplication sign) stands alone between the two; npos when there is not exactly one.
std::size_t cross_at(const std::string& text, std::size_t& width) {
    std::size_t at = text.npos;
    for (const std::string_view sign :
         {std::string_view("x"), std::string_view("X"), std::string_view("\u00D7")}) {
        for (std::size_t i = text.find(sign); i != text.npos; i = text.find(sign, i + sign.size())) {
            if (at != text.npos) return text.npos;
            at = i;
            width = sign.size();
        }
    }
    return at;
}

}  // namespace

std::optional<std::pair<double, double>> read_two_lengths(Faults& faults, const Place& at,
                                                          const Subject& subject, const std::string& name,
                                                          const std::string& text, Unit unit,
                                                          LengthRule rule) {
    std::size_t width = 0;
    const std::size_t cross = cross_at(text, width);
    if (cross == text.npos) {
        faults.stop(
            "two-lengths", at, subject,
            said_key(name, subject) + " is " + in_quotes(text) + "; it takes two lengths with an x between.",
            "Write for instance " + std::string(unit == Unit::inch ? "\"24 x 36\"" : "\"600 x 900\"") + ".");
        return std::nullopt;
    }
    JsonValue first = JsonValue::of_text(std::string(trimmed(std::string_view(text).substr(0, cross))));
    JsonValue second = JsonValue::of_text(std::string(trimmed(std::string_view(text).substr(cross + width))));

    // A unit behind the second counts for the first, too; one behind the first alone leaves the second open.
    const Result<TypedLength> typed_second = parse_length(second.text, unit);
    const Unit common = typed_second ? typed_second->unit : unit;
    const Result<TypedLength> typed_first = parse_length(first.text, common);
    if (typed_first && typed_second && typed_first->unit != typed_second->unit) {
        faults.stop(
            "two-lengths-units", at, subject,
            said_key(name, subject) + " is " + in_quotes(text) + ": one length in inches and one in millimetres?",
            "Write both in the same unit, with the unit behind the second.",
            {{"first", typed_first->mm(), "mm"}, {"second", typed_second->mm(), "mm"}});
        return std::nullopt;
    }
    const auto read = [&](JsonValue& value, Unit u) {
        // The text stands inside another one; findings point at that.
        Faults own;
        const Place inner(value);
        const auto mm = read_length_mm(own, inner, subject, name, u, rule);
        for (Finding& f : own.take()) {
            f.where = at.where();
            faults.add(std::move(f));
        }
        return mm;
    };
    const auto a = read(first, common), b = read(second, unit);
    if (!a || !b) return std::nullopt;
    return std::pair{*a, *b};
}

}  // namespace spile
