#include "core/layout/solve/dual_feasible.h"

#include <algorithm>

namespace spile::lay {
namespace {

void sort_unique(std::vector<std::int64_t>& all) {
    std::sort(all.begin(), all.end());
    all.erase(std::unique(all.begin(), all.end()), all.end());
}

/// Spread evenly over all of them, the ends included.
void thin_out(std::vector<std::int64_t>& all, std::size_t most) {
    if (all.size() <= most) return;
    std::vector<std::int64_t> some;
    for (std::size_t i = 0; i < most; ++i) some.push_back(all[i * (all.size() - 1) / (most - 1)]);
    all = std::move(some);
}

}  // namespace

double DualFeasible::share(std::int64_t size) const {
    const double plain = static_cast<double>(size) / static_cast<double>(whole_);
    switch (kind_) {
        case Kind::steps: {
            const std::int64_t parts = (of_ + 1) * size;
            return parts % whole_ == 0 ? plain
                                       : static_cast<double>(parts / whole_) / static_cast<double>(of_);
        }
        case Kind::ends:
            return size > whole_ - of_ ? 1 : size >= of_ ? plain : 0;
        case Kind::multiples: {
            const std::int64_t all = whole_ / of_;
            const std::int64_t twice = 2 * size > whole_    ? 2 * (all - (whole_ - size) / of_)
                                       : 2 * size == whole_ ? all
                                                            : 2 * (size / of_);
            return static_cast<double>(twice) / static_cast<double>(2 * all);
        }
    }
    return 0;
}

std::vector<DualFeasible> dual_feasible_for(std::int64_t whole, std::vector<std::int64_t> sizes,
                                            std::size_t most) {
    using Kind = DualFeasible::Kind;
    constexpr std::int64_t kMostSteps = 8;
    std::vector<DualFeasible> out;
    sort_unique(sizes);
    std::vector<std::int64_t> least{1}, multiples;
    std::int64_t steps = 0;
    for (const std::int64_t size : sizes) {
        if (size <= 0 || size > whole) continue;
        steps = std::max(steps, std::min(whole / size, kMostSteps));
        const std::int64_t left = whole - size;
        for (const std::int64_t v : {size, left + 1})
            if (2 * v <= whole) least.push_back(v);
        for (const std::int64_t v : {size, left + 1, size / 2, left / 2 + 1, size / 3})
            if (v > 0 && 2 * v <= whole) multiples.push_back(v);
    }
    for (std::int64_t k = 1; k <= steps; ++k) out.emplace_back(Kind::steps, whole, k);
    const std::size_t each = std::max<std::size_t>(2, (most - std::min(most, out.size())) / 2);
    sort_unique(least);
    sort_unique(multiples);
    thin_out(least, each);
    thin_out(multiples, each);
    for (const std::int64_t v : least) out.emplace_back(Kind::ends, whole, v);
    for (const std::int64_t v : multiples) out.emplace_back(Kind::multiples, whole, v);
    return out;
}

}  // namespace spile::lay
