// Where the points lie, roughly, before anything is adjusted. Internal to measuring.
#pragma once

#include <vector>

#include "core/measure/equations.h"

namespace spile::survey {

/// Squared misfit in standard deviations, levelling off at `kMostRobust`: one wrong reading cannot outweigh many right ones.
constexpr double kMostRobust = 25;
inline double robust(double t2) {
    return kMostRobust * t2 / (kMostRobust + t2);
}

/// Two points held fixed while growing, likeliest first; one entry {-1, -1} when the two square lines are the datum.
/// Empty when no tie joins two points.
std::vector<Datum> seeds(const Network& network, std::size_t most);

/// Rough places grown from a seed: point after point where the tapes from placed points cross, both crossings kept while
/// they agree equally well, the best few kept at every step (beam search). Points that only hang by one tie are tried at
/// several bearings. Nothing is random.
/// Guarantees: at most `effort.starts` results, best first, each with a place for every point.
struct Effort {
    std::size_t beam = 24;
    std::size_t bearings = 16;
    std::size_t starts = 8;
};
std::vector<Places> grow(const Network& network, const Datum& seed, const Effort& effort);

/// Looks at every point alone, the others held: moves it where its own readings cross better. For places in which some
/// points have fallen on the wrong side. Returns how many moved.
int reseat(const Network& network, Places& places);

/// How badly a walk reads: crossings of its sides, then inward corners; over the points flagged `placed`.
struct WalkFaults {
    int crossings = 0;
    int inward = 0;       ///< corners that turn right
    double area_mm2 = 0;  ///< signed
};
WalkFaults walk_faults(const std::vector<int>& walk, const std::vector<Vec2>& at,
                       const std::vector<bool>& placed = {});

}  // namespace spile::survey
