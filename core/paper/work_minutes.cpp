#include "core/paper/work_minutes.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"

namespace spile::paper {
namespace {

/// Lengths and counts of all pieces.
struct Amounts {
    double pieces = 0, edges = 0, cut_m = 0, bound_m = 0, turned_m = 0, sealed_m = 0;
    double turned_edges = 0, turned_holes = 0, other_holes = 0, slits = 0, studs = 0;
};

Amounts amounts_of(const std::vector<Piece>& pieces) {
    Amounts a;
    for (const Piece& p : pieces) {
        a.pieces += 1;
        a.edges += static_cast<double>(p.edges.size());
        for (std::size_t k = 0; k < p.cut.face.outer.size(); ++k)
            a.cut_m += length_of(p.cut.face.outer.edge(k)) / 1000;
        for (const EdgeReport& e : p.edges) {
            const double m = e.net_length_mm / 1000;
            if (e.plan.finish == Finish::bound) a.bound_m += m;
            if (e.plan.finish == Finish::sealed) a.sealed_m += m;
            if (e.plan.finish != Finish::turned) continue;
            a.turned_m += m;
            a.turned_edges += 1;
        }
        for (const HoleReport& h : p.holes) {
            (h.finish == Finish::turned ? a.turned_holes : a.other_holes) += 1;
            a.slits += h.slits;
        }
        a.studs += static_cast<double>(p.studs.size());
    }
    return a;
}

/// Guesses without a source; a shop's own tickets tell better.
double guess(WorkStep step, const Amounts& a) {
    switch (step) {
        case WorkStep::goods:
            return 10;
        case WorkStep::mark:
            return 8 * a.pieces + 1.5 * a.edges + 3 * (a.turned_holes + a.other_holes);
        case WorkStep::cut:
            return 2 * a.cut_m + 2 * (a.turned_holes + a.other_holes) + 0.25 * a.slits;
        case WorkStep::dry_fit:
            return 30 + 5 * a.pieces;
        case WorkStep::holes:
            return 15 * a.turned_holes + 10 * a.other_holes;
        case WorkStep::turn:
            return 6 * a.turned_m + 3 * a.turned_edges;
        case WorkStep::bind:
            return 5 * a.bound_m + 5 * a.pieces;
        case WorkStep::seal:
            return 2 * a.sealed_m;
        case WorkStep::measure:
            return 4 * a.pieces;
        case WorkStep::pack:
            return 5 + 3 * a.pieces;
        case WorkStep::studs:
            return 6 * a.studs;
        case WorkStep::fit:
            return 30 + 3 * a.pieces;
    }
    return 0;
}

}  // namespace

StepMinutes minutes_of(const PaperInput& in, WorkStep step) {
    const double said = in.settings.minutes[static_cast<std::size_t>(step)];
    if (said >= 0) return {said, false};
    return {5 * std::max(1.0, std::floor(guess(step, amounts_of(*in.pieces)) / 5 + 0.5)), true};
}

}  // namespace spile::paper
