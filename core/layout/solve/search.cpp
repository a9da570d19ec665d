#include "core/layout/solve/search.h"

#include <algorithm>
#include <cmath>
#include <memory>
#include <thread>

#include "core/layout/solve/worker.h"

namespace spile::lay {
namespace {

constexpr std::size_t kWorkers = 2;

// With no more items than this an attempt is soon over, and what matters is how many different ones there are.
constexpr std::size_t kFew = 20;
constexpr int kApart = 20;  // rounds after which the workers go on from the same layout, with few items

/// One worker shakes things up, the other also closes the last gaps of the best.
WorkerSettings settings_of(std::size_t worker, std::size_t items) {
    WorkerSettings settings;
    if (items <= kFew) {
        settings.shrink = 0.01;
        settings.patience = 25;
        settings.strikes = 2;
        settings.throw_share = 0.4;
        settings.always_cuts = true;
    }
    if (worker % 2 == 1) settings.least_shrink = 1e-5;
    return settings;
}

/// Items looked at by one worker in one round: some milliseconds of work. To look at one takes longer the more there are,
/// so that of very many only a part has its turn.
long tries_per_round(std::size_t items) {
    const long n = static_cast<long>(items);
    return std::min(200 + 20 * n, 1'500'000 / std::max(n, 1L));
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

Search::Search(const FieldTable& fields, const Places& start, const SearchOptions& options)
    : fields_(fields),
      options_(options),
      best_{start, length_of(fields.problem(), start), 0},
      free_(
          static_cast<std::size_t>(std::count_if(fields.problem().items.begin(), fields.problem().items.end(),
                                                 [](const Problem::Item& item) { return !item.fixed; }))),
      enough_(std::max(options.long_enough, shortest_strip(fields.problem(), start))) {
    Random seeds(options.seed);
    for (std::size_t w = 0; free_ > 0 && w < kWorkers; ++w) {
        workers_.push_back(std::make_unique<Worker>(fields, options.separate, settings_of(w, free_),
                                                    seeds.next(), options.halt));
        workers_.back()->adopt(start, best_.length, enough_);
    }
}

Search::~Search() = default;

void Search::round() {
    const long tries = tries_per_round(best_.places.size());
    const auto do_every = [&](std::size_t first, std::size_t step) {
        for (std::size_t w = first; w < workers_.size(); w += step) workers_[w]->work(tries);
    };
    const std::size_t threads = std::clamp<std::size_t>(options_.threads, 1, kWorkers);
    std::vector<std::thread> others;
    for (std::size_t t = 1; t < threads; ++t) others.emplace_back(do_every, t, threads);
    do_every(0, threads);
    for (std::thread& t : others) t.join();

    for (const auto& worker : workers_)
        if (worker->best_length() < best_.length) {
            best_.length = worker->best_length();
            best_.places = worker->best();
        }
    if (free_ > kFew || best_.rounds % kApart == kApart - 1) direct_to_best();
    if (!(options_.halt && options_.halt())) ++best_.rounds;
}

void Search::take_over(const Places& places) {
    const double length = length_of(fields_.problem(), places);
    if (length >= best_.length) return;
    best_.length = length;
    best_.places = places;
    direct_to_best();
}

/// What still aims at a strip no shorter than the best would work for nothing.
void Search::direct_to_best() {
    for (const auto& worker : workers_)
        if (worker->target() >= best_.length) worker->adopt(best_.places, best_.length, enough_);
}

SearchResult search(const FieldTable& fields, const Places& start, const SearchOptions& options) {
    Search search(fields, start, options);
    const auto stopped = [&] { return options.halt && options.halt(); };
    while (!search.ended() && search.best().rounds < options.rounds && !stopped() &&
           !(options.done && options.done(search.best().rounds))) {
        search.round();
        if (options.progress) options.progress(search.best().rounds, search.best().length);
    }
    return search.best();
}

}  // namespace spile::lay
