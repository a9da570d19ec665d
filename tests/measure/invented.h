// Invented tie patterns for the bars of measuring: fair ones, where every tie is well checked, and rough ones. The checks
// are worked out densely with Eigen, apart from the program's own sparse arithmetic. Shared by tests and `spile-bench measure`.
#pragma once

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <optional>

#include "tests/measure/simulated.h"

namespace spile::simulated {

/// Residual-forming matrix of the ties of a space at its true places, in standard deviations; empty when the ties do not
/// fix the shape.
inline Eigen::MatrixXd residual_former(const Space& s) {
    const auto m = static_cast<Eigen::Index>(s.pairs.size());
    const auto n = static_cast<Eigen::Index>(2 * s.corners.size());
    Eigen::MatrixXd f = Eigen::MatrixXd::Zero(m, n);
    for (Eigen::Index k = 0; k < m; ++k) {
        const auto& [p, q] = s.pairs[static_cast<std::size_t>(k)];
        const Vec2 d = s.corners[static_cast<std::size_t>(p)] - s.corners[static_cast<std::size_t>(q)];
        const Vec2 u = unit(d) / distance_sd_mm(tape(), norm(d));
        f(k, 2 * p) = u.x;
        f(k, 2 * p + 1) = u.y;
        f(k, 2 * q) = -u.x;
        f(k, 2 * q + 1) = -u.y;
    }
    // Whatever the datum: a shape is fixed when the rank is all but the three movements of the whole.
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(f);
    if (qr.rank() < n - 3) return {};
    const Eigen::MatrixXd thin = Eigen::MatrixXd(qr.householderQ()).leftCols(n - 3);
    return Eigen::MatrixXd::Identity(m, m) - thin * thin.transpose();
}

/// The bar's own words: every tie shows a slip of 1/2 in (delta0 4.13), and no two ties are correlated above 0.9.
inline bool fair(const Space& s) {
    const Eigen::MatrixXd r = residual_former(s);
    if (r.size() == 0) return false;
    for (Eigen::Index i = 0; i < r.rows(); ++i) {
        const auto& [p, q] = s.pairs[static_cast<std::size_t>(i)];
        const Vec2 d = s.corners[static_cast<std::size_t>(p)] - s.corners[static_cast<std::size_t>(q)];
        if (4.13 * distance_sd_mm(tape(), norm(d)) > 12.7 * std::sqrt(std::max(0.0, r(i, i)))) return false;
        for (Eigen::Index j = 0; j < i; ++j) {
            if (std::fabs(r(i, j)) > 0.9 * std::sqrt(r(i, i) * r(j, j))) return false;
        }
    }
    return true;
}

inline int spare_of(const Space& s) {
    return static_cast<int>(s.pairs.size()) - 2 * static_cast<int>(s.corners.size()) + 3;
}

/// All sides and then diagonals in random order, until the space is fair and has `least_spare` ties to spare.
inline Space fair_space(Random& random, int least_spare = 0) {
    for (;;) {
        Space s = any_space(random);
        const int n = static_cast<int>(s.corners.size());
        auto diagonals = all_pairs(n);
        for (int i = 0; i < n; ++i) s.pairs.push_back({std::min(i, (i + 1) % n), std::max(i, (i + 1) % n)});
        random.shuffle(diagonals);
        for (const auto& pair : diagonals) {
            if (std::find(s.pairs.begin(), s.pairs.end(), pair) != s.pairs.end()) continue;
            s.pairs.push_back(pair);
            if (spare_of(s) >= std::max(2, least_spare) && fair(s)) return s;
        }
    }
}

/// Ties in random order until the shape is fixed, then up to as many more as there are corners.
inline Space rough_space(Random& random, int least_spare = 1) {
    for (;;) {
        Space s = any_space(random);
        const int n = static_cast<int>(s.corners.size());
        auto pairs = all_pairs(n);
        random.shuffle(pairs);
        const int extra = least_spare + random.below(n);
        for (const auto& pair : pairs) {
            s.pairs.push_back(pair);
            if (spare_of(s) >= extra && residual_former(s).size() > 0) return s;
        }
    }
}

/// A tie that was taped from one of its points to another than is written.
struct Mistaken {
    std::size_t tie = 0;
    std::string from, to;  ///< what it was taped between

    bool is_offered_by(const std::string& line) const {
        return line.rfind(from + " " + to + " ", 0) == 0 || line.rfind(to + " " + from + " ", 0) == 0;
    }
};
/// Tapes one tie so: the other point is not tied to the kept one, and the sizes differ by 1/2 in or more. Nothing when the
/// first dozen draws find none.
inline std::optional<Mistaken> mistake_points(Random& random, Space& s) {
    for (int attempt = 0; attempt < 12; ++attempt) {
        const auto tie = static_cast<std::size_t>(random.below(static_cast<int>(s.pairs.size())));
        auto [kept, lost] = s.pairs[tie];
        if (random.below(2)) std::swap(kept, lost);
        const int other = random.below(static_cast<int>(s.corners.size()));
        const bool tied = std::any_of(s.pairs.begin(), s.pairs.end(), [&, k = kept](const auto& pair) {
            return pair == std::pair{std::min(k, other), std::max(k, other)};
        });
        const double true_mm =
            distance(s.corners[static_cast<std::size_t>(kept)], s.corners[static_cast<std::size_t>(other)]);
        if (other == kept || tied || std::fabs(true_mm - s.reads_mm[tie]) < 12.7) continue;
        s.reads_mm[tie] = taped(random, true_mm);
        return Mistaken{tie, name_of(kept), name_of(other)};
    }
    return std::nullopt;
}

/// Another name, which sorts the other way.
inline std::string renamed(const std::string& name) {
    std::string other = "x";
    for (const char c : name) other += static_cast<char>(c >= 'A' && c <= 'Z' ? 'z' - (c - 'A') : c);
    return other;
}

/// The same space, its ties shuffled, taped from the other end, its points called otherwise.
inline SpaceInput otherwise(Random& random, SpaceInput in) {
    random.shuffle(in.readings);
    for (std::string& name : in.walk) name = renamed(name);
    for (std::string& name : in.bow) name = renamed(name);
    for (Reading& r : in.readings) {
        Tie& t = std::get<Tie>(r.what);
        std::swap(t.from, t.to);
        t.from = renamed(t.from);
        t.to = renamed(t.to);
    }
    return in;
}

}  // namespace spile::simulated
