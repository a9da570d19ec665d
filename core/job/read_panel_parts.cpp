// Corners, edges and studs of a panel.
#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/key_words.h"
#include "core/job/limits.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr LengthRule corner_radius{0, false, 10'000};
constexpr LengthRule clearance_rule{0, false, 1'000};
constexpr LengthRule left_long_rule{0, false, 300};

/// What comes off an edge that does not say. A finished or raw edge gives up nothing; so does one that meets nothing.
double clearance_of(const EdgePlan& edge, const PanelDefaults& defaults, const Clearances& clearances) {
    if (edge.measured != Measured::wall) return 0;
    switch (edge.situation) {
        case Situation::wall:
            return defaults.wall_clearance_mm;
        case Situation::lid:
            return defaults.lid_clearance_mm;
        case Situation::joint:
            return clearances.reveal_mm / 2;
        case Situation::free:
        case Situation::walked_over:
            return 0;
    }
    return 0;
}

}  // namespace

bool JobReader::known_point(const Place& at, const Subject& subject, const PanelInput& panel,
                            const std::string& asker, const std::string& name) {
    const auto space = points_.find(panel.space);
    if (space == points_.end()) return true;  // the missing space has been said already
    const SpacePoints& points = space->second;
    if (points.named.count(name) > 0 || points.perhaps.count(name) > 0) return true;
    const std::vector<std::string> candidates(points.named.begin(), points.named.end());
    faults_.stop("missing-point", at, subject,
                 asker + " of panel " + in_quotes(panel.id) + " is at the point " + in_quotes(name) +
                     ", which no reading of " + in_quotes(panel.space) + " names.",
                 did_you_mean(name, candidates) + "Correct the name, or add the readings that place it.");
    return false;
}

void JobReader::read_corners(Section& section, const PanelDefaults& defaults, PanelInput& panel) {
    const auto list = section.list("corners", limits::corners);
    if (!list) return;
    std::set<std::string> seen;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        CornerPlan corner{"", defaults.corner_radius_mm};
        if (at->is(Kind::object)) {
            Section own(faults_, at, corner_keys, section.subject());
            own.need("at", "{ \"at\": \"C\", \"radius\": 2 }");
            own.text("at", corner.at, TextRule::id);
            own.length("radius", job_.units, corner.radius_mm, corner_radius);
        } else if (const auto name = read_text(faults_, at, section.subject(), "corner", TextRule::id)) {
            corner.at = *name;
        }
        if (corner.at.empty()) continue;
        const Subject subject{"corner", panel.id + "/" + corner.at};
        known_point(at, subject, panel, "A corner", corner.at);
        if (!seen.insert(corner.at).second) {
            faults_.stop(
                "corner-twice", at, subject,
                "Panel " + in_quotes(panel.id) + " names the corner " + in_quotes(corner.at) + " twice.",
                "Name each corner once, in the order met walking round; the last joins the first by itself.");
        }
        panel.corners.push_back(std::move(corner));
    }
    const std::size_t count = (*list)->items.size();
    if (count < 3) {
        section.stop("too-few-corners", *list,
                     "Panel " + in_quotes(panel.id) + " has " + count_of(count, "corner", "corners") +
                         "; a panel has at least 3.",
                     "Name its corners in the order met walking round it.",
                     {{"corners", static_cast<double>(count), ""}, {"limit", 3, ""}});
    }
}

void JobReader::read_edges(Section& section, const PanelDefaults& defaults, PanelInput& panel) {
    const std::size_t count = panel.corners.size();
    for (std::size_t i = 0; i < count; ++i) {
        EdgePlan edge{panel.corners[i].at,
                      panel.corners[i + 1 == count ? 0 : i + 1].at,
                      defaults.measured,
                      defaults.situation,
                      defaults.finish,
                      0,
                      0};
        edge.clearance_mm = clearance_of(edge, defaults, job_.clearances);
        panel.edges.push_back(std::move(edge));
    }
    edges_along_joints(panel);
    const auto group = section.find("edges");
    if (!group) return;
    if (!(*group)->is(Kind::object)) {
        section.stop(
            "wrong-type", *group,
            said_key("edges", section.subject()) + ": " + kind_word((*group)->kind) +
                " instead of a group by edge.",
            in_a_file("\"edges\": { \"A B\": { \"situation\": \"joint\" } }"));
        return;
    }
    std::vector<EdgePlan*> edges;
    for (EdgePlan& edge : panel.edges) edges.push_back(&edge);
    for (JointCut& cut : panel.cuts) edges.push_back(&cut.edge);
    std::vector<std::string> names;
    for (const EdgePlan* edge : edges) names.push_back(edge->from + " " + edge->to);
    std::set<std::size_t> seen;
    for (std::size_t k = 0; k < (*group)->keys.size(); ++k) {
        const std::string& name = (*group)->keys[k];
        const Place at = group->key(name, (*group)->items[k]);
        const std::vector<std::string> ends = split_words(name);
        std::size_t i = 0;
        const auto is_named = [&ends](const EdgePlan& e) {
            return ends.size() == 2 &&
                   ((e.from == ends[0] && e.to == ends[1]) || (e.from == ends[1] && e.to == ends[0]));
        };
        while (i < edges.size() && !is_named(*edges[i])) ++i;
        const Subject subject{"edge", panel.id + "/" + name};
        if (i == edges.size()) {
            faults_.stop("missing-edge", at, subject,
                         "Panel " + in_quotes(panel.id) + " has no edge " + in_quotes(name) + ".",
                         "Its edges run between neighbouring corners: " + list_some(names) + ".");
            continue;
        }
        if (!seen.insert(i).second) {
            const bool said_already = (*group)->find(name) != &at.value();  // as a duplicate key
            if (said_already) continue;
            faults_.stop("edge-twice", at, subject,
                         "Panel " + in_quotes(panel.id) + " describes the edge " + in_quotes(names[i]) +
                             " twice, in two spellings.",
                         "Keep one of the two.");
            continue;
        }
        EdgePlan& edge = *edges[i];
        const EdgePlan before = edge;
        Section own(faults_, at, edge_keys, subject);
        own.choice("measured", edge.measured, measured_words);
        own.choice("situation", edge.situation, situation_words);
        own.choice("finish", edge.finish, finish_words);
        // What a stored joint gives up stands until the edge is called something else.
        if (edge.situation != before.situation || edge.measured != before.measured)
            edge.clearance_mm = clearance_of(edge, defaults, job_.clearances);
        own.length("clearance", job_.units, edge.clearance_mm, clearance_rule);
        own.length("left_long", job_.units, edge.left_long_mm, left_long_rule);
        if (edge.measured != Measured::wall && edge.clearance_mm > 0) {
            own.stop("clearance-on-finished", *own.find("clearance"),
                     "Edge " + in_quotes(name) + " of panel " + in_quotes(panel.id) + " was measured as " +
                         word_for(edge.measured) +
                         ", from which nothing comes off, and yet has a clearance of " +
                         length_words(edge.clearance_mm, job_.units) + ".",
                     "Which is meant? Say that the boat was measured, or leave the clearance out.",
                     {{"clearance", edge.clearance_mm, "mm"}, {"limit", 0, "mm"}});
        }
    }
}

void JobReader::read_studs(Section& section, PanelInput& panel) {
    const auto list = section.list("studs", limits::studs);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        const auto name = read_text(faults_, at, section.subject(), "stud", TextRule::id);
        if (!name) continue;
        const Subject subject{"stud", panel.id + "/" + *name};
        known_point(at, subject, panel, "A stud", *name);
        if (std::find(panel.studs.begin(), panel.studs.end(), *name) != panel.studs.end()) {
            faults_.stop("stud-twice", at, subject,
                         "Panel " + in_quotes(panel.id) + " names the stud " + in_quotes(*name) + " twice.",
                         "Name each stud once.");
            continue;
        }
        panel.studs.push_back(*name);
    }
}

}  // namespace spile
