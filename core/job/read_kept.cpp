// What a person decided after seeing results: overridden stops and an accepted layout.
#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/geom/intersect.h"
#include "core/geom/measure_of.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr double farthest_um = 1e9;  ///< 1 km

/// Whole micrometres, exactly as written.
bool read_micrometres(Section& section, const char* key, std::int64_t& out) {
    double value = 0;
    if (!section.need(key, "\"x_um\": 0, in whole micrometres") ||
        !section.number(key, value, -farthest_um, farthest_um, "micrometres"))
        return false;
    if (value != std::floor(value)) {
        section.stop("not-whole", *section.find(key),
                     said_key(key, section.subject()) + " is " + (*section.find(key))->text +
                         "; it is in whole micrometres.",
                     "Round it, or lay the pieces out again.");
        return false;
    }
    out = static_cast<std::int64_t>(value);
    return true;
}

bool crosses_itself(const Outline& outline) {
    const std::vector<OutlineFault> faults = faults_of(outline);
    return std::any_of(faults.begin(), faults.end(),
                       [](const OutlineFault& f) { return f.kind == OutlineFault::Kind::crosses_itself; });
}

}  // namespace

void JobReader::read_overrides(Section& root) {
    const auto list = root.list("overrides", limits::overrides);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section section(faults_, at, override_keys, {"job", ""});
        if (!at->is(Kind::object)) continue;
        Override o;
        o.where = at.where();
        const bool named =
            section.need("code", "\"code\": \"corner-without-room\", as the finding gives it") &&
            section.text("code", o.code, TextRule::id);
        section.text("subject", o.subject, TextRule::line);
        section.text("fingerprint", o.fingerprint, TextRule::line);
        const bool reasoned =
            section.need("reason", "\"reason\": \"hand-bound, mitred\"; it is printed on the papers") &&
            section.text("reason", o.reason, TextRule::line);
        if (reasoned && trimmed(o.reason).empty()) {
            section.stop("override-without-reason", *section.find("reason"),
                         "A stop is overridden without a reason.",
                         "Say why it may pass; the reason is printed on the papers.");
        } else if (named && reasoned) {
            job_.overrides.push_back(std::move(o));
        }
    }
}

void JobReader::read_stretches(Section& kept, Layout& layout) {
    const auto list = kept.list("stretches", limits::stretches);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        Section own(faults_, list->item(i), stretch_keys, {"goods", ""});
        Stretch stretch;
        stretch.name = "length " + std::to_string(i + 1);
        own.text("name", stretch.name, TextRule::line);
        own.text("lot", stretch.lot, TextRule::line);
        std::int64_t length_um = 0;
        if (own.has("length_um")) read_micrometres(own, "length_um", length_um);
        stretch.length_mm = static_cast<double>(length_um) / 1000;
        if (const auto outline = own.list("outline", limits::stretch_corners)) {
            for (const JsonValue& corner : (*outline)->items) {
                const auto number = [&](std::size_t k) {
                    const bool is = k < corner.items.size() && corner.items[k].is(Kind::number);
                    return is ? corner.items[k].number : std::nan("");
                };
                const double x = number(0), y = number(1), bulge = corner.items.size() > 2 ? number(2) : 0;
                if (std::fabs(x) <= farthest_um && std::fabs(y) <= farthest_um && std::fabs(bulge) <= 1)
                    stretch.outline.vertices.push_back({{x / 1000, y / 1000}, bulge, 0});
            }
            const bool all = stretch.outline.size() == (*outline)->items.size();
            if (!all || stretch.outline.size() < 3 || !(area_mm2(stretch.outline) > 0))
                own.stop("stretch-outline", *outline, "The outline of the offcut is no outline.",
                         "Write it counter-clockwise, three corners at least, each [x_um, y_um] or "
                         "[x_um, y_um, bulge].");
            else if (crosses_itself(stretch.outline))
                own.stop("stretch-outline", *outline, "The outline of the offcut crosses itself.",
                         "Write its corners in the order met going round it, counter-clockwise.");
        }
        layout.stretches.push_back(std::move(stretch));
    }
}

void JobReader::read_kept_layout(Section& root) {
    const auto at = root.find("kept_layout");
    if (!at) return;
    const std::size_t faults_before = faults_.count();
    Section section(faults_, *at, kept_layout_keys, {"job", ""});
    Layout layout;
    std::string fingerprint;
    section.text("fingerprint", fingerprint, TextRule::line);
    double rounds = 0;
    if (section.number("rounds", rounds, 0, 1e9, "")) layout.rounds = static_cast<int>(rounds);
    read_stretches(section, layout);
    section.need("placements", "\"placements\": [{ \"piece\": \"1\", \"x_um\": 0, \"y_um\": 0 }]");
    const auto list = section.list("placements", limits::placements);
    std::set<std::string> placed;
    const double last_stretch = static_cast<double>(stretch_count(layout) - 1);
    for (std::size_t i = 0; list && i < (*list)->items.size(); ++i) {
        const Place item = list->item(i);
        Section own(faults_, item, placement_keys, {"piece", ""});
        if (!item->is(Kind::object)) continue;
        Placement p;
        if (own.need("piece", "\"piece\": \"1\", the id of the panel"))
            own.text("piece", p.piece, TextRule::line);  // an applied piece: "1/kick"
        own.set_subject({"piece", p.piece});
        if (!p.piece.empty() && !placed.insert(p.piece).second) {
            own.stop("piece-twice", item, "The kept layout places piece " + in_quotes(p.piece) + " twice.",
                     "Keep one of the two.");
        }
        read_micrometres(own, "x_um", p.x_um);
        read_micrometres(own, "y_um", p.y_um);
        double turns = 0, stretch = 0;
        if (own.number("turns", turns, 0, 3, "", "It counts quarter turns: 0, 1, 2 or 3."))
            p.turns = static_cast<int>(turns);
        if (own.number("stretch", stretch, 0, last_stretch, "",
                       "It counts the stretches of this layout from 0."))
            p.stretch = static_cast<int>(stretch);
        if (turns != std::floor(turns) || stretch != std::floor(stretch))
            own.stop("not-whole", item, "\"turns\" and \"stretch\" are whole numbers.",
                     "Lay the pieces out again.");
        layout.placements.push_back(std::move(p));
    }
    if (faults_.count() != faults_before) return;
    job_.kept_layout = std::move(layout);
    job_.kept_fingerprint = std::move(fingerprint);
}

}  // namespace spile
