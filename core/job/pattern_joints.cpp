#include "core/job/pattern_joints.h"

#include <algorithm>
#include <cmath>

namespace spile {
namespace {

/// Where two panels meet; empty when they do not.
std::vector<std::string> meetings(const PanelInput& a, const PanelInput& b) {
    std::vector<std::string> out;
    if (a.space.empty() || a.space != b.space) return out;
    for (const JointCut& x : a.cuts)
        for (const JointCut& y : b.cuts)
            if (x.joint == y.joint && x.keep_left != y.keep_left) out.push_back("joint " + x.joint);
    for (const EdgePlan& x : a.edges)
        for (const EdgePlan& y : b.edges) {
            const bool same = (x.from == y.to && x.to == y.from) || (x.from == y.from && x.to == y.to);
            if (same && x.situation == Situation::joint && y.situation == Situation::joint)
                out.push_back("edge " + x.from + " " + x.to);
        }
    return out;
}

/// Where the pattern of a panel would begin if the boat were the roll.
struct Lying {
    const Placement* placement = nullptr;
    Vec2 boat_from_roll_mm;
};

Lying lying(const Derived& derived, const std::string& panel) {
    Lying out;
    for (const Placement& p : derived.layout->placements)
        for (const Piece& piece : derived.pieces)
            if (p.piece == panel && piece.id == panel)
                out = {&p, p.move_mm() - inverse(piece.piece_from_boat)({0, 0})};
    return out;
}

}  // namespace

std::vector<PatternJoint> pattern_at_joints(const Job& job, const Derived& derived) {
    std::vector<PatternJoint> out;
    if (!job.goods.repeat.any() || !derived.layout) return out;
    for (std::size_t i = 0; i < job.panels.size(); ++i)
        for (std::size_t j = i + 1; j < job.panels.size(); ++j) {
            const Lying a = lying(derived, job.panels[i].id), b = lying(derived, job.panels[j].id);
            if (!a.placement || !b.placement) continue;
            for (const std::string& at : meetings(job.panels[i], job.panels[j])) {
                PatternJoint joint{job.panels[i].id, job.panels[j].id, at, true, {}};
                joint.known = a.placement->stretch == b.placement->stretch && a.placement->turns == 0 &&
                              b.placement->turns == 0;
                if (joint.known)
                    joint.out_mm =
                        pattern_out_mm(job.goods.repeat, b.boat_from_roll_mm - a.boat_from_roll_mm);
                out.push_back(std::move(joint));
            }
        }
    return out;
}

std::string pattern_words(const PatternJoint& joint, const LengthStyle& lengths) {
    LengthStyle style = lengths;
    style.with_unit = true;
    return "At " + joint.at + " of panels " + joint.first + " and " + joint.second +
           (joint.known ? " the pattern is out by " + print_length(std::fabs(joint.out_mm.x), style).text +
                              " along and " + print_length(std::fabs(joint.out_mm.y), style).text + " across."
                        : " nothing can be said of the pattern: they are turned, or cut from two lengths.");
}

}  // namespace spile
