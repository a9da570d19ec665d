#include "wasm/worked.h"

#include "core/job/edit.h"
#include "core/job/fingerprint.h"
#include "core/layout/check/check.h"

namespace spile::surface {
namespace {

struct Last {
    std::string text;
    std::optional<std::vector<Placement>> placements;
    std::vector<Placement> fillers;
    int rounds = 0;
    std::optional<Worked> worked;
};

/// The server answers on many threads.
Last& last() {
    thread_local Last kept;
    return kept;
}

/// Uses the layout of the question, if there is one, in the place of the kept one.
Job with_layout(Job job, const std::optional<Layout>& layout) {
    if (!layout) return job;
    job.kept_layout = on_kept_stretches(*layout, job);
    job.kept_fingerprint = layout_fingerprint(job);
    return job;
}

/// The solver puts them; like any layout that was found elsewhere they are proved here.
void put_fillers(const Job& job, const std::vector<Placement>& fillers, Derived& derived) {
    if (fillers.empty() || !derived.layout || !derived.layout->stretches.empty()) return;
    Layout filled = *derived.layout;
    filled.fillers = fillers;
    if (check_layout(layout_pieces(job, derived), job.goods, filled, lengths_of(job)).empty())
        derived.layout = std::move(filled);
}

}  // namespace

Layout on_kept_stretches(Layout layout, const Job& job) {
    if (!layout.stretches.empty() && job.kept_layout) layout.stretches = job.kept_layout->stretches;
    return layout;
}

Worked* worked_out(Request& r) {
    const std::string text = r.text("job");
    const std::optional<Layout> layout = r.layout("layout");
    std::vector<Placement> fillers = r.placements("fillers");
    if (!r.good()) return nullptr;
    Last& kept = last();
    const std::optional<std::vector<Placement>> placements =
        layout ? std::optional(layout->placements) : std::nullopt;
    const int rounds = layout ? layout->rounds : 0;
    if (kept.worked && kept.text == text && kept.placements == placements && kept.rounds == rounds &&
        kept.fillers == fillers)
        return &*kept.worked;
    std::optional<Job> job = r.job("job");
    if (!r.good()) return nullptr;
    kept.worked.reset();
    kept.text = text;
    kept.placements = placements;
    kept.rounds = rounds;
    Job with = with_layout(std::move(*job), layout);
    Derived derived = run_job(with, {}, {});
    put_fillers(with, fillers, derived);
    kept.fillers = std::move(fillers);
    kept.worked = Worked{std::move(with), std::move(derived), {}};
    return &*kept.worked;
}

JsonValue said_of_job(Request& r) {
    const std::string text = r.text("job");
    if (!r.good()) return JsonValue::object();
    if (last().worked && last().text == text) return settled_form(last().worked->job.said);
    return r.said("job");
}

void forget_worked() {
    last() = {};
}

const Worked* pieces_of(Request& r) {
    const std::string text = r.text("job");
    if (!r.good()) return nullptr;
    if (last().worked && last().text == text) return &*last().worked;
    return worked_out(r);
}

}  // namespace spile::surface
