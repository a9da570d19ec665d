#include "wasm/show.h"

#include <cmath>

#include "core/base/running_length.h"
#include "core/paper/view.h"
#include "export/svg/svg_words.h"

namespace spile::surface {
namespace {

const paper::PageFrom drawing_from_space{1, {0, 0}};

/// A hundredth of a micrometre: far below what is drawn, and it keeps the answer short.
double short_number(double mm) {
    const double rounded = std::round(mm * 1e5) / 1e5;
    return rounded == 0 ? 0 : rounded;
}

}  // namespace

Json shown(const Finding& f) {
    return {{"code", f.code},
            {"severity", severity_name(f.severity)},
            {"subject", {{"kind", f.subject.kind}, {"id", f.subject.id}}},
            {"numbers", list_of(f.numbers,
                                [](const Quantity& q) {
                                    return Json{{"name", q.name}, {"value", q.value}, {"unit", q.unit}};
                                })},
            {"says", f.says},
            {"to_do", f.to_do},
            {"where", f.where}};
}

Json shown(const std::vector<Finding>& findings) {
    return list_of(findings, [](const Finding& f) { return shown(f); });
}

Json shown(const JsonValue& value) {
    switch (value.kind) {
        case JsonValue::Kind::null:
            return nullptr;
        case JsonValue::Kind::boolean:
            return value.flag;
        case JsonValue::Kind::number:
            return value.number;
        case JsonValue::Kind::text:
            return value.text;
        case JsonValue::Kind::list:
            return list_of(value.items, [](const JsonValue& item) { return shown(item); });
        case JsonValue::Kind::object:
            break;
    }
    Json object = Json::object();
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        if (!object.contains(value.keys[i])) object[value.keys[i]] = shown(value.items[i]);
    }
    return object;
}

Json length(double mm, const LengthStyle& style) {
    return {{"mm", short_number(mm)}, {"text", print_length(mm, style).text}};
}

std::string path_data(const Outline& outline) {
    return svg_path(drawing_from_space(outline));
}
std::string path_data(const Region& region) {
    std::string d = path_data(region.outer);
    for (const Outline& hole : region.holes) d += path_data(hole);
    return d;
}
std::string path_data(const Path& path) {
    return svg_path(drawing_from_space(path));
}

Json place(Vec2 p) {
    const Vec2 drawn = drawing_from_space(p);
    return Json::array({short_number(drawn.x), short_number(drawn.y)});
}

Json box(const Box& space_box) {
    if (space_box.empty()) return nullptr;
    const Box drawn = drawing_from_space(space_box);
    return Json::array({short_number(drawn.min.x), short_number(drawn.min.y), short_number(drawn.width()),
                        short_number(drawn.height())});
}

Json shown_takeoff(const Derived& derived, const LengthStyle& style) {
    if (!derived.takeoff) return nullptr;
    const auto line = [&](const QuantityLine& l) {
        return Json{{"what", l.what},
                    {"amount", l.amount},
                    {"unit", l.unit},
                    {"to_buy", l.to_buy},
                    {"ordered", l.unit == "mm" ? running_length(l.to_buy, style) : ""},
                    {"because", l.because}};
    };
    return {{"materials", list_of(derived.takeoff->materials, line)},
            {"work", list_of(derived.takeoff->work, line)}};
}

std::string as_text(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace spile::surface
