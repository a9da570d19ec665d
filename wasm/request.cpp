#include "wasm/request.h"

#include <cmath>

#include "core/base/stop.h"
#include "core/job/edit.h"
#include "core/job/json_faults.h"
#include "core/job/limits.h"

namespace spile::surface {

using Kind = JsonValue::Kind;

Finding question_fault(std::string says, std::string to_do) {
    return stop_finding("question", std::move(says), std::move(to_do), {"job", ""});
}

Json refused(const std::vector<Finding>& findings) {
    return {{"ok", false}, {"findings", shown(findings)}};
}

void Request::fault(std::string says, std::string to_do) {
    faults_.push_back(question_fault(std::move(says), std::move(to_do)));
}

const JsonValue* Request::need(const char* key, Kind kind) {
    const JsonValue* value = asked_.find(key);
    if (value && value->is(kind)) return value;
    const char* wanted = kind_word(kind);
    fault(std::string("The question needs ") + in_quotes(key) + ", " + wanted + ".",
          std::string("Give ") + in_quotes(key) + ".");
    return nullptr;
}

std::string Request::text(const char* key) {
    const JsonValue* value = need(key, Kind::text);
    return value ? value->text : std::string();
}

double Request::number(const char* key) {
    const JsonValue* value = need(key, Kind::number);
    return value ? value->number : 0;
}

bool Request::flag(const char* key) {
    const JsonValue* value = need(key, Kind::boolean);
    return value && value->flag;
}

std::vector<double> Request::numbers(const char* key) {
    constexpr double longest_mm = static_cast<double>(kLongestLength_mm);
    std::vector<double> out;
    const JsonValue* list = need(key, Kind::list);
    for (std::size_t i = 0; list && i < list->items.size(); ++i) {
        const JsonValue& item = list->items[i];
        if (item.is(Kind::number) && std::fabs(item.number) <= longest_mm) {
            out.push_back(item.number);
        } else {
            fault(in_quotes(key) + " holds something that is no length in millimetres below a kilometre.",
                  "Give numbers.");
            break;
        }
    }
    return out;
}

JsonValue Request::value(const char* key) {
    const JsonValue* value = asked_.find(key);
    return value ? *value : JsonValue();
}

JsonValue Request::said(const char* key) {
    std::optional<Job> read = job(key);
    return read ? settled_form(std::move(read->said)) : JsonValue::object();
}

std::optional<Job> Request::job(const char* key) {
    const JsonValue* value = need(key, Kind::text);
    if (!value) return std::nullopt;
    Result<Job> read = read_job(value->text);
    if (!read) append(faults_, std::move(read.findings));
    return std::move(read.value);
}

namespace {

/// Nothing lies farther away, in micrometres.
constexpr double farthest_um = 1e9;

bool whole(const JsonValue* v) {
    return v && v->is(Kind::number) && std::fabs(v->number) <= farthest_um &&
           v->number == std::floor(v->number);
}

}  // namespace

std::vector<Placement> Request::placements_in(const JsonValue& list) {
    std::vector<Placement> out;
    for (const JsonValue& item : list.items) {
        const JsonValue *piece = item.find("piece"), *x = item.find("x_um"), *y = item.find("y_um");
        if (!piece || !piece->is(Kind::text) || !whole(x) || !whole(y)) {
            fault("A placement needs \"piece\", a text, and \"x_um\" and \"y_um\", whole micrometres.",
                  "Give all three.");
            return {};
        }
        const JsonValue *turns = item.find("turns"), *stretch = item.find("stretch");
        out.push_back({piece->text, static_cast<std::int64_t>(x->number),
                       static_cast<std::int64_t>(y->number),
                       whole(turns) ? static_cast<int>(turns->number) : 0,
                       whole(stretch) ? static_cast<int>(stretch->number) : 0});
    }
    return out;
}

std::vector<Placement> Request::placements(const char* key) {
    const JsonValue* list = asked_.find(key);
    return list && list->is(Kind::list) ? placements_in(*list) : std::vector<Placement>{};
}

std::optional<Layout> Request::layout(const char* key) {
    const JsonValue* value = asked_.find(key);
    if (!value || value->is(Kind::null)) return std::nullopt;
    const JsonValue* placements = value->find("placements");
    if (!placements || !placements->is(Kind::list)) {
        fault(in_quotes(key) + " needs \"placements\", a list.", "Give the placements.");
        return std::nullopt;
    }
    Layout layout;
    layout.placements = placements_in(*placements);
    if (!good()) return std::nullopt;
    // Which they are, the job says: see on_kept_stretches.
    if (const JsonValue* stretches = value->find("stretches"))
        if (whole(stretches) && stretches->number >= 0 && stretches->number <= limits::stretches)
            layout.stretches.resize(static_cast<std::size_t>(stretches->number));
    const JsonValue* rounds = value->find("rounds");
    if (rounds && whole(rounds) && rounds->number >= 0) layout.rounds = static_cast<int>(rounds->number);
    return layout;
}

LengthStyle Request::style() {
    LengthStyle style;
    const std::string unit = text("units");
    if (unit == "mm") style.unit = Unit::mm;
    if (unit != "mm" && unit != "in" && good())
        fault("\"units\" is \"in\" or \"mm\".", "Give one of the two.");
    if (const JsonValue* denominator = asked_.find("denominator")) {
        const double d = denominator->number;
        const bool power = d == 2 || d == 4 || d == 8 || d == 16 || d == 32 || d == 64;
        if (power) style.inch_denominator = static_cast<int>(d);
        if (!power) fault("\"denominator\" is 2, 4, 8, 16, 32 or 64.", "Give one of these.");
    }
    if (const JsonValue* step = asked_.find("mm_step")) {
        const double s = step->number;
        const bool known = s == 0.1 || s == 0.5 || s == 1;
        if (known) style.mm_step = s;
        if (!known) fault("\"mm_step\" is 0.1, 0.5 or 1.", "Give one of these.");
    }
    return style;
}

}  // namespace spile::surface
