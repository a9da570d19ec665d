// The way of the job: what is done, what is open, what stops.
#include <algorithm>

#include "core/base/text.h"
#include "wasm/show.h"

namespace spile::surface {
namespace {

/// The stage at which a finding is seen to.
enum class Stage { measure, panels, roll, cost, papers };

Stage stage_of(const Finding& f) {
    const std::string& kind = f.subject.kind;
    if (kind == "tie" || kind == "point" || kind == "space") return Stage::measure;
    if (kind == "goods" || kind == "piece") return Stage::roll;
    if (kind == "job") return Stage::papers;
    return Stage::panels;
}

struct State {
    const char* state;  ///< "open", "done", "stopped"
    std::string says;   ///< one line under the name of the stage
};

Json shown(const char* stage, const State& s) {
    return {{"stage", stage}, {"state", s.state}, {"says", s.says}};
}

State measure_state(const Job& job, const Derived& derived) {
    if (job.spaces.empty()) return {"open", "Nothing taped yet"};
    std::size_t missing = 0, readings = 0;
    int spare = 0;
    for (const SpaceInput& space : job.spaces) {
        readings += space.readings.size();
        const auto survey = derived.surveys.find(space.id);
        if (survey == derived.surveys.end() || !survey->second.fixed) ++missing;
        if (survey != derived.surveys.end()) spare += survey->second.spare;
    }
    if (missing > 0) return {"open", count_of(readings, "reading", "readings") + ", not fixed yet"};
    return {"done", count_of(readings, "reading", "readings") + ", " + std::to_string(spare) + " to spare"};
}

State panels_state(const Job& job, const Derived& derived) {
    if (job.panels_said == 0) return {"open", "No panels yet"};
    const std::string all = count_of(job.panels_said, "panel", "panels");
    if (derived.pieces.size() < job.panels_said)
        return {"open", std::to_string(derived.pieces.size()) + " of " + all + " made"};
    return {"done", all};
}

State roll_state(const Job& job, const Derived& derived, const LengthStyle& style) {
    if (!job.has_goods) return {"open", "No goods chosen"};
    if (!derived.layout) return {"open", "Not laid out yet"};
    LengthStyle with_unit = style;
    with_unit.with_unit = true;
    const double ordered = to_order_mm(*derived.layout);
    return {"done", ordered > 0 ? plain_length(ordered, with_unit) + " to buy"
                                : plain_length(derived.layout->used_mm, with_unit) + " from the rack"};
}

}  // namespace

Json shown_stages(const Job& job, const Derived& derived) {
    const LengthStyle style = lengths_of(job);
    State states[] = {measure_state(job, derived), panels_state(job, derived),
                      roll_state(job, derived, style),
                      derived.takeoff ? State{"done", "Worked out"} : State{"open", "Waits for the roll"},
                      derived.layout ? State{"done", "Ready to print"} : State{"open", "Wait for the roll"}};
    std::size_t stops[5] = {};
    for (const Finding& f : derived.findings) {
        if (f.severity == Severity::stop) ++stops[static_cast<std::size_t>(stage_of(f))];
    }
    std::size_t all = 0;
    for (const std::size_t n : stops) all += n;
    stops[static_cast<std::size_t>(Stage::papers)] = all;  // nothing is cut while anything stops
    for (std::size_t i = 0; i < 5; ++i) {
        if (stops[i] > 0) states[i] = {"stopped", count_of(stops[i], "stop", "stops")};
    }
    return Json::array({shown("measure", states[0]), shown("panels", states[1]), shown("roll", states[2]),
                        shown("cost", states[3]), shown("papers", states[4])});
}

}  // namespace spile::surface
