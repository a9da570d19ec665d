// One line of search: a state machine that can be stopped and taken up between passes.
#pragma once

#include <functional>
#include <vector>

#include "core/layout/solve/separate.h"

namespace spile::lay {

/// What a worker tries next when it has a layout or has failed; found by trial, see docs/design/layout.md.
struct WorkerSettings {
    double shrink = 0.001;  ///< of the best length, for the next target
    double least_shrink =
        0.001;                ///< when stuck, ever less is tried from the best down to this, then it disturbs
    int patience = 70;        ///< passes without an improvement by `worth` before a strike
    int strikes = 3;          ///< before a failure
    double worth = 0.98;      ///< an overlap below this share of the least so far is an improvement
    double cut_share = 0.75;  ///< of the attempts that shorten the strip at a cut anywhere along it:
    bool always_cuts = false;     ///< of all of them, else of those with a smaller step
    double exchange_share = 0.5;  ///< of the items, the largest, that may be exchanged to disturb
    double throw_share = 0;       ///< of the disturbances: one item is thrown anywhere instead
};

class Worker {
  public:
    Worker(const FieldTable& fields, const SeparateSettings& separate, const WorkerSettings& settings,
           std::uint64_t seed, std::function<bool()> halt);

    /// Goes on from a legal layout: the next target is a little shorter, though never less than `enough`, at which
    /// there is nothing more to do. Requires: no strip shorter than `enough` holds the items.
    void adopt(const Places& best, double length, double enough);

    /// Passes until `tries` items have been looked at, no less is wanted or `halt` answers true.
    void work(long tries);

    const Places& best() const { return best_; }
    double best_length() const { return best_length_; }
    double target() const { return separator_.length(); }

  private:
    struct Failure {
        Places places;
        double total;
    };

    void begin(const Places& places, double target);
    void aim_at_best();
    Places shortened(Places places, double by);
    void succeeded();
    void failed();
    Places disturbed(Places places);

    const FieldTable& fields_;
    const Problem& problem_;
    WorkerSettings settings_;
    Random random_;
    std::function<bool()> halt_;
    Separator separator_;
    Places best_;
    double best_length_ = 0, enough_ = 0, shrink_;
    std::vector<int> by_size_;       ///< items that may be moved, largest first
    std::vector<Failure> failures_;  ///< at the present target, least overlap first
    Places least_;                   ///< of this attempt
    double least_total_ = 0, least_at_strike_ = 0;
    int idle_ = 0, strikes_ = 0;
};

}  // namespace spile::lay
