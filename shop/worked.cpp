#include "shop/worked.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
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

Stretch stretch_of(const Offcut& offcut) {
    return {"offcut " + std::to_string(offcut.id), offcut.lot, 0, offcut.outline};
}

Stretch stretch_of(const Roll& roll, std::int64_t free_um) {
    return {"roll " + std::to_string(roll.id), roll.lot, static_cast<double>(free_um) / 1000, {}};
}

std::optional<Layout> proved_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                    const LayoutSolver& solver) {
    if (!solver) return std::nullopt;
    Result<Layout> found = solver(pieces, goods, {});
    if (!found || !check_layout(pieces, goods, *found).empty()) return std::nullopt;
    return std::move(found.value);
}

std::optional<Layout> shortest_layout(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                      const LayoutSolver& solver) {
    std::optional<Layout> found = proved_layout(pieces, by_the_millimetre(goods), solver);
    if (found) measure_layout(pieces, goods, *found);
    return found;
}

std::optional<Layout> layout_on_a_roll(const Worked& worked, const LayoutSolver& solver) {
    const std::optional<Layout>& kept = worked.job.kept_layout;
    const std::optional<Layout>& now = worked.derived.layout;
    const bool on_lengths = now && !now->stretches.empty();
    if (now && kept && !on_lengths && kept->placements == now->placements) return now;
    std::optional<Layout> found =
        shortest_layout(layout_pieces(worked.job, worked.derived), worked.job.goods, solver);
    const bool better = found && (!now || found->used_mm < now->used_mm);
    return better || on_lengths ? found : now;
}

std::optional<Layout> layout_on(const Worked& worked, const Offcut& offcut, const LayoutSolver& solver) {
    const std::vector<LayoutPiece> pieces = layout_pieces(worked.job, worked.derived);
    const Goods& goods = worked.job.goods;
    Layout layout;
    layout.stretches = {stretch_of(offcut)};
    const auto placements = nest_on(pieces, offcut.outline, goods.gap_mm, goods.edge_gap());
    if (placements) {
        layout.placements = *placements;
    } else {
        const std::optional<Layout> searched = proved_layout(pieces, goods_on(goods, layout, 0), solver);
        if (!searched) return std::nullopt;
        layout.placements = searched->placements;
        layout.rounds = searched->rounds;
    }
    measure_layout(pieces, goods, layout);
    if (!check_layout(pieces, goods, layout, lengths_of(worked.job)).empty()) return std::nullopt;
    return layout;
}

Result<std::vector<Serving>> serving_offcuts(Store& store, const Worked& worked, Id goods, std::size_t most) {
    constexpr std::size_t kPage = 1000, kPages = 10;
    OffcutQuery query;
    query.goods = goods;
    query.limit = kPage;
    for (const Piece& piece : worked.derived.pieces) {
        const Box box = box_of(piece.cut.face);
        query.least_length_um =
            std::max<std::int64_t>(query.least_length_um, std::llround(box.width() * 1000));
        query.least_width_um =
            std::max<std::int64_t>(query.least_width_um, std::llround(box.height() * 1000));
        query.least_area_mm2 += piece.area_mm2;
    }
    std::vector<Serving> serving;
    for (std::size_t page = 0; page < kPages; ++page, query.skip += kPage) {
        Result<std::vector<Offcut>> offcuts = find_offcuts(store, query);
        if (!offcuts) return {std::nullopt, std::move(offcuts.findings)};
        for (Offcut& offcut : *offcuts) {
            std::optional<Layout> layout = layout_on(worked, offcut);
            if (layout) serving.push_back({std::move(offcut), std::move(*layout)});
            if (serving.size() == most) return Result<std::vector<Serving>>::ok(std::move(serving));
        }
        if (offcuts->size() < kPage) break;
    }
    return Result<std::vector<Serving>>::ok(std::move(serving));
}

}  // namespace spile::shop
