#include "core/layout/solve/search.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <thread>

#include "core/layout/solve/worker.h"

namespace spile::lay {
namespace {

constexpr std::size_t kWorkers = 2;

/// One worker shakes things up, the other also closes the last gaps of the best.
WorkerSettings settings_of(std::size_t worker) {
    WorkerSettings settings;
    if (worker % 2 == 1) settings.least_shrink = 1e-5;
    return settings;
}

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
    for (std::size_t i = 0; i < places.size(); ++i)
        if (!problem.items[i].flaw)
            length =
                std::max(length, places[i].at.x + static_cast<double>(problem.boxes[places[i].shape].max_x));
    return length;
}

namespace {

/// No strip can be shorter: the longest item, the far end of what is fixed.
double shortest_strip(const Problem& problem, const Places& places) {
    double shortest = 0;
    for (std::size_t i = 0; i < places.size(); ++i) {
        const Problem::Item& item = problem.items[i];
        double least = 1e300;
        for (int shape : item.shapes)
            least = std::min(least, static_cast<double>(problem.boxes[shape].width()));
        if (item.fixed) least = places[i].at.x + static_cast<double>(problem.boxes[places[i].shape].max_x);
        if (!item.flaw) shortest = std::max(shortest, least);
    }
    return shortest;
}

}  // namespace

SearchResult search(const FieldTable& fields, const Places& start, const SearchOptions& options) {
    SearchResult result{start, length_of(fields.problem(), start), 0};
    const bool any_free = std::any_of(fields.problem().items.begin(), fields.problem().items.end(),
                                      [](const Problem::Item& item) { return !item.fixed; });
    if (!any_free) return result;
    const double enough = std::max(options.long_enough, shortest_strip(fields.problem(), start));
    std::vector<std::unique_ptr<Worker>> workers;
    Random seeds(options.seed);
    for (std::size_t w = 0; w < kWorkers; ++w) {
        workers.push_back(std::make_unique<Worker>(fields, options.separate, settings_of(w), seeds.next()));
        workers.back()->adopt(start, result.length, enough);
    }
    const long tries = tries_per_round(start.size());
    const auto stopped = [&] { return options.halt && options.halt(); };
    while (result.length > enough && result.rounds < options.rounds && !stopped() &&
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
            if (worker->target() >= result.length) worker->adopt(result.places, result.length, enough);
        if (!stopped()) ++result.rounds;
        if (options.progress) options.progress(result.rounds, result.length);
    }
    return result;
}

}  // namespace spile::lay
