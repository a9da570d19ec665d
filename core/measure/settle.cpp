#include "core/measure/settle.h"

#include <algorithm>
#include <cmath>

#include "core/measure/spread.h"
#include "core/measure/start.h"

namespace spile::survey {
namespace {

constexpr std::size_t kSeeds = 3;
constexpr std::size_t kThoroughSeeds = 6;
constexpr int kManyPoints = 80;
constexpr int kReseats = 4;
constexpr int kRobustRounds = 6;
constexpr double kRobust_mm = 1e-3;  // weights change more from round to round than this does to a misfit
constexpr double kReach = 2;         // times all readings laid end to end: wider is no shape

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
    // A wrong reading needs others to be told by: no more odd ones than the spare readings can bear.
    const double spare = std::max(0, spare_of(equations));
    const auto odd_allowed = std::min<std::size_t>(t2.size() / 8 + 1, static_cast<std::size_t>(spare / 3));
    double sum = 0;
    for (std::size_t i = 0; i + odd_allowed < t2.size(); ++i) sum += t2[i];
    return sum <= spare + 4 * std::sqrt(2 * spare) + 4;
}

/// Keeps the shapes found, best first.
class Search {
  public:
    explicit Search(const Network& net) : net_(net) {
        for (const Observation& o : net.observations) reach_mm_ += kReach * std::fabs(o.value_mm);
    }

    /// True when a shape was found that the readings agree on.
    bool run(std::size_t most_seeds, const Effort& effort) {
        for (const Datum& seed : seeds(net_, most_seeds)) {
            const Equations equations(net_, seed);
            bool good = false;
            for (const Places& start : grow(net_, seed, effort))
                good = consider(equations, seed, start) || good;
            if (good) return true;
        }
        return false;
    }

    /// The same from all points at once; for large nets that growing point by point has lost its way in.
    void run_spread() {
        const std::optional<Places> start = spread(net_);
        const std::vector<Datum> datum = seeds(net_, 1);
        if (start && !datum.empty() && !datum[0].by_frame())
            consider(Equations(net_, datum[0]), datum[0], *start);
    }

    Settled result() {
        Settled best;
        if (found_.empty()) {
            best.places.at.resize(net_.names.size());
            best.datum = {0, std::min(1, net_.points() - 1)};
            return best;
        }
        best = {found_[0].datum, std::move(found_[0].places), {}, found_[0].sum};
        // A shape that all readings together pull into the best one differs by the reading it leaves silent; it is another
        // shape only where the rest then fits about as well.
        std::optional<Places> whole;
        const Equations equations(net_, best.datum);
        for (std::size_t i = 1; i < found_.size(); ++i) {
            if (found_[i].sum > best.robust_sum + kRuledOut) continue;
            if (!whole) whole = adjust(equations, best.places).places;
            const Places other = adjust(equations, found_[i].places).places;
            const bool pulled_into_one = difference(*whole, other).mm <= kOneShape_mm;
            if (pulled_into_one && sum_without_worst(best.datum, found_[i].places) >
                                       sum_without_worst(best.datum, best.places) + kRuledOut)
                continue;
            best.rivals.push_back(std::move(found_[i].places));
        }
        return best;
    }

  private:
    struct Found {
        Datum datum;
        Places places;
        double sum;
    };

    /// Squared misfit once the reading that fits the places worst is left out and the rest adjusted.
    double sum_without_worst(const Datum& datum, const Places& places) const {
        std::vector<double> weight(net_.observations.size(), 1.0);
        std::size_t worst = 0;
        double most = -1;
        for (std::size_t i = 0; i < weight.size(); ++i) {
            const Observation& o = net_.observations[i];
            const double t = std::fabs(misfit_mm(o, places.at, places.pose)) / o.sd_mm;
            if (t <= most) continue;
            most = t;
            worst = i;
        }
        weight[worst] = 0;
        return adjust(Equations(net_, datum, {}, weight), places, kRobust_mm).sum;
    }

    bool consider(const Equations& equations, const Datum& seed, const Places& start) {
        Adjusted found = adjust(equations, start);
        bool good = convincing(net_, equations, found.places);
        if (!good) {
            // Either a wrong reading or a wrong start: see what the readings say once the odd ones are silent.
            Adjusted quiet = adjust_robustly(net_, seed, start);
            for (int round = 0; round < kReseats && reseat(net_, quiet.places) > 0; ++round) {
                quiet = adjust_robustly(net_, seed, quiet.places);
            }
            if (robust_sum(net_, quiet.places) < robust_sum(net_, found.places)) found = std::move(quiet);
            good = convincing(net_, equations, found.places);
        }
        if (!within_reach(found.places)) return false;
        const double sum = robust_sum(net_, found.places);
        if (!found_.empty() && sum > found_[0].sum + kRuledOut) return good;
        for (Found& known : found_) {
            if (difference(known.places, found.places).mm > kOneShape_mm) continue;
            if (sum < known.sum) known = {seed, std::move(found.places), sum};
            sort();
            return good;
        }
        found_.push_back({seed, std::move(found.places), sum});
        sort();
        return good;
    }

    /// A point that nothing held has run away from the others: no shape.
    bool within_reach(const Places& places) const {
        return std::all_of(places.at.begin(), places.at.end(),
                           [&](Vec2 p) { return distance(p, places.at[0]) <= reach_mm_; });
    }

    void sort() {
        std::stable_sort(found_.begin(), found_.end(),
                         [](const Found& a, const Found& b) { return a.sum < b.sum; });
    }

    const Network& net_;
    double reach_mm_ = 0;
    std::vector<Found> found_;
};

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
        adjusted = adjust(Equations(network, datum, takes_part, weight), adjusted.places, kRobust_mm);
        level = std::max(1.0, level / 8);
    }
    return adjusted;
}

Difference difference(const Places& one, const Places& other, const std::vector<bool>& takes_part) {
    Difference d;
    const int n = static_cast<int>(one.at.size());
    for (int p = 0; p < n; ++p) {
        for (int q = 0; q < p; ++q) {
            if (!takes_part.empty() && !(takes_part[p] && takes_part[q])) continue;
            const double mm = std::fabs(distance(one.at[p], one.at[q]) - distance(other.at[p], other.at[q]));
            if (mm > d.mm) d = {p, q, mm};
        }
    }
    return d;
}

Settled settle(const Network& network) {
    Search search(network);
    if (network.points() > kManyPoints) {
        // A large net has readings enough to settle its own sides; what is dear there is every further start.
        if (!search.run(1, {100, 4, 2})) search.run_spread();
    } else if (!search.run(kSeeds, {})) {
        search.run(kThoroughSeeds, {96, 64, 24});
    }
    return search.result();
}

}  // namespace spile::survey
