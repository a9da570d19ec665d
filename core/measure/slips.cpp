#include "core/measure/slips.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "core/measure/causes.h"
#include "core/measure/settle.h"
#include "core/num/distributions.h"

namespace spile::survey {
namespace {

constexpr double kFalseAlarm = 0.012;    // chance that a clean space raises any suspicion, by w
constexpr double kGlobalLevel = 0.0005;  // of the global test
constexpr std::size_t kMostCandidates = 150;
constexpr std::size_t kMostSlips = 6;
constexpr std::size_t kMostAlike = 3;
constexpr double kAlike = 9.2;  // loss of explained misclosure, squared: 100 to 1
// A reading that explains less than this share, as seen from where another is out, is not adjusted for: a slip of a tenth of
// a tie bends what is seen from there by about a tenth, its square by a fifth.
constexpr double kWorthAdjusting = 0.5;
constexpr double kRanked_mm = 1e-3;    // finely enough to weigh readings against each other
constexpr double kInseparable = 1e-6;  // redundancy left to a reading once others are out
constexpr int kRounds = 6;

using Set = std::vector<std::size_t>;  // candidates, ascending

/// Linear algebra of slips at one set of places: e = R (misclosure), slips of S = R_SS^-1 e_S.
class Linear {
  public:
    explicit Linear(const Quality& q) {
        std::vector<std::size_t> order;
        for (std::size_t r = 0; r < q.rows(); ++r) {
            if (q.checked(r)) order.push_back(r);
        }
        tests_ = order.size();
        if (order.size() > kMostCandidates) {
            std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
                return std::fabs(q.w(a)) > std::fabs(q.w(b));
            });
            order.resize(kMostCandidates);
            std::sort(order.begin(), order.end());
        }
        row_ = order;
        const auto n = static_cast<Eigen::Index>(row_.size());
        r_.resize(n, n);
        e_.resize(n);
        for (Eigen::Index j = 0; j < n; ++j) {
            const std::vector<double> response = q.response(row_[j]);
            for (Eigen::Index i = 0; i < n; ++i) r_(i, j) = q.residual_share(row_[i], row_[j], response);
            e_(j) = q.residual()[row_[j]];
        }
        for (const double v : q.residual()) whole_ += v * v;
    }

    std::size_t size() const { return row_.size(); }
    std::size_t tests() const { return tests_; }
    std::size_t row(std::size_t candidate) const { return row_[candidate]; }
    double whole() const { return whole_; }  ///< squared sum with no slip taken out

    struct Fit {
        bool separable = false;
        double gain = 0;           ///< squared sum explained
        Eigen::VectorXd slip, sd;  ///< in standard deviations of the readings
    };
    Fit fit(const Set& s) const {
        Fit f;
        const auto n = static_cast<Eigen::Index>(s.size());
        if (n == 0) {
            f.separable = true;
            return f;
        }
        Eigen::MatrixXd rs(n, n);
        Eigen::VectorXd es(n);
        for (Eigen::Index i = 0; i < n; ++i) {
            es(i) = e_(static_cast<Eigen::Index>(s[i]));
            for (Eigen::Index j = 0; j < n; ++j) {
                rs(i, j) = r_(static_cast<Eigen::Index>(s[i]), static_cast<Eigen::Index>(s[j]));
            }
        }
        const Eigen::LDLT<Eigen::MatrixXd> ldlt(rs);
        if (ldlt.info() != Eigen::Success || !(ldlt.vectorD().minCoeff() > kInseparable)) return f;
        f.separable = true;
        f.slip = ldlt.solve(es);
        f.gain = es.dot(f.slip);
        f.sd = ldlt.solve(Eigen::MatrixXd::Identity(n, n)).diagonal().cwiseSqrt();
        return f;
    }

    /// w of every candidate once the slips of S are out; 0 for S itself and for what is then checked by nothing.
    Eigen::VectorXd w_given(const Set& s) const {
        Eigen::VectorXd e, r;
        given(s, e, r);
        Eigen::VectorXd w(e.size());
        for (Eigen::Index i = 0; i < w.size(); ++i)
            w(i) = r(i) > kLeastRedundancy ? e(i) / std::sqrt(r(i)) : 0;
        for (const std::size_t i : s) w(static_cast<Eigen::Index>(i)) = 0;
        return w;
    }
    /// The two readings that together explain most. Requires: size() >= 2.
    Set best_pair() const {
        Set best;
        double most = -1;
        for (Eigen::Index i = 0; i < e_.size(); ++i) {
            for (Eigen::Index j = i + 1; j < e_.size(); ++j) {
                const double det = r_(i, i) * r_(j, j) - r_(i, j) * r_(i, j);
                if (det <= kInseparable * r_(i, i) * r_(j, j)) continue;
                const double gain =
                    (e_(i) * e_(i) * r_(j, j) - 2 * e_(i) * e_(j) * r_(i, j) + e_(j) * e_(j) * r_(i, i)) /
                    det;
                if (gain <= most * (1 + 1e-12)) continue;
                most = gain;
                best = {static_cast<std::size_t>(i), static_cast<std::size_t>(j)};
            }
        }
        return best;
    }
    Eigen::VectorXd redundancy_given(const Set& s) const {
        Eigen::VectorXd e, r;
        given(s, e, r);
        return r;
    }

  private:
    void given(const Set& s, Eigen::VectorXd& e, Eigen::VectorXd& r) const {
        const auto n = static_cast<Eigen::Index>(size());
        e = e_;
        r = r_.diagonal();
        if (!s.empty()) {
            const auto k = static_cast<Eigen::Index>(s.size());
            Eigen::MatrixXd rs(k, k), cross(n, k);
            Eigen::VectorXd es(k);
            for (Eigen::Index i = 0; i < k; ++i) {
                cross.col(i) = r_.col(static_cast<Eigen::Index>(s[i]));
                es(i) = e_(static_cast<Eigen::Index>(s[i]));
            }
            for (Eigen::Index i = 0; i < k; ++i) rs.row(i) = cross.row(static_cast<Eigen::Index>(s[i]));
            const Eigen::MatrixXd share = rs.ldlt().solve(cross.transpose()).transpose();
            e -= share * es;
            r -= share.cwiseProduct(cross).rowwise().sum();
        }
    }

    std::vector<std::size_t> row_;
    std::size_t tests_ = 0;
    Eigen::MatrixXd r_;
    Eigen::VectorXd e_;
    double whole_ = 0;
};

Set with(Set s, std::size_t extra) {
    s.insert(std::upper_bound(s.begin(), s.end(), extra), extra);
    return s;
}
Set without(Set s, std::size_t gone) {
    s.erase(std::find(s.begin(), s.end(), gone));
    return s;
}

class Search {
  public:
    Search(const Linear& linear, int spare)
        : linear_(linear), spare_(spare), critical_(critical_w(linear.tests())) {}

    Set run(Set s) {
        if (linear_.size() == 0) return {};
        const std::size_t most =
            std::min<std::size_t>(kMostSlips, static_cast<std::size_t>(std::max(1, spare_ - 1)));
        if (!linear_.fit(s).separable) s.clear();
        for (int round = 0; round < 12; ++round) {
            const Set before = s;
            s = readmitted(s);
            if (s.size() < most) s = grown(s, most);
            s = exchanged(s);
            if (s == before) break;
        }
        return readmitted(s);
    }

  private:
    /// One more slip: the reading that now stands out most; from one to two, the best pair of all, since two slips can
    /// hide behind a third reading. When none stands out alone but the whole does not close, the best two more.
    Set grown(const Set& s, std::size_t most) const {
        const Eigen::VectorXd w = linear_.w_given(s);
        Eigen::Index worst = 0;
        const double top = w.cwiseAbs().maxCoeff(&worst);
        if (top > critical_ && s.size() == 1) return linear_.best_pair();
        if (top > critical_) return with(s, static_cast<std::size_t>(worst));
        const double left = linear_.whole() - linear_.fit(s).gain;
        const int spare = spare_ - static_cast<int>(s.size());
        if (spare < 3 || s.size() + 2 > most || chi2_upper(left, spare) > kGlobalLevel) return s;
        Set best = s;
        double gain = linear_.fit(s).gain + 2 * critical_ * critical_;
        for (std::size_t i = 0; i < linear_.size(); ++i) {
            if (std::binary_search(s.begin(), s.end(), i)) continue;
            for (std::size_t j = i + 1; j < linear_.size(); ++j) {
                if (std::binary_search(s.begin(), s.end(), j)) continue;
                Set pair = with(with(s, i), j);
                const Linear::Fit f = linear_.fit(pair);
                if (!f.separable || f.gain <= gain) continue;
                gain = f.gain;
                best = std::move(pair);
            }
        }
        return best;
    }

    /// Each slip in turn is exchanged for the reading that explains more in its place.
    Set exchanged(Set s) const {
        if (s.size() < 2) return s;
        double gain = linear_.fit(s).gain;
        bool better = true;
        for (int round = 0; better && round < 10; ++round) {
            better = false;
            for (const std::size_t member : Set(s)) {
                const Set rest = without(s, member);
                const Eigen::VectorXd w = linear_.w_given(rest);
                Eigen::Index best = 0;
                w.cwiseAbs().maxCoeff(&best);
                if (static_cast<std::size_t>(best) == member) continue;
                const Set other = with(rest, static_cast<std::size_t>(best));
                const Linear::Fit f = linear_.fit(other);
                if (!f.separable || f.gain <= gain * (1 + 1e-12)) continue;
                gain = f.gain;
                s = other;
                better = true;
                break;
            }
        }
        return s;
    }

    /// Readings that agree after all once the others are out come back, the best of them first.
    Set readmitted(Set s) const {
        while (!s.empty()) {
            const Linear::Fit f = linear_.fit(s);
            if (!f.separable) return {};
            Eigen::Index least = 0;
            const double w = f.slip.cwiseQuotient(f.sd).cwiseAbs().minCoeff(&least);
            if (w > critical_) break;
            s.erase(s.begin() + least);
        }
        return s;
    }

    const Linear& linear_;
    int spare_;
    double critical_;
};

/// A net with its datum, adjusted with some of its readings out.
class Adjuster {
  public:
    Adjuster(const Equations& equations, const Places& places)
        : net_(equations.network()), datum_(equations.datum()), places_(places) {
        for (int p = 0; p < net_.points(); ++p) part_.push_back(equations.takes_part(p));
    }
    Adjusted without(const std::vector<int>& observations, double to_mm = kNoise_mm) const {
        std::vector<double> weight(net_.observations.size(), 1.0);
        for (const int o : observations) weight[o] = 0;
        return adjust(Equations(net_, datum_, part_, weight), places_, to_mm);
    }
    const Network& network() const { return net_; }

  private:
    const Network& net_;
    const Datum datum_;
    const Places& places_;
    std::vector<bool> part_;
};

/// The readings that, in place of one slip of a set, explain the misclosure about as well; the one whose slip is the
/// likelier to happen goes first. A long slip bends the space: each is weighed where the points lie without it.
class Rivals {
  public:
    Rivals(const Linear& linear, const Quality& q, const Adjuster& adjuster, const SpaceInput& space)
        : linear_(linear), q_(q), adjuster_(adjuster), net_(adjuster.network()), space_(space) {}

    /// Requires: `one` is a member of `s`. Guarantees: not empty, no other member of `s`.
    std::vector<std::size_t> of(const Set& s, std::size_t one) const {
        const Set rest = without(s, one);
        const Eigen::VectorXd w = linear_.w_given(rest);
        const Eigen::VectorXd r = linear_.redundancy_given(rest);
        const auto at = [](std::size_t i) { return static_cast<Eigen::Index>(i); };
        const double own = w(at(one)) * w(at(one));
        std::vector<int> out_of_it;
        for (const std::size_t i : rest) out_of_it.push_back(observation(i));
        struct Weighed {
            std::size_t candidate;
            double slip_mm, sum;
        };
        std::vector<Weighed> weighed;
        double least = HUGE_VAL;
        for (std::size_t i = 0; i < linear_.size(); ++i) {
            const double gain = w(at(i)) * w(at(i));
            if (i != one && (gain <= 0 || gain < std::min(own - kAlike, own * kWorthAdjusting))) continue;
            out_of_it.push_back(observation(i));
            const Adjusted adjusted = adjuster_.without(out_of_it, kRanked_mm);
            out_of_it.pop_back();
            const Observation& o = net_.observations[observation(i)];
            weighed.push_back({i, -misfit_mm(o, adjusted.places.at, adjusted.places.pose), adjusted.sum});
            least = std::min(least, adjusted.sum);
        }
        std::vector<std::pair<double, std::size_t>> order;
        for (const Weighed& c : weighed) {
            if (c.sum > least + kAlike) continue;
            // Evidence for this reading: how well it explains, how often such a slip happens, how sharply its size is known.
            const Observation& o = net_.observations[observation(c.candidate)];
            const double sd_mm = o.sd_mm / std::sqrt(std::max(r(at(c.candidate)), kLeastRedundancy));
            const double often =
                log_frequency(usual_causes(space_, net_, o), spoken_slip_mm(o, c.slip_mm), sd_mm);
            order.push_back({std::round(1000 * (2 * (std::log(sd_mm) + often) - c.sum)),
                             c.candidate});  // no last bit decides
        }
        std::stable_sort(order.begin(), order.end(),
                         [](const auto& a, const auto& b) { return a.first > b.first; });
        std::vector<std::size_t> out;
        for (const auto& [score, i] : order) out.push_back(i);
        return out;
    }

    /// The set with every slip exchanged for its likeliest rival.
    Set likeliest(Set s) const {
        for (std::size_t k = 0; k < s.size(); ++k) {
            const std::size_t first = of(s, s[k]).front();
            if (first == s[k]) continue;
            const Set other = with(without(s, s[k]), first);
            if (linear_.fit(other).separable) s = other;
        }
        return s;
    }

    std::vector<Slip> slips(const Set& s) const {
        const Linear::Fit f = linear_.fit(s);
        std::vector<Slip> out;
        if (!f.separable) return out;
        for (std::size_t k = 0; k < s.size(); ++k) {
            const auto at = static_cast<Eigen::Index>(k);
            const double sd = net_.observations[observation(s[k])].sd_mm;
            Slip slip{observation(s[k]), f.slip(at) * sd, f.sd(at) * sd, f.slip(at) / f.sd(at), {}};
            for (const std::size_t rival : of(s, s[k])) {
                if (rival == s[k] || slip.alike.size() == kMostAlike) continue;
                slip.alike.push_back(observation(rival));
            }
            out.push_back(std::move(slip));
        }
        return out;
    }

  private:
    int observation(std::size_t candidate) const { return q_.observation(linear_.row(candidate)); }

    const Linear& linear_;
    const Quality& q_;
    const Adjuster& adjuster_;
    const Network& net_;
    const SpaceInput& space_;
};

/// The candidates among `observations` (sorted).
Set candidates_of(const Linear& linear, const Quality& q, const std::vector<int>& observations) {
    Set out;
    for (std::size_t i = 0; i < linear.size(); ++i) {
        if (std::binary_search(observations.begin(), observations.end(), q.observation(linear.row(i))))
            out.push_back(i);
    }
    return out;
}
std::vector<int> observations_of(const Linear& linear, const Quality& q, const Set& s) {
    std::vector<int> out;
    for (const std::size_t i : s) out.push_back(q.observation(linear.row(i)));
    std::sort(out.begin(), out.end());
    return out;
}

}  // namespace

double critical_w(std::size_t tests) {
    const double share = kFalseAlarm / static_cast<double>(std::max<std::size_t>(tests, 1));
    // To the thousandth, so that no last bit of a library function decides about a reading.
    return std::round(1000 * normal_quantile(1 - share / 2)) / 1000;
}

SlipReport find_slips(const SpaceInput& space, const Equations& equations, const Places& all,
                      const Places& settled) {
    SlipReport report;
    report.without = all;
    const Network& net = equations.network();
    const int spare = static_cast<int>(equations.used().size()) - static_cast<int>(equations.parameters());
    if (spare < 1) return report;

    Places places = all;
    std::optional<Quality> q;
    q.emplace(equations, places);
    if (!q->fixed()) return report;
    double sum = 0;
    for (const double v : q->residual()) sum += v * v;
    report.closes = chi2_upper(sum, spare) > kGlobalLevel;
    double largest = 0;
    std::size_t tests = 0;
    for (std::size_t r = 0; r < q->rows(); ++r) {
        largest = std::max(largest, std::fabs(q->w(r)));
        tests += q->checked(r);
    }
    if (report.closes && largest <= critical_w(tests)) return report;

    if (largest > 8) {  // far off: the shape itself is bent, so look at it with the odd readings silent
        std::vector<bool> part;
        for (int p = 0; p < net.points(); ++p) part.push_back(equations.takes_part(p));
        double least = robust_sum(net, all, part);
        for (const Places& start : {all, settled}) {
            const Adjusted quiet = adjust_robustly(net, equations.datum(), start, part);
            const double sum_here = robust_sum(net, quiet.places, part);
            if (sum_here >= least) continue;
            least = sum_here;
            places = quiet.places;
        }
        q.emplace(equations, places);
        if (!q->fixed()) return report;
    }
    const Adjuster adjuster(equations, places);
    std::vector<int> out;
    const auto look_without = [&](std::vector<int> readings) {
        out = std::move(readings);
        places = adjuster.without(out).places;
        q.emplace(equations, places);
        report.without = places;
        return q->fixed();
    };
    // What stands out where the points lie without what stood out before.
    for (int round = 0; round < kRounds; ++round) {
        const Linear linear(*q);
        std::vector<int> now =
            observations_of(linear, *q, Search(linear, spare).run(candidates_of(linear, *q, out)));
        if (now == out) break;
        if (!look_without(std::move(now))) return report;
    }
    // Then which of several alike goes first.
    {
        const Linear linear(*q);
        const Rivals rivals(linear, *q, adjuster, space);
        std::vector<int> now = observations_of(linear, *q, rivals.likeliest(candidates_of(linear, *q, out)));
        if (now != out && !look_without(std::move(now))) return report;
    }
    const Linear linear(*q);
    const Set s = candidates_of(linear, *q, out);
    const Linear::Fit f = linear.fit(s);
    const int left = spare - static_cast<int>(s.size());
    report.explained = left < 1 || chi2_upper(linear.whole() - f.gain, left) > kGlobalLevel;
    report.slips = Rivals(linear, *q, adjuster, space).slips(s);
    std::stable_sort(report.slips.begin(), report.slips.end(),
                     [](const Slip& a, const Slip& b) { return std::fabs(a.w) > std::fabs(b.w); });
    return report;
}

}  // namespace spile::survey
