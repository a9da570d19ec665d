#include "core/measure/advice.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "core/measure/tape.h"

namespace spile::survey {
namespace {

constexpr std::size_t kMostTies = 3;
constexpr double kShortest_mm = 150;  // no tie is worth its two ends below this
constexpr double kClearly = 1.0001;   // better by less is equal: the first in order keeps its place
constexpr double kWorthwhile = 0.8;  // of the doubt or smallest slip there was: less gain is not worth a walk

/// A few coordinates with their slopes: how one size changes with the places.
struct Slopes {
    std::vector<std::pair<int, double>> of;
};

class Advisor {
  public:
    Advisor(const Quality& q, const Places& places, const TapeSettings& tape, std::vector<double> covariance,
            const Say& say)
        : q_(q),
          net_(q.equations().network()),
          places_(places),
          tape_(tape),
          c_(std::move(covariance)),
          say_(say) {
        index_.assign(net_.names.size(), -1);
        for (int p = 0; p < net_.points(); ++p) {
            if (!q.equations().takes_part(p)) continue;
            index_[p] = static_cast<int>(points_.size());
            points_.push_back(p);
        }
        size_ = 2 * static_cast<int>(points_.size());
        for (std::size_t r = 0; r < q.rows(); ++r) {
            const Observation& o = net_.observations[q.observation(r)];
            if (o.kind == Kind::distance) taped_.insert(std::minmax(o.p, o.a));
            share_.push_back(q.redundancy(r));
        }
    }

    std::vector<std::string> run() {
        std::vector<std::string> out;
        std::set<int> given_up;
        while (out.size() < kMostTies) {
            const int row = weakest_row(given_up);
            if (row >= 0) {
                std::string says = check(row);
                if (says.empty())
                    given_up.insert(row);
                else
                    out.push_back(std::move(says));
                continue;
            }
            std::string says = pin_down();
            if (says.empty()) break;
            out.push_back(std::move(says));
        }
        return out;
    }

  private:
    double c(int i, int j) const {
        return c_[static_cast<std::size_t>(i) * static_cast<std::size_t>(size_) +
                  static_cast<std::size_t>(j)];
    }

    /// Slopes of the distance between two points.
    Slopes slopes(int p, int q) const {
        const Vec2 u = unit(places_.at[p] - places_.at[q]);
        const int i = 2 * index_[p], j = 2 * index_[q];
        return {{{i, u.x}, {i + 1, u.y}, {j, -u.x}, {j + 1, -u.y}}};
    }
    double between(const Slopes& a, const Slopes& b) const {
        double sum = 0;
        for (const auto& [i, x] : a.of) {
            for (const auto& [j, y] : b.of) sum += x * y * c(i, j);
        }
        return sum;
    }
    double sd_of(int p, int q) const { return distance_sd_mm(tape_, distance(places_.at[p], places_.at[q])); }
    bool offered(int p, int q) const {
        return p != q && taped_.count(std::minmax(p, q)) == 0 &&
               distance(places_.at[p], places_.at[q]) >= kShortest_mm;
    }
    double smallest_slip(std::size_t row, double share) const {
        return kDelta0 * net_.observations[q_.observation(row)].sd_mm / std::sqrt(share);
    }

    /// The tie that would hide the largest slip, or -1 when all show one of kWellChecked_mm.
    int weakest_row(const std::set<int>& given_up) const {
        int worst = -1;
        double least = HUGE_VAL;
        for (std::size_t r = 0; r < share_.size(); ++r) {
            const Observation& o = net_.observations[q_.observation(r)];
            if (o.kind != Kind::distance || given_up.count(static_cast<int>(r)) != 0) continue;
            const bool checked = share_[r] > kLeastRedundancy;
            if (checked && smallest_slip(r, share_[r]) <= kWellChecked_mm) continue;
            // To the millionth, so that equals stay in order.
            const double share = std::round(1e6 * share_[r] / (o.sd_mm * o.sd_mm));
            if (share >= least) continue;
            least = share;
            worst = static_cast<int>(r);
        }
        return worst;
    }

    std::string check(int row) {
        const auto r = static_cast<std::size_t>(row);
        const Observation& o = net_.observations[q_.observation(r)];
        const Slopes own = slopes(o.p, o.a);
        int from = -1, to = -1;
        double most = 0;
        for (const int p : {o.p, o.a}) {
            for (const int q : points_) {
                if (!offered(p, q)) continue;
                const Slopes tie = slopes(p, q);
                const double with = between(own, tie);
                const double doubt = between(tie, tie) + sd_of(p, q) * sd_of(p, q);
                const double gain = with * with / (doubt * o.sd_mm * o.sd_mm);
                if (gain <= most * kClearly) continue;
                most = gain;
                from = p;
                to = q;
            }
        }
        const double before = share_[r], after = std::min(1.0, before + most);
        const bool was_checked = before > kLeastRedundancy;
        if (from < 0 || after <= kLeastRedundancy) return {};
        const double slip = smallest_slip(r, after);
        if (was_checked && slip > kWorthwhile * smallest_slip(r, before)) return {};
        const std::string name = net_.names[o.from()] + "\u2013" + net_.names[o.to()];
        const std::string tie = "one more tie from " + net_.names[from] + " to " + net_.names[to];
        std::string says;
        const int lonely = unchecked_point(o);
        if (lonely >= 0) {
            says = "Nothing checks " + net_.names[lonely] + "; " + tie + " would show a slip down to " +
                   say_.size(slip) + ".";
        } else if (!was_checked) {
            says =
                "Nothing checks " + name + "; " + tie + " would show a slip down to " + say_.size(slip) + ".";
        } else {
            says = "A slip in " + name + " shows only from " + say_.size(smallest_slip(r, before)) + " on; " +
                   tie + " would show one of " + say_.size(slip) + ".";
        }
        make(from, to);
        return says;
    }

    /// The end of a tie none of whose readings is checked, or -1.
    int unchecked_point(const Observation& o) const {
        for (const int p : {o.p, o.a}) {
            bool any = false;
            for (std::size_t r = 0; r < share_.size(); ++r) {
                const Observation& other = net_.observations[q_.observation(r)];
                for (int k = 0; k < other.point_count(); ++k)
                    any = any || (other.point(k) == p && share_[r] > kLeastRedundancy);
            }
            if (!any) return p;
        }
        return -1;
    }

    Cov2 covariance(int p) const {
        const int i = 2 * index_[p];
        return {c(i, i), c(i, i + 1), c(i + 1, i + 1)};
    }

    /// The least sure point and the tie that makes it surest.
    std::string pin_down() {
        int worst = -1;
        double doubt = kWeak_mm;
        for (const int p : points_) {
            const double sd = largest_sd(covariance(p));
            if (sd <= doubt * kClearly) continue;
            doubt = sd;
            worst = p;
        }
        if (worst < 0) return {};
        int to = -1;
        double least = doubt;
        const int i = 2 * index_[worst];
        for (const int q : points_) {
            if (!offered(worst, q)) continue;
            const Slopes tie = slopes(worst, q);
            const double v = between(tie, tie) + sd_of(worst, q) * sd_of(worst, q);
            const double x = between({{{i, 1.0}}}, tie), y = between({{{i + 1, 1.0}}}, tie);
            const Cov2 now = covariance(worst);
            const double left = largest_sd({now.xx - x * x / v, now.xy - x * y / v, now.yy - y * y / v});
            if (left * kClearly >= least) continue;
            least = left;
            to = q;
        }
        if (to < 0 || least > kWorthwhile * doubt || least > kHardly_mm) return {};
        std::string says = how_sure(net_.names[worst], doubt, say_) + "; a tie to " + net_.names[to] +
                           " would make it sure to " + say_.little(least) + ".";
        make(worst, to);
        return says;
    }

    /// Takes the tie as made: covariances and redundancies with one reading more.
    void make(int p, int q) {
        const Slopes tie = slopes(p, q);
        const double v = between(tie, tie) + sd_of(p, q) * sd_of(p, q);
        for (std::size_t r = 0; r < share_.size(); ++r) {
            const Observation& o = net_.observations[q_.observation(r)];
            if (o.kind != Kind::distance) continue;
            const double with = between(slopes(o.p, o.a), tie);
            share_[r] = std::min(1.0, share_[r] + with * with / (v * o.sd_mm * o.sd_mm));
        }
        std::vector<double> column(static_cast<std::size_t>(size_));
        for (int i = 0; i < size_; ++i) {
            for (const auto& [j, x] : tie.of) column[static_cast<std::size_t>(i)] += x * c(i, j);
        }
        for (int i = 0; i < size_; ++i) {
            for (int j = 0; j < size_; ++j) {
                c_[static_cast<std::size_t>(i) * static_cast<std::size_t>(size_) +
                   static_cast<std::size_t>(j)] -=
                    column[static_cast<std::size_t>(i)] * column[static_cast<std::size_t>(j)] / v;
            }
        }
        taped_.insert(std::minmax(p, q));
    }

    const Quality& q_;
    const Network& net_;
    const Places& places_;
    const TapeSettings& tape_;
    std::vector<double> c_;
    const Say& say_;
    std::vector<int> index_, points_;
    int size_ = 0;
    std::set<std::pair<int, int>> taped_;
    std::vector<double> share_;
};

}  // namespace

std::string how_sure(const std::string& name, double sd_mm, const Say& say) {
    // Written so that no doubt at all, or one that is no number, is not printed either.
    if (!(sd_mm <= kHardly_mm)) return name + " is hardly held at all";
    return name + " is sure only to about " + say.little(sd_mm);
}

double largest_sd(const Cov2& c) {
    const double half = 0.5 * (c.xx + c.yy);
    return std::sqrt(std::max(0.0, half + std::sqrt(0.25 * (c.xx - c.yy) * (c.xx - c.yy) + c.xy * c.xy)));
}

std::vector<std::string> next_ties(const Quality& quality, const Places& places, const TapeSettings& tape,
                                   std::vector<double> covariance, const Say& say) {
    return Advisor(quality, places, tape, std::move(covariance), say).run();
}

}  // namespace spile::survey
