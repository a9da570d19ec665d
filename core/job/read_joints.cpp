// Stored joint lines of a space, and the panels that end at them.
#include <algorithm>

#include "core/base/text.h"
#include "core/job/job_reader.h"
#include "core/job/json_faults.h"
#include "core/job/limits.h"

namespace spile {
namespace {

using Kind = JsonValue::Kind;

constexpr LengthRule reveal_rule{0, false, 1'000};
enum class Keep { left, right };
constexpr Choice<Keep> keep_words[] = {{"left", Keep::left}, {"right", Keep::right}};

}  // namespace

void JobReader::read_joints(Section& section, const SpaceInput& space, const SpacePoints& points) {
    const auto list = section.list("joints", limits::joints);
    if (!list) return;
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section own(faults_, at, joint_keys, {"joint", space.id + "/" + std::to_string(i + 1)});
        if (!at->is(Kind::object)) continue;
        const std::size_t faults_before = faults_.count();
        std::string id;
        StoredJoint joint{{}, job_.clearances.reveal_mm, {}};
        if (own.need("id", "\"id\": \"centre\"") && own.text("id", id, TextRule::id)) {
            own.set_subject({"joint", space.id + "/" + id});
            if (joints_[space.id].count(id) > 0) {
                own.stop("id-twice", *own.find("id"),
                         "Two joints of " + in_quotes(space.id) + " have the id " + in_quotes(id) + ".",
                         "Give each joint an id of its own.");
            }
        }
        own.need("through", "\"through\": [\"P\", \"Q\"]");
        if (own.has("through")) read_names(own, "through", space.id, points, joint.through);
        if (faults_.count() == faults_before && joint.through.size() < 2) {
            own.stop("joint-two-points", *own.find("through"),
                     "Joint " + in_quotes(id) + " runs through " +
                         count_of(joint.through.size(), "point", "points") + "; a line takes two or more.",
                     "Name the points it runs through, in order.",
                     {{"points", static_cast<double>(joint.through.size()), ""}, {"limit", 2, ""}});
        }
        own.length("reveal", job_.units, joint.reveal_mm, reveal_rule);
        own.text("finished", joint.finished, TextRule::id);
        if (faults_.count() == faults_before) joints_[space.id].emplace(std::move(id), std::move(joint));
    }
}

void JobReader::take_joint(const StoredJoint& joint, const PanelInput& panel, EdgePlan& edge) {
    edge.situation = Situation::joint;
    edge.measured = joint.finished == panel.id ? Measured::finished : Measured::wall;
    edge.clearance_mm = edge.measured == Measured::finished ? 0
                        : joint.finished.empty()            ? joint.reveal_mm / 2
                                                            : joint.reveal_mm;
}

void JobReader::edges_along_joints(PanelInput& panel) {
    for (EdgePlan& edge : panel.edges) {
        for (const auto& [id, joint] : joints_[panel.space]) {
            const bool along = joint.through.front() == edge.from && joint.through.back() == edge.to;
            const bool against = joint.through.front() == edge.to && joint.through.back() == edge.from;
            if (!along && !against) continue;
            take_joint(joint, panel, edge);
            edge.along = joint.through;
            if (against) std::reverse(edge.along.begin(), edge.along.end());
            break;
        }
    }
}

void JobReader::read_cuts(Section& section, const PanelDefaults& defaults, PanelInput& panel) {
    const auto list = section.list("cut_by", limits::cuts);
    if (!list) return;
    const std::map<std::string, StoredJoint>& joints = joints_[panel.space];
    for (std::size_t i = 0; i < (*list)->items.size(); ++i) {
        const Place at = list->item(i);
        Section own(faults_, at, cut_keys, section.subject());
        if (!at->is(Kind::object)) continue;
        JointCut cut;
        Keep keep = Keep::left;
        const bool named =
            own.need("joint", "\"joint\": \"centre\"") && own.text("joint", cut.joint, TextRule::id);
        const bool sided =
            own.need("keep", "\"keep\": \"left\", looking along the joint from its first point") &&
            own.choice("keep", keep, keep_words);
        if (!named || !sided) continue;
        const auto found = joints.find(cut.joint);
        if (found == joints.end()) {
            std::vector<std::string> known;
            for (const auto& [id, joint] : joints) known.push_back(id);
            own.stop(
                "missing-joint", *own.find("joint"),
                "Panel " + in_quotes(panel.id) + " is cut by the joint " + in_quotes(cut.joint) + ", which " +
                    in_quotes(panel.space) + " does not have.",
                did_you_mean(cut.joint, known) + (known.empty() ? "Draw it in the space first."
                                                                : "Joints there: " + list_some(known) + "."));
            continue;
        }
        cut.through = found->second.through;
        cut.keep_left = keep == Keep::left;
        cut.corner_radius_mm = defaults.corner_radius_mm;
        cut.edge.from = cut.through.front();
        cut.edge.to = cut.through.back();
        cut.edge.finish = defaults.finish;
        take_joint(found->second, panel, cut.edge);
        panel.cuts.push_back(std::move(cut));
    }
}

}  // namespace spile
