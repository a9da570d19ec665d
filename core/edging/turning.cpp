#include "core/edging/turning.h"

#include <algorithm>
#include <cmath>

#include "core/base/text.h"
#include "core/edging/turned_corners.h"
#include "core/geom/measure_of.h"

namespace spile {
namespace {

/// A flap may lie loose beyond its stitch line by this much: half an inch, common practice.
constexpr double kLooseFlap_mm = 12.7;

/// Runs of turned edges between the corners where flaps are parted.
std::vector<Strip> strips_of(const TurningLines& lines, const std::vector<bool>& parted, bool& all_round) {
    const std::size_t n = lines.net.size();
    const auto turned = [&](std::size_t k) { return lines.finishes[k] == Finish::turned; };
    const auto starts = [&](std::size_t k) { return turned(k) && (!turned((k + n - 1) % n) || parted[k]); };
    std::vector<Strip> strips;
    for (std::size_t k = 0; k < n; ++k) {
        if (!starts(k)) continue;
        Strip strip;
        std::size_t at = k;
        do {
            strip.edges.push_back(at);
            strip.length_mm += length_of(lines.net.edge(at));
            at = (at + 1) % n;
        } while (at != k && turned(at) && !starts(at));
        strips.push_back(std::move(strip));
    }
    all_round = strips.empty() && n > 0 && turned(0);
    if (all_round) {
        strips.emplace_back();
        for (std::size_t k = 0; k < n; ++k) strips.back().edges.push_back(k);
        strips.back().length_mm = length_mm(lines.net);
    }
    return strips;
}

/// True when strip s runs straight into the next one at a parted corner.
bool meets_next(const TurningLines& lines, const std::vector<Strip>& strips, std::size_t s) {
    const std::size_t after = (strips[s].edges.back() + 1) % lines.net.size();
    return strips[(s + 1) % strips.size()].edges.front() == after && strips.size() > 1;
}

/// Alternate rounds along each chain of strips that meet; the longer ones of the two go first, as they hold the panel
/// flat. A closed chain of an odd number needs a third round for its last.
void order(const TurningLines& lines, std::vector<Strip>& strips) {
    const std::size_t n = strips.size();
    std::size_t first = 0;
    bool closed = n > 1;
    for (std::size_t s = 0; s < n; ++s) {
        if (meets_next(lines, strips, (s + n - 1) % n)) continue;
        closed = false;
        first = s;
    }
    for (std::size_t i = 0; i < n;) {
        std::vector<std::size_t> chain;
        do {
            chain.push_back((first + i) % n);
            ++i;
        } while (i < n && meets_next(lines, strips, chain.back()));
        double lengths[2] = {0, 0};
        for (std::size_t j = 0; j < chain.size(); ++j) lengths[j % 2] += strips[chain[j]].length_mm;
        const bool odd_first = lengths[1] > lengths[0];
        for (std::size_t j = 0; j < chain.size(); ++j)
            strips[chain[j]].step = (j % 2 == 1) == odd_first ? 1 : 2;
        if (closed && chain.size() % 2 == 1) strips[chain.back()].step = 3;
    }
}

void report_edges(const TurningLines& lines, const Turning& turning, std::vector<EdgeReport>& edges) {
    for (const Strip& strip : turning.strips) {
        for (const std::size_t k : strip.edges) {
            if (lines.net.vertices[k].tag < 0) continue;
            EdgeReport& e = edges[static_cast<std::size_t>(lines.net.vertices[k].tag)];
            e.turn_step = strip.step;
            e.flap_mm = lines.settings.turn_mm - lines.settings.backing_thickness_mm;
        }
    }
}

}  // namespace

void judge_turn_settings(const std::vector<Panel>& panels, const FinishSettings& s, Reporter& report) {
    std::vector<std::string> turned;
    for (const Panel& panel : panels) {
        const bool any = std::any_of(panel.edges.begin(), panel.edges.end(),
                                     [](const EdgePlan& e) { return e.finish == Finish::turned; });
        if (any) turned.push_back(panel.id);
    }
    if (turned.empty()) return;
    const std::string who = (turned.size() == 1 ? "panel " : "panels ") + list_words(turned);
    if (!s.backing_peels) {
        report.add(
            "backing-does-not-peel", Severity::stop, "goods", "", {},
            "Turned edges on " + who + ", but the backing of these goods cannot be cut away from their face.",
            "Bind or seal the edges, or take goods whose backing peels.");
    }
    const double flap = s.turn_mm - s.backing_thickness_mm, loose = flap - s.stitch_from_edge_mm;
    if (loose <= 0) {
        report.add("turn-too-narrow", Severity::stop, "goods", "",
                   {{"flap", flap, "mm"}, {"limit", s.stitch_from_edge_mm, "mm"}},
                   "Turned edges on " + who + ": a turn of " + report.said(s.turn_mm) +
                       " less the backing's thickness leaves " + report.said(flap) +
                       " underneath, and the stitch line lies " + report.said(s.stitch_from_edge_mm) + " in.",
                   "Turn more than " + report.said(s.stitch_from_edge_mm + s.backing_thickness_mm) + ".");
    } else if (loose > kLooseFlap_mm) {
        report.add("flap-hangs-loose", Severity::note, "goods", "",
                   {{"beyond the stitch", loose, "mm"}, {"usual", kLooseFlap_mm, "mm"}},
                   "Turned edges on " + who + ": " + report.said(loose) +
                       " of the flap lies loose beyond the stitch line.",
                   "Tape the flap down over its whole width before sewing, or turn less.");
    }
}

double flap_outside_mm(const Outline& net, std::size_t k, Finish finish, const FinishSettings& settings) {
    if (finish != Finish::turned) return 0;
    const Edge e = net.edge(k);
    return e.bulge > 0 ? std::min(settings.turn_mm, radius_of(e)) : settings.turn_mm;
}

double relief_short_mm(const FinishSettings& settings) {
    return std::max(settings.slit_short_mm, settings.backing_thickness_mm + 25.4 / 8);
}

std::size_t panel_edge_of(const Outline& net, std::size_t k) {
    const std::size_t n = net.size();
    while (net.vertices[k].tag < 0) k = (k + n - 1) % n;
    return static_cast<std::size_t>(net.vertices[k].tag);
}

Turning turn_edges(const TurningLines& lines, Reporter& report) {
    Turning out;
    out.edges.resize(lines.panel.edges.size());
    if (std::find(lines.finishes.begin(), lines.finishes.end(), Finish::turned) == lines.finishes.end())
        return out;

    const std::vector<FoldCorner> corners = fold_corners(lines);
    std::vector<bool> parted(lines.net.size(), false);
    for (const FoldCorner& c : corners) parted[c.vertex] = true;

    bool all_round = false;
    out.strips = strips_of(lines, parted, all_round);
    order(lines, out.strips);
    cut_corners(lines, corners, out, report);
    for (const Strip& strip : out.strips) relieve_curves(lines, strip, all_round, out, report);
    report_edges(lines, out, out.edges);
    return out;
}

}  // namespace spile
