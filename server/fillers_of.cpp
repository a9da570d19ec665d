#include "server/fillers_of.h"

#include "core/job/fingerprint.h"
#include "core/layout/solve/solve.h"

namespace spile::server {

std::vector<Placement> fillers_of(Job job, std::vector<Placement> placements) {
    if (job.goods.fillers.empty()) return {};
    job.kept_layout.emplace();
    job.kept_layout->placements = std::move(placements);
    job.kept_fingerprint = layout_fingerprint(job);
    const LengthStyle lengths = lengths_of(job);
    SolveOptions none;
    none.rounds = 0;
    const LayoutSolver solver = [&](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                    const RunContext& run) {
        return solve_layout(pieces, goods, none, run, lengths);
    };
    const Derived derived = run_job(job, solver, {});
    // One that may not be cut was laid out anew: what lies beside that is nobody's question.
    const bool same = derived.layout && derived.layout->placements == job.kept_layout->placements;
    return same ? derived.layout->fillers : std::vector<Placement>{};
}

}  // namespace spile::server
