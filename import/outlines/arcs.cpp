// Polylines of short chords turned back into the arcs they stand for.
#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "import/outlines/outlines.h"

namespace spile::import {
namespace {

/// Chords may stand off the arc they stand for by so many resolutions: they were cut by another program's tolerance.
constexpr double kChordStands = 4;
/// Between two chords of one curve the direction turns by less: 30 degrees, cosine.
constexpr double kOneCurveCos = 0.86602540378443865;
constexpr std::size_t kLeastChords = 3;  ///< that become an arc
/// A chord so many times as long as the curve's after it is a straight edge that was drawn as one.
constexpr double kDrawnStraight = 5;

struct Fitted {
    Edge edge;
    double departure = 0;
    bool fits = false;
};

double off_line(Vec2 a, Vec2 b, Vec2 p) {
    return nearest_on(Edge{a, b, 0, 0}, p).distance;
}

class Fitter {
  public:
    Fitter(const std::vector<Vec2>& chain, double resolution) : p_(chain), resolution_(resolution) {}

    std::vector<Edge> run(double& departure) {
        std::vector<Edge> out;
        std::size_t i = 0;
        while (i + 1 < p_.size()) {
            std::size_t end = i + 1;
            Fitted best{{p_[i], p_[end], 0, 0}, 0, true};
            longest([&](std::size_t j) { return line(i, j); }, i + 2, p_.size(), end, best);
            // An arc only where it takes more than the line does.
            std::size_t arc_end = end;
            Fitted round = best;
            longest([&](std::size_t j) { return arc(i, j); }, i + kLeastChords, smooth_until(i) + 1, arc_end,
                    round);
            if (arc_end > end) end = arc_end, best = round;
            out.push_back(best.edge);
            departure = std::max(departure, best.departure);
            i = end;
        }
        return out;
    }

  private:
    /// The last point up to which the chain turns gently.
    std::size_t smooth_until(std::size_t i) const {
        std::size_t j = i + 1;
        while (j + 1 < p_.size()) {
            const Vec2 u = p_[j] - p_[j - 1], v = p_[j + 1] - p_[j];
            if (dot(u, v) < kOneCurveCos * norm(u) * norm(v)) break;
            ++j;
        }
        return j;
    }

    /// Between points i and j a straight edge and the chords of a curve meet: taken together they would leave a kink behind.
    bool side_meets_curve(std::size_t i, std::size_t j) const {
        for (std::size_t k = i + 1; k < j; ++k)
            if (side_then_curve(k, 1) || side_then_curve(k, -1)) return true;
        return false;
    }

    /// Towards point k a straight edge, from there on chords that turn one way; `step` -1: the other way round.
    bool side_then_curve(std::size_t k, int step) const {
        const std::size_t behind = step > 0 ? p_.size() - 1 - k : k, ahead = step > 0 ? k : p_.size() - 1 - k;
        if (behind < kLeastChords || ahead < 1) return false;
        const auto at = [&](int n) { return p_[static_cast<std::size_t>(static_cast<int>(k) + n * step)]; };
        const Vec2 side = at(0) - at(-1), first = at(1) - at(0), second = at(2) - at(1), third = at(3) - at(2);
        if (norm(side) < kDrawnStraight * norm(first)) return false;
        const double turn = cross(first, second);
        return turn * cross(side, first) > 0 && turn * cross(second, third) > 0;
    }

    /// The farthest end from `first` up to before `beyond` with which `fit` holds: by doubling, then by halving.
    template <class Fit>
    static void longest(const Fit& fit, std::size_t first, std::size_t beyond, std::size_t& end,
                        Fitted& best) {
        const auto holds = [&](std::size_t j) {
            const Fitted f = fit(j);
            if (f.fits) best = f, end = j;
            return f.fits;
        };
        if (first >= beyond || !holds(first)) return;
        std::size_t good = first, step = 1;
        while (good + step < beyond && holds(good + step)) {
            good += step;
            step *= 2;
        }
        std::size_t bad = std::min(good + step, beyond);
        while (bad - good > 1) {
            const std::size_t middle = good + (bad - good) / 2;
            (holds(middle) ? good : bad) = middle;
        }
    }

    Fitted line(std::size_t i, std::size_t j) const {
        Fitted f{{p_[i], p_[j], 0, 0}, 0, true};
        if (p_[i] == p_[j] || side_meets_curve(i, j)) return {};
        for (std::size_t k = i + 1; k < j; ++k) {
            f.departure = std::max(f.departure, off_line(p_[i], p_[j], p_[k]));
            // Along the line, never back.
            if (dot(p_[k] - p_[k - 1], p_[j] - p_[i]) <= 0 || f.departure > resolution_) return {};
        }
        return f;
    }

    Fitted arc(std::size_t i, std::size_t j) const {
        if (j < i + kLeastChords || p_[i] == p_[j] || side_meets_curve(i, j)) return {};
        const Vec2 middle = p_[i + (j - i) / 2];
        const double bulge = bulge_through(p_[i], middle, p_[j]);
        if (!(std::fabs(bulge) <= 1) || bulge == 0) return {};
        Fitted f{{p_[i], p_[j], bulge, 0}, 0, true};
        for (std::size_t k = i; k < j; ++k) {
            if (k > i) f.departure = std::max(f.departure, nearest_on(f.edge, p_[k]).distance);
            const double stands = nearest_on(f.edge, lerp(p_[k], p_[k + 1], 0.5)).distance;
            if (f.departure > resolution_ || stands > kChordStands * resolution_) return {};
        }
        return f;
    }

    const std::vector<Vec2>& p_;
    double resolution_;
};

}  // namespace

std::vector<Edge> arcs_through(const std::vector<Vec2>& chain, Resolution resolution, double& departure) {
    return Fitter(chain, resolution.mm).run(departure);
}

}  // namespace spile::import
