#include "core/job/lid_room.h"

#include <algorithm>
#include <optional>

#include "core/base/text.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// What a snap adds to the goods: its stud lifts them and its cap stands on them (from memory: 1/4 in together).
constexpr double kSnap_mm = 25.4 / 4;
/// A lid reaches so far over the edge beside it that a snap or an applied piece nearer than this lies under it (common practice, no
/// source).
constexpr double kUnderLid_mm = 2 * 25.4;

/// The studs of a panel that lie under the lid over one of its edges.
std::vector<std::string> studs_under(const Panel& panel, std::size_t edge) {
    std::vector<std::string> names;
    const Outline& net = panel.net_line.region.outer;
    for (const Stud& stud : panel.studs) {
        double nearest = kUnderLid_mm;
        for (std::size_t k = 0; k < net.size(); ++k)
            if (net.vertices[k].tag == static_cast<int>(edge))
                nearest = std::min(nearest, nearest_on(net.edge(k), stud.at_mm).distance);
        if (nearest < kUnderLid_mm) names.push_back(stud.id);
    }
    return names;
}

std::optional<double> height_at(const Survey& survey, const EdgePlan& edge) {
    std::optional<double> lowest;
    for (const std::string& name : {edge.from, edge.to}) {
        const auto height = survey.heights_mm.find(name);
        if (height == survey.heights_mm.end()) continue;
        lowest = lowest ? std::min(*lowest, height->second) : height->second;
    }
    return lowest;
}

/// The thickest of what is put on a panel along one of its edges; one whose thickness is not known counts as none.
struct AppliedThere {
    double mm = 0;
    const AppliedPlan* piece = nullptr;
};
AppliedThere applied_at(const Panel& panel, std::size_t edge, double goods_mm, double binding_layer_mm) {
    AppliedThere out;
    const Outline& net = panel.net_line.region.outer;
    for (const AppliedPlan& a : panel.applied) {
        double gap = kUnderLid_mm;
        for (std::size_t k = 0; k < net.size(); ++k)
            for (std::size_t j = 0; net.vertices[k].tag == static_cast<int>(edge) && j < a.set.size(); ++j)
                gap = std::min(gap, distance_between(net.edge(k), a.set.edge(j)));
        const double mm =
            stack_of(a.finish, a.goods.empty() ? goods_mm : a.goods_thickness_mm, binding_layer_mm)
                .thickest_mm;
        const bool known = a.goods.empty() || a.goods_thickness_mm > 0;
        if (gap < kUnderLid_mm && known && mm > out.mm) out = {mm, &a};
    }
    return out;
}

}  // namespace

EdgeStack stack_of(Finish finish, double goods_mm, double binding_layer_mm) {
    switch (finish) {
        case Finish::bound:
            return {goods_mm + 2 * binding_layer_mm, goods_mm + 4 * binding_layer_mm};
        case Finish::turned:
            return {goods_mm, 2 * goods_mm};
        case Finish::sealed:
            break;
    }
    return {goods_mm, goods_mm};
}

void judge_lids(const Job& job, Derived& derived) {
    const double goods = job.goods.thickness_mm;
    if (!(goods > 0)) return;
    LengthStyle lengths = lengths_of(job);
    lengths.with_unit = true;
    lengths.inch_denominator = 32;
    const auto said = [&](double mm) { return plain_length(mm, lengths); };
    const auto say_snaps = [&](const Panel& panel, std::size_t i, double thick, double height) {
        const std::vector<std::string> studs = studs_under(panel, i);
        if (studs.empty()) return;
        Finding f;
        f.code = "lid-on-snap";
        f.severity = Severity::look;
        f.subject = {"edge", panel.id + "/" + edge_name(panel, i)};
        f.where = panel.where;
        f.numbers = {{"thick", thick, "mm"}, {"room", height, "mm"}};
        f.says = "The lid over edge " + edge_name(panel, i) + " of panel " + panel.id + " stands " +
                 said(height) + " above the sole; at " + (studs.size() == 1 ? "stud " : "studs ") +
                 list_words(studs) + " goods and snap are " + said(thick) + " thick.";
        f.to_do = "Leave the snap out there, use lower ones, or raise the lid.";
        derived.findings.push_back(std::move(f));
    };
    for (const Panel& panel : derived.panels) {
        const auto survey = derived.surveys.find(panel.space);
        if (survey == derived.surveys.end()) continue;
        for (std::size_t i = 0; i < panel.edges.size(); ++i) {
            const EdgePlan& edge = panel.edges[i];
            if (edge.situation != Situation::lid) continue;
            const std::optional<double> height = height_at(survey->second, edge);
            if (height && goods + kSnap_mm > *height) say_snaps(panel, i, goods + kSnap_mm, *height);
            EdgeStack stack = stack_of(edge.finish, goods, job.finish.binding_thickness_mm);
            const AppliedThere on = applied_at(panel, i, goods, job.finish.binding_thickness_mm);
            const bool without =
                height && stack.thickest_mm <= *height;  // it would do but for what is put on it
            stack.thickest_mm = std::max(stack.thickest_mm, goods + on.mm);
            if (!height || stack.thickest_mm <= *height) continue;
            const bool everywhere = stack.everywhere_mm > *height;
            const double thick = everywhere ? stack.everywhere_mm : stack.thickest_mm;
            const std::string name = edge_name(panel, i);
            Finding f;
            f.code = "lid-too-low";
            f.severity = Severity::look;
            f.subject = {"edge", panel.id + "/" + name};
            f.where = panel.where;
            f.numbers = {{"thick", thick, "mm"}, {"room", *height, "mm"}};
            f.says = "The lid over edge " + name + " of panel " + panel.id + " stands " + said(*height) +
                     " above the sole; that edge, " + word_for(edge.finish) + ", is " + said(thick) +
                     " thick" +
                     (without ? std::string(" with the ") + word_for(on.piece->kind) + " \"" + on.piece->id +
                                    "\" on it."
                      : everywhere                   ? "."
                      : edge.finish == Finish::bound ? " where the binding's end laps its start."
                                                     : " where the face is folded under.");
            f.to_do = without
                          ? "Keep that piece clear of the lid, take thinner goods for it, or raise the lid."
                      : everywhere ? "Keep the panel clear of the lid, take thinner goods, or raise the lid."
                      : edge.finish == Finish::bound
                          ? "Begin and end the binding on another edge, or seal this one."
                          : "Thin the fold there, or seal this edge.";
            derived.findings.push_back(std::move(f));
        }
    }
}

}  // namespace spile
