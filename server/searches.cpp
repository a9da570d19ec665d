#include "server/searches.h"

#include <algorithm>
#include <chrono>

#include "core/job/fingerprint.h"
#include "core/layout/solve/solve.h"

namespace spile::server {
namespace {

constexpr std::size_t workers = 2;
constexpr std::size_t most_waiting = 50;
constexpr std::size_t most_remembered = 200;
/// The search is repeated with four times the rounds, so that there is a layout at once and a better one soon; all that is
/// done twice is a third of the whole.
constexpr int first_rounds = 4, growth = 4;

std::vector<LayoutPiece> with_pins(std::vector<LayoutPiece> pieces, const std::vector<Placement>& pins) {
    for (const Placement& pin : pins)
        for (LayoutPiece& piece : pieces)
            if (piece.id == pin.piece) piece.pin = pin;
    return pieces;
}

}  // namespace

Searches::Searches(News& news) : news_(news) {
    for (std::size_t i = 0; i < workers; ++i) workers_.emplace_back([this] { work(); });
}

Searches::~Searches() {
    end();
    for (std::thread& worker : workers_) worker.join();
}

void Searches::end() {
    {
        const std::lock_guard lock(mutex_);
        ended_ = true;
        for (auto& [job, search] : of_job_) search->cancel = true;
    }
    wake_.notify_all();
}

bool Searches::start(std::int64_t job, int rev, Job document, int rounds, std::vector<Placement> pins) {
    auto search = std::make_shared<Search>();
    search->job = job;
    search->document = std::move(document);
    search->document.kept_layout.reset();
    search->pins = std::move(pins);
    search->state.rev = rev;
    search->state.fingerprint = layout_fingerprint(search->document);
    search->state.rounds = rounds;
    {
        const std::lock_guard lock(mutex_);
        if (ended_ || waiting_.size() >= most_waiting) return false;
        const auto before = of_job_.find(job);
        if (before != of_job_.end()) before->second->cancel = true;
        waiting_.erase(std::remove_if(waiting_.begin(), waiting_.end(),
                                      [job](const auto& waiting) { return waiting->job == job; }),
                       waiting_.end());
        if (of_job_.size() >= most_remembered && before == of_job_.end()) {
            of_job_.begin()->second->cancel = true;
            of_job_.erase(of_job_.begin());
        }
        of_job_[job] = search;
        waiting_.push_back(search);
    }
    wake_.notify_one();
    report(*search);
    return true;
}

void Searches::stop(std::int64_t job) {
    const std::lock_guard lock(mutex_);
    const auto at = of_job_.find(job);
    if (at == of_job_.end()) return;
    at->second->cancel = true;
    if (at->second->state.state == "waits") at->second->state.state = "stopped";
}

std::optional<SearchState> Searches::state(std::int64_t job) const {
    const std::lock_guard lock(mutex_);
    const auto at = of_job_.find(job);
    if (at == of_job_.end()) return std::nullopt;
    return at->second->state;
}

void Searches::work() {
    for (;;) {
        std::shared_ptr<Search> search;
        {
            std::unique_lock lock(mutex_);
            wake_.wait(lock, [this] { return ended_ || !waiting_.empty(); });
            if (ended_) return;
            search = waiting_.front();
            waiting_.pop_front();
            if (search->cancel) continue;
            search->state.state = "runs";
        }
        report(*search);
        run(*search);
        report(*search);
    }
}

void Searches::run(Search& search) {
    SolveOptions options;
    options.threads =
        std::max(1, static_cast<int>(std::thread::hardware_concurrency()) / static_cast<int>(workers));
    RunContext run;
    run.cancel = &search.cancel;
    const LengthStyle lengths = lengths_of(search.document);
    options.places_mm = places_step_mm(lengths);
    const int asked = search.state.rounds;
    double before = 0;
    using Clock = std::chrono::steady_clock;
    Clock::time_point told = Clock::now();
    for (int rounds = std::min(first_rounds, asked);; rounds = std::min(rounds * growth, asked)) {
        options.rounds = rounds;
        const double share = asked > 0 ? static_cast<double>(rounds) / asked : 1;
        run.progress = [&](double done, double of) {
            const Clock::time_point now = Clock::now();
            if (now - told < std::chrono::milliseconds(200) || !(of > 0)) return;
            told = now;
            {
                const std::lock_guard lock(mutex_);
                search.state.done = std::max(before, share * std::clamp(done / of, 0.0, 1.0));
            }
            report(search);
        };
        const LayoutSolver solver = [&](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                        const RunContext& context) {
            return solve_layout(with_pins(pieces, search.pins), goods, options, context, lengths);
        };
        Derived derived = run_job(search.document, solver, run);
        before = share;
        if (took(search, std::move(derived), share) || rounds >= asked) return;
        report(search);
    }
}

/// Takes what one search found; true when there is no point in another.
bool Searches::took(Search& search, Derived derived, double share) {
    const std::lock_guard lock(mutex_);
    SearchState& state = search.state;
    if (derived.layout && (!state.best || derived.layout->used_mm <= state.best->used_mm))
        state.best = std::move(derived.layout);
    if (search.cancel) {
        state.state = "stopped";
    } else if (!state.best) {
        state.state = "failed";
        state.findings = std::move(derived.findings);
    } else {
        state.done = share;
        if (share >= 1) state.state = "done";
    }
    return state.state != "runs";
}

void Searches::report(Search& search) {
    surface::Json says;
    {
        const std::lock_guard lock(mutex_);
        const SearchState& s = search.state;
        says = {{"state", s.state},
                {"rev", s.rev},
                {"done", s.done},
                {"used_mm", nullptr},
                {"bound_mm", nullptr}};
        if (s.best) {
            says["used_mm"] = s.best->used_mm;
            says["bound_mm"] = s.best->bound_mm;
        }
    }
    news_.tell({search.job, "layout", std::move(says)});
}

}  // namespace spile::server
