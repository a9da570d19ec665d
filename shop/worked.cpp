#include "shop/worked.h"

#include "core/layout/check/check.h"
#include "shop/offcuts.h"

namespace spile::shop {

Result<Worked> worked_out(Store& store, Id id, const LayoutSolver& solver) {
    const Result<Revision> revision = read_revision(store, id);
    if (!revision) return {std::nullopt, revision.findings};
    Result<Job> job = read_job(revision->document);
    if (!job) return {std::nullopt, std::move(job.findings)};
    Worked worked{revision->rev, std::move(*job), {}};
    worked.derived = run_job(worked.job, solver, {});
    std::vector<Finding> stops;
    for (const Finding& f : worked.derived.findings)
        if (f.severity == Severity::stop) stops.push_back(f);
    if (!stops.empty()) return {std::nullopt, std::move(stops)};
    return Result<Worked>::ok(std::move(worked));
}

std::optional<Layout> layout_on(const Worked& worked, const Offcut& offcut) {
    const std::vector<LayoutPiece> pieces = layout_pieces(worked.job, worked.derived.pieces);
    const Goods& goods = worked.job.goods;
    const auto placements = nest_on(pieces, offcut.outline, goods.gap_mm, goods.edge_gap());
    if (!placements) return std::nullopt;
    Layout layout;
    layout.placements = *placements;
    measure_layout(pieces, goods, layout);
    if (!check_layout(pieces, goods, layout, lengths_of(worked.job)).empty()) return std::nullopt;
    return layout;
}

}  // namespace spile::shop
