#include "core/measure/settle.h"

#include <algorithm>
#include <cmath>

#include "core/measure/start.h"

namespace spile::survey {
namespace {

constexpr std::size_t kSeeds = 3;
constexpr std::size_t kStarts = 6;
constexpr int kRobustRounds = 6;

int spare_of(const Equations& equations) {
    return static_cast<int>(equations.used().size()) - static_cast<int>(equations.parameters());
}

/// As good as a right start would give: most of the readings agree, whatever a few of them do.
bool convincing(const Network& net, const Equations& equations, const Places& places) {
    std::vector<double> t2;
    for (const int i : equations.used()) {
        const Observation& o = net.observations[i];
        const double t = misfit_mm(o, places.at, places.pose) / o.sd_mm;
        t2.push_back(t * t);
    }
    std::sort(t2.begin(), t2.end());
    const std::size_t odd_allowed = std::max<std::size_t>(2, t2.size() / 10);
    double sum = 0;
    for (std::size_t i = 0; i + odd_allowed < t2.size(); ++i) sum += t2[i];
    const double spare = std::max(0, spare_of(equations));
    return sum <= spare + 4 * std::sqrt(2 * spare) + 4;
}

}  // namespace

double robust_sum(const Network& network, const Places& places, const std::vector<bool>& takes_part) {
    double sum = 0;
    for (const Observation& o : network.observations) {
        bool whole = true;
        for (int k = 0; k < o.point_count(); ++k)
            whole = whole && (takes_part.empty() || takes_part[o.point(k)]);
        if (!whole) continue;
        const double t = misfit_mm(o, places.at, places.pose) / o.sd_mm;
        sum += robust(t * t);
    }
    return sum;
}

Adjusted adjust_robustly(const Network& network, const Datum& datum, const Places& start,
                         const std::vector<bool>& takes_part) {
    Adjusted adjusted{start, 0, false};
    // Misfits of a rough start are large everywhere: the level at which a reading counts as wrong comes down by degrees.
    double level = 64;
    for (int round = 0; round < kRobustRounds; ++round) {
        std::vector<double> weight;
        for (const Observation& o : network.observations) {
            const double t = misfit_mm(o, adjusted.places.at, adjusted.places.pose) / o.sd_mm;
            const double ease = 9 * level / (9 * level + t * t);
            weight.push_back(ease * ease);
        }
        adjusted = adjust(Equations(network, datum, takes_part, weight), adjusted.places);
        level = std::max(1.0, level / 8);
    }
    return adjusted;
}

Settled settle(const Network& network) {
    Settled best;
    bool any = false;
    for (const Datum& seed : seeds(network, kSeeds)) {
        const Equations equations(network, seed);
        for (const Places& start : grow(network, seed, kStarts)) {
            Adjusted found = adjust(equations, start);
            bool good = convincing(network, equations, found.places);
            if (!good) {
                // Either a wrong reading or a wrong start: see what the readings say once the odd ones are silent.
                Adjusted quiet = adjust_robustly(network, seed, start);
                if (robust_sum(network, quiet.places) < robust_sum(network, found.places))
                    found = std::move(quiet);
                good = convincing(network, equations, found.places);
            }
            const double sum = robust_sum(network, found.places);
            if (!any || sum < best.robust_sum) best = {seed, found.places, found.sum, sum};
            any = true;
            if (good) return best;
        }
    }
    if (!any) {
        best.places.at.resize(network.names.size());
        best.datum = {0, std::min(1, network.points() - 1)};
    }
    return best;
}

}  // namespace spile::survey
