// run_job: the list of stages, the only place that knows their order.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "core/job/document.h"
#include "core/layout/layout.h"
#include "core/takeoff/takeoff.h"

namespace spile {

/// Everything derived from a job. Stages that could not run leave their part empty and say why in `findings`.
struct Derived {
    std::map<std::string, Survey> surveys;  ///< by space id
    std::vector<Panel> panels;
    std::vector<Piece> pieces;
    std::optional<Layout> layout;
    std::optional<Takeoff> takeoff;
    std::vector<Finding>
        findings;  ///< worst first; stops overridden by name are listed in `overridden` instead
    std::vector<Finding> overridden;            ///< printed on the papers with their reason
    std::vector<std::string> override_reasons;  ///< one for each of `overridden`

    bool may_cut() const { return !has_stop(findings); }
};

/// The solver is handed in, since it is native only.
using LayoutSolver =
    std::function<Result<Layout>(const std::vector<LayoutPiece>&, const Goods&, const RunContext&)>;

/// measure -> shape -> edging -> layout (kept or solved) -> check -> takeoff. A layout that the checker refuses is
/// dropped and its findings added. `solver` may be empty: then only a kept layout is used.
Derived run_job(const Job& job, const LayoutSolver& solver, const RunContext& run);

}  // namespace spile
