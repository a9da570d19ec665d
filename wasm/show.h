// From results to JSON that a screen can draw without any geometry of its own. Inside of wasm/.
#pragma once

#include <string>
#include <vector>

#include "core/geom/transform.h"
#include "core/job/run_job.h"
#include "wasm/json.h"

namespace spile::surface {

template <class Items, class ToJson>
Json list_of(const Items& items, const ToJson& to_json) {
    Json list = Json::array();
    for (const auto& item : items) list.push_back(Json(to_json(item)));
    return list;
}

Json shown(const Finding& finding);
Json shown(const std::vector<Finding>& findings);
Json shown(const JsonValue& value);  ///< numbers as doubles

/// A length in millimetres beside its text: {"mm", "text"}.
Json length(double mm, const LengthStyle& style);

/// What is still to be ordered: nothing where every length is in the rack.
inline double to_order_mm(const Layout& layout) {
    return layout.stretches.empty() ? layout.bought_mm : layout.to_buy_mm;
}

/// Drawing space, in which every "d", "at" and "box" is: millimetres, x toward the bow, y down, so that an SVG without any
/// transform shows the boat from above and the piece from its face. Not mirrored: only y counts the other way. What is
/// seen from the back went through BackFromFace first and stands under "back".
std::string path_data(const Outline& outline);
std::string path_data(const Region& region);
std::string path_data(const Path& path);
Json place(Vec2 p);
Json box(const Box& box);  ///< [x, y, width, height]; null when empty

Json shown_space(const SpaceInput& space, const Survey* survey, const LengthStyle& style);
Json shown_panels(const Job& job, const Derived& derived, const LengthStyle& style);
/// A letter on both sides of each joint of two pieces, as the papers have it.
Json shown_match_marks(const Derived& derived);
Json shown_pieces(const Derived& derived, const LengthStyle& style);
Json shown_roll(const Job& job, const Derived& derived, const LengthStyle& style);  ///< null without a layout
Json shown_takeoff(const Derived& derived, const LengthStyle& style);                ///< null without one

/// The way of the job: each stage done, open or stopped, with one line.
Json shown_stages(const Job& job, const Derived& derived);

/// The text without what is no UTF-8.
std::string as_text(const Json& json);

}  // namespace spile::surface
