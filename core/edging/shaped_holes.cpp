// Openings that are not round: their rim is worked as the outer edge of a panel is.
#include <algorithm>
#include <cmath>

#include "core/edging/cut_lines.h"
#include "core/edging/flap_cuts.h"
#include "core/edging/flaps.h"
#include "core/edging/fold_check.h"
#include "core/edging/holes.h"
#include "core/edging/trace.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// How often the widest workable turn is halved upon: 2^-12 of a turn is finer than a tape reads.
constexpr int kHalvings = 12;

/// The rim as a panel of its own, so that edges, corners and folds are those of edging. Sides are named by the opening, or
/// by the points of a free one.
Panel rim_panel(const Panel& panel, const OpeningPlan& plan) {
    Panel rim;
    rim.id = panel.id;
    const bool free = !plan.outline.empty();
    int sides = 0;
    for (const Vertex& v : plan.rim.vertices) sides = std::max(sides, v.tag + 1);
    for (int i = 0; i < sides; ++i) {
        const auto k = static_cast<std::size_t>(i);
        EdgePlan edge;
        edge.finish = plan.finish;
        edge.from = free ? plan.outline[k].at : plan.id;
        edge.to = free ? plan.outline[(k + 1) % plan.outline.size()].at : "rim";
        rim.edges.push_back(edge);
        // The rim runs clockwise: it comes to side i by the corner at the side's end.
        rim.corners.push_back({free ? edge.to : plan.id + " corner " + std::to_string(i + 1), 0});
    }
    rim.net_line.region.outer = plan.rim;
    return rim;
}

/// Whether a turn of that width leaves one face cut that is nowhere narrower than the smallest face cut.
bool leaves_a_cut(const Outline& rim, double turn, double face) {
    const std::vector<double> all(rim.size(), turn), deeper(rim.size(), turn + face / 2);
    return traced_offset(traced(rim), all).size() == 1 && !traced_offset(traced(rim), deeper).empty();
}

/// The widest turn, at most that of the settings; 0 when there is none.
double widest_turn(const Outline& rim, const FinishSettings& settings) {
    if (leaves_a_cut(rim, settings.turn_mm, settings.turned_hole_face_mm)) return settings.turn_mm;
    double workable = 0, too_much = settings.turn_mm;
    for (int i = 0; i < kHalvings; ++i) {
        const double turn = (workable + too_much) / 2;
        (leaves_a_cut(rim, turn, settings.turned_hole_face_mm) ? workable : too_much) = turn;
    }
    return workable;
}

void say_too_small(const OpeningPlan& plan, double turn, double least, Reporter& report) {
    report.add(
        "hole-too-small-to-turn", Severity::stop, "opening", plan.id,
        {{"flap", turn, "mm"}, {"least", least, "mm"}},
        "Opening \"" + plan.id + "\" of panel " + report.owner() +
            " is too narrow to turn: between its finished edge and the face cut " +
            (turn > 0 ? "only " + report.said(turn) + " is left" : std::string("nothing is left")) +
            " to fold back, and the stitch needs " + report.said(least) + ".",
        "Make it wider, give the face a narrower cut (turned_hole_face), or leave the opening sealed.");
}

/// The rim moved; of several parts the largest. Empty when nothing is left.
Outline moved(const Outline& rim, const std::vector<double>& outside_mm) {
    Outline largest;
    double area = 0;
    for (Outline& part : traced_offset(traced(rim), outside_mm)) {
        const double its = std::fabs(area_mm2(part));
        if (its > area) area = its, largest = std::move(part);
    }
    return largest;
}

void tag_all(Outline& outline, int tag) {
    for (Vertex& v : outline.vertices) v.tag = tag;
}

}  // namespace

HoleCuts shaped_hole_cuts(const Panel& panel, std::size_t index, const FinishSettings& settings,
                          Reporter& report) {
    const OpeningPlan& plan = panel.openings[index];
    HoleCuts cuts;
    HoleReport& hole = cuts.report;
    hole.id = plan.id;
    hole.round = false;
    hole.centre_mm = plan.centre_mm;
    hole.finish = plan.finish;
    hole.along_mm = plan.finished_along_mm;
    hole.across_mm = plan.finished_across_mm;
    hole.rim_mm = length_mm(plan.rim);
    cuts.net = plan.rim;

    FinishSettings own = settings;
    if (hole.finish == Finish::turned) {
        const double least = std::min(least_flap_mm(settings), settings.turn_mm);
        own.turn_mm = widest_turn(plan.rim, settings);
        if (own.turn_mm < least) {
            say_too_small(plan, own.turn_mm, least, report);
            hole.finish = Finish::sealed;
        }
    }
    const std::vector<double> backing(plan.rim.size(), backing_outside_mm(hole.finish, settings));
    cuts.backing = moved(plan.rim, backing);
    cuts.face = cuts.backing;
    if (hole.finish == Finish::turned) {
        const Panel rim = rim_panel(panel, plan);
        const FlapPlan flaps = plan_flaps(plan.rim, rim.edges, own);
        std::vector<double> turns;
        for (const Flap& flap : flaps.flaps) turns.push_back(flap.turn_mm);
        cuts.face = moved(plan.rim, turns);
        hole.turn_mm = own.turn_mm;
        // Whatever is found on the way is said of the opening.
        Reporter about = report.about("opening", plan.id);
        cuts.flap_cuts = flap_cuts(rim, flaps, cuts.face, own, about).cuts;
        judge_folds(rim, flaps, own, about);
        if (plan.outline.empty())
            for (FlapCut& cut : cuts.flap_cuts) cut.at = plan.id;
    }
    if (hole.finish != Finish::sealed) {
        const std::vector<double> inside(plan.rim.size(), -settings.stitch_from_edge_mm);
        const Outline stitch = moved(plan.rim, inside);
        cuts.seam.name = "round the " + plan.id;
        cuts.seam.path.vertices = stitch.vertices;
        cuts.seam.path.vertices.push_back(stitch.vertices.front());
        cuts.seam.length_mm = length_mm(stitch);
        cuts.seam.closed = true;
        for (Vertex& v : cuts.seam.path.vertices) v.tag = 0;
    }
    for (Outline* line : {&cuts.net, &cuts.face, &cuts.backing}) tag_all(*line, -2 - static_cast<int>(index));
    return cuts;
}

}  // namespace spile
