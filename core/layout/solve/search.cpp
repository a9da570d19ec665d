#include "core/layout/solve/search.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <thread>

#include "core/layout/solve/worker.h"

namespace spile::lay {
namespace {

constexpr std::size_t kWorkers = 2;

/// Items looked at by one worker in one round: some milliseconds of work.
long tries_per_round(std::size_t items) {
    return 200 + 20 * static_cast<long>(items);
}

}  // namespace

Places to_places(const Spots& spots) {
    Places places;
    for (const Spot& s : spots)
        places.push_back({s.shape, {static_cast<double>(s.at.x), static_cast<double>(s.at.y)}});
    return places;
}

Spots to_spots(const Places& places) {
    Spots spots;
    for (const Place& p : places) spots.push_back({p.shape, {std::llround(p.at.x), std::llround(p.at.y)}});
    return spots;
}

double length_of(const Problem& problem, const Places& places) {
    double length = 0;
    for (const Place& p : places)
        length = std::max(length, p.at.x + static_cast<double>(problem.boxes[p.shape].max_x));
    return length;
}

SearchResult search(const FieldTable& fields, const Places& start, const SearchOptions& options) {
    SearchResult result{start, length_of(fields.problem(), start), 0};
    if (start.empty()) return result;
    std::vector<std::unique_ptr<Worker>> workers;
    Random seeds(options.seed);
    for (std::size_t w = 0; w < kWorkers; ++w) {
        workers.push_back(std::make_unique<Worker>(fields, options.separate, WorkerSettings{}, seeds.next()));
        workers.back()->adopt(start, result.length);
    }
    const long tries = tries_per_round(start.size());
    const auto stopped = [&] { return options.halt && options.halt(); };
    while (result.length > options.long_enough && result.rounds < options.rounds && !stopped() &&
           !(options.done && options.done(result.rounds))) {
        const auto do_every = [&](std::size_t first, std::size_t step) {
            for (std::size_t w = first; w < kWorkers; w += step) workers[w]->work(tries, options.halt);
        };
        const std::size_t threads = std::clamp<std::size_t>(options.threads, 1, kWorkers);
        std::vector<std::thread> others;
        for (std::size_t t = 1; t < threads; ++t) others.emplace_back(do_every, t, threads);
        do_every(0, threads);
        for (std::thread& t : others) t.join();

        for (const auto& worker : workers)
            if (worker->best_length() < result.length) {
                result.length = worker->best_length();
                result.places = worker->best();
            }
        // What still aims at a strip no shorter than the best would work for nothing.
        for (const auto& worker : workers)
            if (worker->target() >= result.length) worker->adopt(result.places, result.length);
        if (!stopped()) ++result.rounds;
        if (options.progress) options.progress(result.rounds, result.length);
    }
    return result;
}

}  // namespace spile::lay
