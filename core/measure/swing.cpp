#include "core/measure/swing.h"

#include <algorithm>
#include <cmath>

namespace spile::survey {
namespace {

constexpr double kLeastShare = 1.0 / 68719476736.0;  // 2^-36: well above what a factor takes for noise
constexpr int kMostTies =
    2;  // to firm points: they hold a point in the plane, or the arithmetic is at its end
constexpr double kFree_mm = 1e5;  // the doubt given to every coordinate before any reading: far beyond a boat

class Analysis {
  public:
    Analysis(const Network& net, const Datum& datum, const Places& places)
        : net_(net), places_(places), equations_(net, datum) {}

    /// Standard deviations with the readings and the pins made so far. False when the arithmetic gives out.
    bool solve(const std::vector<Observation>& pins) {
        SparseRows rows;
        for (const int i : equations_.used()) equations_.add_row(net_.observations[i], places_, rows);
        for (const Observation& pin : pins) equations_.add_row(pin, places_, rows);
        normal_.emplace(equations_.parameters(), rows, wanted());
        normal_->form(rows);
        std::vector<double> added(equations_.parameters());
        for (std::size_t i = 0; i < added.size(); ++i) {
            // A share of its own size as well, so that long levers do not drown it.
            added[i] = 1 / (kFree_mm * kFree_mm) + kLeastShare * normal_->diagonal(static_cast<int>(i));
        }
        if (!normal_->factor(added)) return false;
        normal_->invert_within_pattern();
        return true;
    }

    /// Largest standard deviation of a point over all directions.
    double doubt_mm(int p) const {
        const int x = equations_.column_x(p), y = equations_.column_y(p);
        const double xx = x < 0 ? 0 : normal_->inverse(x, x);
        const double yy = y < 0 ? 0 : normal_->inverse(y, y);
        const double xy = x < 0 || y < 0 ? 0 : normal_->inverse(x, y);
        const double half = 0.5 * (xx + yy);
        const double spread = std::sqrt(0.25 * (xx - yy) * (xx - yy) + xy * xy);
        return std::sqrt(std::max(0.0, half + spread));
    }

    /// The firm point whose tie to p would take away most of p's freedom, or -1.
    int best_partner(int p, const std::vector<bool>& loose, const std::vector<Pin>& pins) const {
        const int x = equations_.column_x(p), y = equations_.column_y(p);
        const std::vector<double> by_x = column(x), by_y = column(y);
        const auto at = [&](const std::vector<double>& c, int i) { return i < 0 || c.empty() ? 0.0 : c[i]; };
        int best = -1;
        double most = 0;
        for (int q = 0; q < net_.points(); ++q) {
            if (q == p || loose[q] || tied(p, q)) continue;
            const bool pinned = std::any_of(pins.begin(), pins.end(),
                                            [&](const Pin& pin) { return pin.point == p && pin.to == q; });
            if (pinned) continue;
            const Vec2 d = places_.at[p] - places_.at[q];
            if (!(norm(d) > 0)) continue;
            const Vec2 u = unit(d);
            // Of the tie's length: its covariance with p, against its own doubt. A firm q hardly moves.
            const double with_x = u.x * at(by_x, x) + u.y * at(by_x, y);
            const double with_y = u.x * at(by_y, x) + u.y * at(by_y, y);
            const double own = u.x * with_x + u.y * with_y;
            const double taken = (with_x * with_x + with_y * with_y) / (own + kSwings_mm * kSwings_mm / 100);
            // Corners of the walk are easier to tape from; of equals, the first.
            const double worth = taken * (net_.in_walk(q) ? 1.2 : 1.0);
            if (worth > most * 1.0001) {
                most = worth;
                best = q;
            }
        }
        return most > kSwings_mm * kSwings_mm ? best : -1;
    }

    bool tied(int p, int q) const {
        return std::any_of(net_.of_point[p].begin(), net_.of_point[p].end(), [&](int i) {
            const Observation& o = net_.observations[i];
            return o.kind == Kind::distance && (o.p == q || o.a == q);
        });
    }

    std::vector<bool> loose() const {
        std::vector<bool> out(net_.names.size());
        for (int p = 0; p < net_.points(); ++p) out[p] = doubt_mm(p) > kSwings_mm;
        return out;
    }

  private:
    std::vector<std::pair<int, int>> wanted() const {
        std::vector<std::pair<int, int>> out;
        for (int p = 0; p < net_.points(); ++p) {
            if (equations_.column_x(p) >= 0 && equations_.column_y(p) >= 0) {
                out.push_back({equations_.column_x(p), equations_.column_y(p)});
            }
        }
        return out;
    }

    std::vector<double> column(int parameter) const {
        if (parameter < 0) return {};
        std::vector<double> one(equations_.parameters(), 0);
        one[parameter] = 1;
        return normal_->solve(one);
    }

    const Network& net_;
    const Places& places_;
    Equations equations_;
    std::optional<NormalEquations> normal_;
};

}  // namespace

bool Swing::any() const {
    return std::find(loose.begin(), loose.end(), true) != loose.end();
}

Swing find_swing(const Network& network, const Datum& datum, const Places& places, std::size_t most_pins) {
    Swing swing;
    Analysis analysis(network, datum, places);
    std::vector<Observation> pins;
    if (!analysis.solve(pins)) {
        swing.loose.assign(network.names.size(), true);
        if (!datum.by_frame()) swing.loose[datum.origin] = swing.loose[datum.axis] = false;
        return swing;
    }
    swing.loose = analysis.loose();
    std::vector<bool> loose = swing.loose;
    while (swing.pins.size() < most_pins) {
        // The loose point with the most readings first: it carries others with it.
        int worst = -1;
        for (int p = 0; p < network.points(); ++p) {
            if (!loose[p]) continue;
            if (worst < 0 || network.of_point[p].size() > network.of_point[worst].size()) worst = p;
        }
        if (worst < 0) break;
        const auto tried = std::count_if(swing.pins.begin(), swing.pins.end(),
                                         [&](const Pin& pin) { return pin.point == worst; });
        const int to = tried < kMostTies ? analysis.best_partner(worst, loose, swing.pins) : -1;
        if (to < 0) {
            swing.pins.push_back({worst, -1, false});
            loose[worst] = false;  // said once
            continue;
        }
        Observation tie;
        tie.p = worst;
        tie.a = to;
        tie.value_mm = distance(places.at[worst], places.at[to]);
        pins.push_back(tie);
        if (!analysis.solve(pins)) break;
        std::vector<bool> left = analysis.loose();
        for (int p = 0; p < network.points(); ++p) left[p] = left[p] && loose[p];
        loose = std::move(left);
        swing.pins.push_back({worst, to, loose[worst]});
    }
    return swing;
}

}  // namespace spile::survey
