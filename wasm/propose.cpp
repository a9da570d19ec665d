// How a panel wider than the goods would be divided.
#include "wasm/propose.h"

#include <algorithm>

#include "core/job/dividing.h"
#include "core/job/json_faults.h"
#include "wasm/show.h"
#include "wasm/worked.h"

namespace spile::surface {
namespace {

Json shown_way(const WayToDivide& way, const Rigid& piece_from_boat, const LengthStyle& style) {
    Json strips = Json::array();
    for (std::size_t k = 0; k < way.strips.size(); ++k)
        strips.push_back({{"id", way.strips[k]}, {"width", length(way.widths_mm[k], style)}});
    return {{"strips", std::move(strips)},
            {"joints", list_of(way.joints,
                               [&](const ProposedJoint& joint) {
                                   const Path line{{{joint.from_mm, 0, 0}, {joint.to_mm, 0, 0}}};
                                   return Json{{"id", joint.id},
                                               {"readings", joint.readings},
                                               {"through", joint.through},
                                               {"length", length(joint.length_mm, style)},
                                               {"d", path_data(line)},
                                               {"ends", {place(joint.from_mm), place(joint.to_mm)}},
                                               {"on_piece", path_data(piece_from_boat(line))}};
                               })},
            {"edits", shown(edits_as_json(way.edits))}};
}

}  // namespace

Json propose_joints(Request& r) {
    const std::string panel = r.text("panel");
    const Worked* worked = pieces_of(r);
    if (!worked || !r.good()) return r.refusal();
    const auto named = [&](const auto& one) { return one.id == panel; };
    const Job& job = worked->job;
    if (std::none_of(job.panels.begin(), job.panels.end(), named) || !job.has_goods)
        return refused({question_fault("There is no panel " + in_quotes(panel) + " to be cut from goods.",
                                       "Name a panel of a job that has goods.")});
    const Division division = propose_division(job, worked->derived, panel, {});
    const auto& pieces = worked->derived.pieces;
    const auto piece = std::find_if(pieces.begin(), pieces.end(), named);
    const Rigid piece_from_boat = piece == pieces.end() ? Rigid{} : piece->piece_from_boat;
    const LengthStyle style = lengths_of(job);
    return {{"ok", true},
            {"why_not", division.why_not},
            {"to_do", division.to_do},
            {"ways", list_of(division.ways, [&](const WayToDivide& way) {
                 return shown_way(way, piece_from_boat, style);
             })}};
}

}  // namespace spile::surface
