#include "server/papers_of.h"

#include <algorithm>
#include <thread>

#include "core/layout/solve/solve.h"

namespace spile::server {
namespace {

constexpr std::size_t kept = 4;

bool same(const WorkTimes& a, const WorkTimes& b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const auto& x, const auto& y) {
        return x.first == y.first && x.second.minutes == y.second.minutes && x.second.jobs == y.second.jobs;
    });
}

Papers make(const std::string& document, const WorkTimes& times) {
    Papers out;
    const Result<Job> job = read_job(document);
    if (!job) {
        out.findings = job.findings;
        return out;
    }
    SolveOptions options;
    options.threads = static_cast<int>(std::clamp(std::thread::hardware_concurrency(), 1u, 8u));
    const LengthStyle lengths = lengths_of(*job);
    options.places_mm = places_step_mm(lengths);
    const LayoutSolver solver = [&](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                    const RunContext& run) {
        return solve_layout(pieces, goods, options, run, lengths);
    };
    Derived derived = run_job(*job, solver, {});
    std::vector<Finding> stops;
    std::copy_if(derived.findings.begin(), derived.findings.end(), std::back_inserter(stops),
                 [](const Finding& f) { return f.severity == Severity::stop; });
    Result<std::vector<PaperFile>> files = paper_files(paper_input(*job, derived, times), stops);
    append(derived.findings, std::move(files.findings));
    out.may_cut = !has_stop(derived.findings);
    out.findings = std::move(derived.findings);
    if (files) out.files = std::move(*files);
    return out;
}

}  // namespace

std::shared_ptr<const Papers> PapersOf::get(std::int64_t job, int rev, const std::string& document,
                                            const WorkTimes& times) {
    std::shared_ptr<Entry> entry;
    {
        const std::lock_guard lock(mutex_);
        for (const auto& e : entries_) {
            if (e->job == job && e->rev == rev && same(e->times, times)) entry = e;
        }
        if (!entry) {
            entry = std::make_shared<Entry>();
            entry->job = job;
            entry->rev = rev;
            entry->times = times;
            entries_.push_back(entry);
            if (entries_.size() > kept) entries_.pop_front();
        }
    }
    const std::lock_guard lock(entry->making);
    if (!entry->papers) entry->papers = std::make_shared<const Papers>(make(document, times));
    return entry->papers;
}

}  // namespace spile::server
