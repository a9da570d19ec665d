#include "core/measure/fit.h"

#include <algorithm>
#include <cmath>

#include "core/num/distributions.h"

namespace spile {
namespace {

constexpr int kSlices = 200;         // of the correlated normals; Simpson
constexpr double kFar = 8;           // standard deviations beyond which nothing lies
constexpr double kFinest_mm = 0.01;  // of a clearance asked for
constexpr double kWidest_mm = 500;

/// Chance that one of two correlated normals with mean 0 is below -limit.
double either_below(double sd_one, double sd_other, double covariance, double limit) {
    if (!(sd_one > 0) && !(sd_other > 0)) return limit < 0 ? 1 : 0;
    if (!(sd_one > 0)) return limit < 0 ? 1 : normal_cdf(-limit / sd_other);
    // Given the first at x, the other has mean slope * x and its own remaining doubt.
    const double slope = covariance / (sd_one * sd_one);
    const double left2 = sd_other * sd_other - slope * covariance;
    const double left = std::sqrt(std::max(0.0, left2));
    const double low = std::max(-limit, -kFar * sd_one), high = kFar * sd_one;
    if (low >= high) return 1;
    const double step = (high - low) / kSlices;
    double clear = 0;
    for (int i = 0; i <= kSlices; ++i) {
        const double x = low + i * step;
        const double t = x / sd_one;
        const double density = std::exp(-0.5 * t * t) / (sd_one * 2.5066282746310002);  // sqrt(2 pi)
        const double room = limit + slope * x;
        const double free = left > 0 ? normal_cdf(room / left) : room >= 0 ? 1.0 : 0.0;
        clear += density * free * (i == 0 || i == kSlices ? 1 : i % 2 ? 4 : 2);
    }
    return std::clamp(1 - clear * step / 3, 0.0, 1.0);
}

/// Covariances of a survey by the names of points.
class Doubts {
  public:
    explicit Doubts(const Survey& survey) : survey_(survey), size_(2 * survey.points.size()) {}

    bool known() const { return size_ > 0 && survey_.covariance_mm2.size() == size_ * size_; }
    std::optional<std::size_t> index(const std::string& name) const {
        const auto at = survey_.points.find(name);
        if (at == survey_.points.end()) return std::nullopt;
        return 2 * static_cast<std::size_t>(std::distance(survey_.points.begin(), at));
    }
    Vec2 place(const std::string& name) const { return survey_.points.at(name).boat_mm; }
    double at(std::size_t i, std::size_t j) const { return survey_.covariance_mm2[i * size_ + j]; }

  private:
    const Survey& survey_;
    std::size_t size_;
};

/// Coefficients, by corner and coordinate, of the move of one corner along n once the common shift and turn are out.
class Laid {
  public:
    Laid(const Doubts& doubts, const std::vector<std::string>& corners) : doubts_(doubts) {
        for (const std::string& name : corners) {
            index_.push_back(*doubts.index(name));
            at_.push_back(doubts.place(name));
        }
        for (const Vec2 p : at_) middle_ = middle_ + p / static_cast<double>(at_.size());
        for (const Vec2 p : at_) spread_ += norm2(p - middle_);
    }

    std::vector<Vec2> slopes(std::size_t corner, Vec2 n) const {
        std::vector<Vec2> out(at_.size());
        const double share = 1 / static_cast<double>(at_.size());
        const double turns = dot(n, left_of(at_[corner] - middle_));
        for (std::size_t i = 0; i < at_.size(); ++i) {
            out[i] = -share * n;
            if (spread_ > 0) out[i] = out[i] - turns / spread_ * left_of(at_[i] - middle_);
        }
        out[corner] = out[corner] + n;
        return out;
    }

    double covariance(const std::vector<Vec2>& a, const std::vector<Vec2>& b) const {
        double sum = 0;
        for (std::size_t i = 0; i < a.size(); ++i) {
            for (std::size_t j = 0; j < b.size(); ++j) {
                const std::size_t p = index_[i], q = index_[j];
                sum += a[i].x * (b[j].x * doubts_.at(p, q) + b[j].y * doubts_.at(p, q + 1)) +
                       a[i].y * (b[j].x * doubts_.at(p + 1, q) + b[j].y * doubts_.at(p + 1, q + 1));
            }
        }
        return sum;
    }

  private:
    const Doubts& doubts_;
    std::vector<std::size_t> index_;
    std::vector<Vec2> at_;
    Vec2 middle_;
    double spread_ = 0;
};

double wanted_clearance(double one, double other, double covariance) {
    double low = 0, high = kWidest_mm;
    while (high - low > kFinest_mm) {
        const double middle = 0.5 * (low + high);
        (either_below(one, other, covariance, middle) > kTouches ? low : high) = middle;
    }
    return high;
}

}  // namespace

std::optional<Fit> fit_of(const Survey& survey, const std::vector<std::string>& corners,
                          const std::vector<FitEdge>& edges) {
    const Doubts doubts(survey);
    if (!doubts.known() || corners.size() < 2) return std::nullopt;
    for (const std::string& name : corners) {
        if (!doubts.index(name)) return std::nullopt;
    }
    const Laid laid(doubts, corners);
    Fit fit;
    for (const FitEdge& edge : edges) {
        const auto from = std::find(corners.begin(), corners.end(), edge.from);
        const auto to = std::find(corners.begin(), corners.end(), edge.to);
        if (from == corners.end() || to == corners.end()) return std::nullopt;
        const Vec2 along = doubts.place(edge.to) - doubts.place(edge.from);
        if (!(norm(along) > 0)) return std::nullopt;
        const Vec2 n = left_of(unit(along));
        const std::vector<Vec2> a = laid.slopes(static_cast<std::size_t>(from - corners.begin()), n);
        const std::vector<Vec2> b = laid.slopes(static_cast<std::size_t>(to - corners.begin()), n);
        EdgeFit one{edge.from, edge.to, edge.clearance_mm, 0, 0, 0, 0};
        one.from_sd_mm = std::sqrt(std::max(0.0, laid.covariance(a, a)));
        one.to_sd_mm = std::sqrt(std::max(0.0, laid.covariance(b, b)));
        const double both = laid.covariance(a, b);
        one.touches = either_below(one.from_sd_mm, one.to_sd_mm, both, edge.clearance_mm);
        one.wanted_mm = wanted_clearance(one.from_sd_mm, one.to_sd_mm, both);
        if (fit.edges.empty() || one.touches > fit.edges[fit.worst].touches) fit.worst = fit.edges.size();
        fit.edges.push_back(std::move(one));
    }
    return fit;
}

std::optional<double> band_sd_mm(const Survey& survey, const std::string& from, const std::string& to,
                                 double t) {
    const Doubts doubts(survey);
    const auto p = doubts.index(from), q = doubts.index(to);
    if (!doubts.known() || !p || !q) return std::nullopt;
    const Vec2 along = doubts.place(to) - doubts.place(from);
    if (!(norm(along) > 0)) return std::nullopt;
    const Vec2 n = left_of(unit(along));
    const auto square = [&](std::size_t i, std::size_t j) {
        return n.x * (n.x * doubts.at(i, j) + n.y * doubts.at(i, j + 1)) +
               n.y * (n.x * doubts.at(i + 1, j) + n.y * doubts.at(i + 1, j + 1));
    };
    const double v =
        (1 - t) * (1 - t) * square(*p, *p) + 2 * t * (1 - t) * square(*p, *q) + t * t * square(*q, *q);
    return std::sqrt(std::max(0.0, v));
}

}  // namespace spile
