#include "core/edging/holes.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "core/edging/flaps.h"
#include "core/edging/trace.h"
#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"

namespace spile {
namespace {

constexpr double kPi = 3.14159265358979323846;
constexpr int kLeastSlits = 8;

std::vector<Path> radial_slits(Vec2 centre, double from_radius, double to_radius, int count) {
    std::vector<Path> slits;
    for (int i = 0; i < count; ++i) {
        const double angle = 2 * kPi * i / count;
        const Vec2 out{std::cos(angle), std::sin(angle)};
        slits.push_back({{{centre + from_radius * out, 0, 0}, {centre + to_radius * out, 0, 0}}});
    }
    return slits;
}

void judge_stretch(const Panel& panel, const OpeningPlan& plan, double radius, const FinishSettings& settings,
                   Reporter& report) {
    const double margin = cut_margin_mm(settings);
    if (radius > margin && 2 * margin <= most_stretch * (radius - margin)) return;
    const double workable = radius * most_stretch / (2 + most_stretch);
    report.add("fold-stretches", Severity::look, "opening", plan.id,
               {{"radius", radius, "mm"}, {"margin", margin, "mm"}, {"widest margin", workable, "mm"}},
               "Round opening \"" + plan.id + "\" of panel " + panel.id + ", " + report.said(2 * radius) +
                   " across, the " + report.said(margin) +
                   " between fold and slits must stretch by more than " +
                   std::to_string(static_cast<int>(std::lround(100 * most_stretch))) + " in 100.",
               "Try it on a scrap; let the slits stop " + report.said(workable) +
                   " short (slit_short) where the backing is thin enough, or fit a grommet ring.");
}

double distance_to(const Outline& rim, const Edge& e) {
    double least = std::numeric_limits<double>::max();
    for (std::size_t k = 0; k < rim.size(); ++k) least = std::min(least, distance_between(rim.edge(k), e));
    return least;
}

bool far_apart(const Box& a, const Box& b, double mm) {
    return a.min.x - b.max.x > mm || b.min.x - a.max.x > mm || a.min.y - b.max.y > mm ||
           b.min.y - a.max.y > mm;
}

}  // namespace

int slits_round(double radius_mm, double facet_mm) {
    const double pitch = std::sqrt(8 * radius_mm * facet_mm);
    const int count = std::max(kLeastSlits, static_cast<int>(std::ceil(2 * kPi * radius_mm / pitch)));
    return count + count % 2;
}

HoleCuts hole_cuts(const Panel& panel, std::size_t index, const FinishSettings& settings, Reporter& report) {
    const OpeningPlan& plan = panel.openings[index];
    if (plan.form != OpeningPlan::Form::round) return shaped_hole_cuts(panel, index, settings, report);
    HoleCuts cuts;
    HoleReport& hole = cuts.report;
    hole.id = plan.id;
    hole.centre_mm = plan.centre_mm;
    hole.finish = plan.finish;
    hole.post_diameter_mm = plan.diameter_mm;
    hole.net_diameter_mm = plan.diameter_mm + 2 * plan.ease_mm;
    const double net = hole.net_diameter_mm;
    hole.backing_cut_diameter_mm = hole.face_cut_diameter_mm = net;

    if (hole.finish == Finish::turned) {
        // A wide hole is turned like an edge; a narrow one keeps at least the smallest face cut.
        const double face = std::max(settings.turned_hole_face_mm, net - 2 * settings.turn_mm);
        const double flap = (net - face) / 2, least = std::min(least_flap_mm(settings), settings.turn_mm);
        if (flap < least) {
            const double largest_face = net - 2 * least;
            report.add(
                "hole-too-small-to-turn", Severity::stop, "opening", plan.id,
                {{"flap", flap, "mm"},
                 {"least", least, "mm"},
                 {"largest face cut", std::max(0.0, largest_face), "mm"}},
                "Opening \"" + plan.id + "\" of panel " + panel.id +
                    " is too small to turn: between its finished edge (" + report.said(net) +
                    " across) and the face cut (" + report.said(face) + ") " +
                    (flap > 0 ? "only " + report.said(flap) + " is left" : std::string("nothing is left")) +
                    " to fold back, and the stitch needs " + report.said(least) + ".",
                std::string("Fit a grommet ring, or leave the opening sealed") +
                    (largest_face > 0 ? ", or cut the face no wider than " + report.said(largest_face) + "."
                                      : "."));
            hole.finish = Finish::sealed;
        } else {
            hole.face_cut_diameter_mm = face;
            hole.turn_mm = flap;
            hole.backing_cut_diameter_mm = net + 2 * settings.face_thickness_mm;
            hole.slit_outer_diameter_mm = net - 2 * cut_margin_mm(settings);
            if (hole.slit_outer_diameter_mm > face) {
                hole.slits = slits_round(net / 2, settings.facet_mm);
                cuts.slits =
                    radial_slits(plan.centre_mm, face / 2, hole.slit_outer_diameter_mm / 2, hole.slits);
                judge_stretch(panel, plan, net / 2, settings, report);
            } else {
                hole.slit_outer_diameter_mm = 0;
            }
        }
    } else if (hole.finish == Finish::bound) {
        hole.face_cut_diameter_mm = hole.backing_cut_diameter_mm = net + 2 * settings.binding_growth_mm;
    }

    const int tag = -2 - static_cast<int>(index);
    const auto round = [&](double diameter) { return reversed(circle(plan.centre_mm, diameter / 2, tag)); };
    cuts.net = round(net);
    hole.rim_mm = length_mm(cuts.net);
    cuts.face = round(hole.face_cut_diameter_mm);
    cuts.backing = round(hole.backing_cut_diameter_mm);
    if (hole.finish != Finish::sealed) {
        hole.stitch_diameter_mm = net + 2 * settings.stitch_from_edge_mm;
        const Outline stitch = circle(plan.centre_mm, hole.stitch_diameter_mm / 2, tag);
        cuts.seam.name = "round the " + plan.id;
        cuts.seam.path.vertices = stitch.vertices;
        cuts.seam.path.vertices.push_back(stitch.vertices.front());
        cuts.seam.length_mm = length_mm(stitch);
        cuts.seam.closed = true;
    }
    return cuts;
}

void judge_hole_flaps(const Panel& panel, const std::vector<HoleCuts>& holes, const FinishSettings& settings,
                      Reporter& report) {
    const Outline& outer = panel.net_line.region.outer;
    const std::vector<Finish> finishes = finishes_along(outer, panel.edges);
    std::vector<Box> boxes, edge_boxes;
    for (const HoleCuts& hole : holes) boxes.push_back(box_of(hole.net));
    for (std::size_t k = 0; k < outer.size(); ++k) edge_boxes.push_back(box_of(outer.edge(k)));
    for (std::size_t i = 0; i < holes.size(); ++i) {
        const HoleReport& a = holes[i].report;
        if (a.finish != Finish::turned) continue;
        const std::string who = "The folded-back goods of opening \"" + a.id + "\" of panel " + panel.id;
        for (std::size_t k = 0; k < outer.size(); ++k) {
            if (finishes[k] != Finish::turned ||
                far_apart(edge_boxes[k], boxes[i], settings.turn_mm + a.turn_mm))
                continue;
            const double room = distance_to(holes[i].net, outer.edge(k)) - a.turn_mm;
            if (room >= settings.turn_mm - noise_mm(settings.turn_mm)) continue;
            report.add("flaps-meet", Severity::look, "opening", a.id,
                       {{"distance", room, "mm"}, {"wanted", settings.turn_mm, "mm"}},
                       who + " lie on those of the turned outside edge: " + report.said(room) +
                           " is left to the edge, and its turn takes " + report.said(settings.turn_mm) + ".",
                       "Trim the wider flap there, or expect four layers.");
            break;
        }
        for (std::size_t j = 0; j < i; ++j) {
            const HoleReport& b = holes[j].report;
            if (b.finish != Finish::turned || far_apart(boxes[i], boxes[j], a.turn_mm + b.turn_mm)) continue;
            const double room = distance_between(holes[i].net, holes[j].net) - a.turn_mm - b.turn_mm;
            if (room >= -noise_mm(settings.turn_mm)) continue;
            report.add("flaps-meet", Severity::look, "opening", a.id, {{"overlap", -room, "mm"}},
                       who + " lie on those of opening \"" + b.id + "\" by " + report.said(-room) + ".",
                       "Trim one of the two flaps there, or expect four layers.");
        }
    }
}

}  // namespace spile
