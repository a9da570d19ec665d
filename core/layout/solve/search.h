// Shorter and shorter layouts: shrink the strip, move overlaps apart, disturb when stuck.
#pragma once

#include <functional>
#include <memory>

#include "core/layout/solve/separate.h"

namespace spile::lay {

class Worker;

struct SearchOptions {
    int rounds = 40;
    int threads = 1;
    std::uint64_t seed = 1;
    double long_enough = 0;  ///< a layout this short ends the search, units
    /// Asked between rounds with the number done; true ends the search. May be empty.
    std::function<bool(int)> done;
    /// Asked often, from any thread; true ends the search at once, in the middle of a round. May be empty.
    std::function<bool()> halt;
    /// Told after each round: rounds done and the best length so far, units. May be empty.
    std::function<void(int, double)> progress;
    SeparateSettings separate;
};

struct SearchResult {
    Places places;
    double length = 0;
    int rounds = 0;  ///< whole rounds done
};

/// Improves a legal layout. Workers, each with its own random numbers, try for a shorter strip independently for a fixed
/// amount of work per round; after a round all go on from the shortest. The number of workers is fixed, so that the result
/// depends on seed and rounds alone, not on the number of threads.
/// Guarantees: never longer than `start`; no pair deeper than the problem's slack.
/// Method: Gardeyn, Vanden Berghe and Wauters 2025 (shrink, separate, exchange large items when stuck, biased restart from
/// the better failures); the separation is our own, on depth fields.
class Search {
  public:
    /// `done` and `progress` of the options are not used here, nor `rounds`.
    Search(const FieldTable& fields, const Places& start, const SearchOptions& options);
    ~Search();

    /// Nothing shorter is wanted, or nothing may be moved.
    bool ended() const { return free_ == 0 || best_.length <= enough_; }
    void round();
    /// Goes on from a layout found elsewhere when it is shorter.
    void take_over(const Places& places);
    const SearchResult& best() const { return best_; }

  private:
    void direct_to_best();

    const FieldTable& fields_;
    SearchOptions options_;
    SearchResult best_;
    std::size_t free_;  ///< items that may be moved
    double enough_;
    std::vector<std::unique_ptr<Worker>> workers_;
};

/// Rounds until the options end it.
SearchResult search(const FieldTable& fields, const Places& start, const SearchOptions& options);

Places to_places(const Spots& spots);
/// Rounded to whole units.
Spots to_spots(const Places& places);
double length_of(const Problem& problem, const Places& places);

}  // namespace spile::lay
