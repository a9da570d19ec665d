// run_job: the list of stages, the only place that knows their order.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "core/job/document.h"
#include "core/layout/layout.h"
#include "core/measure/fit.h"
#include "core/paper/sheets.h"
#include "core/takeoff/takeoff.h"
#include "core/takeoff/work_times.h"

namespace spile {

/// How surely a panel goes in.
struct PanelFit {
    std::string panel, space;
    Fit fit;
};

/// Everything derived from a job. Stages that could not run leave their part empty and say why in `findings`.
struct Derived {
    std::map<std::string, Survey> surveys;  ///< by space id
    std::vector<Panel> panels;
    std::vector<PanelFit> fits;  ///< of the panels that were taped, in their order
    std::vector<Piece> pieces;
    std::vector<AppliedPiece> applied;  ///< what is put on them
    std::optional<Layout> layout;
    std::optional<Takeoff> takeoff;
    std::vector<Finding>
        findings;  ///< worst first, the document's own faults among them; stops overridden by name are
                   ///< listed in `overridden` instead
    std::vector<Finding> overridden;            ///< printed on the papers with their reason
    std::vector<std::string> override_reasons;  ///< one for each of `overridden`

    bool may_cut() const { return !has_stop(findings); }
};

/// What the solver and the checker are given of the pieces, applied ones of the panels' goods behind them, with their places in a pattern that is carried.
std::vector<LayoutPiece> layout_pieces(const Job& job, const Derived& derived);

/// The solver is handed in, since it is native only.
using LayoutSolver =
    std::function<Result<Layout>(const std::vector<LayoutPiece>&, const Goods&, const RunContext&)>;

/// measure -> shape -> edging -> layout (kept or solved) -> check -> takeoff. `solver` may be empty: then only a kept
/// layout is used.
/// Guarantees: (1) all findings of all stages and of the document are collected; (2) a stage runs on what the earlier ones
/// made, stops or not, so that there is a drawing, but nothing is laid out while a panel is missing: the roll would come
/// out too short; (3) every layout returned has passed check_layout; one that a person kept and the checker refuses is
/// replaced and said to be stale, one of the solver that it refuses is dropped with the checker's stops.
/// On cancel: returns what there is, with a stop "cancelled".
Derived run_job(const Job& job, const LayoutSolver& solver, const RunContext& run);

/// What the papers show, with the minutes of the ticket at `times`. Requires: job and derived outlive it.
PaperInput paper_input(const Job& job, const Derived& derived, const WorkTimes& times = guessed_times());

}  // namespace spile
