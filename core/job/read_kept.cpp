// What a person decided after seeing results: overridden stops and an accepted layout.
#include <cmath>

#include "core/base/text.h"
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
                     said_key(key, section.subject()) + " is " + (*section.find(key))->text + "; it is in whole micrometres.",
                     "Round it, or lay the pieces out again.");
        return false;
    }
    out = static_cast<std::int64_t>(value);
    return true;
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
    section.need("placements", "\"placements\": [{ \"piece\": \"1\", \"x_um\": 0, \"y_um\": 0 }]");
    const auto list = section.list("placements", limits::placements);
    std::set<std::string> placed;
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
        layout.placements.push_back(std::move(p));
    }
    if (faults_.count() != faults_before) return;
    job_.kept_layout = std::move(layout);
    job_.kept_fingerprint = std::move(fingerprint);
}

}  // namespace spile
