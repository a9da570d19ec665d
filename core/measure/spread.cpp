#include "core/measure/spread.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

namespace spile::survey {
namespace {

constexpr int kRounds = 100;  // of the iteration for the two widest directions; a rough place is enough
constexpr double kUnreached = std::numeric_limits<double>::infinity();

using Row = std::vector<double>;

/// Shortest ways along the ties from one point to all (Dijkstra).
Row ways_from(const Network& net, int from) {
    Row way(net.names.size(), kUnreached);
    way[static_cast<std::size_t>(from)] = 0;
    using Entry = std::pair<double, int>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> next;
    next.push({0, from});
    while (!next.empty()) {
        const auto [so_far, p] = next.top();
        next.pop();
        if (so_far > way[static_cast<std::size_t>(p)]) continue;
        for (const int i : net.of_point[static_cast<std::size_t>(p)]) {
            const Observation& o = net.observations[static_cast<std::size_t>(i)];
            if (o.kind != Kind::distance || !(o.value_mm > 0)) continue;
            const int q = o.p == p ? o.a : o.p;
            const double there = so_far + o.value_mm;
            if (there >= way[static_cast<std::size_t>(q)]) continue;
            way[static_cast<std::size_t>(q)] = there;
            next.push({there, q});
        }
    }
    return way;
}

double product(const Row& a, const Row& b) {
    double sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] * b[i];
    return sum;
}

/// Takes the part along `u`, a unit vector, out of `v` and gives v the length 1; false when nothing is left.
bool make_unit(Row& v, const Row* u) {
    const double along = u == nullptr ? 0 : product(v, *u);
    for (std::size_t i = 0; u != nullptr && i < v.size(); ++i) v[i] -= along * (*u)[i];
    const double length = std::sqrt(product(v, v));
    if (!(length > 0)) return false;
    for (double& value : v) value /= length;
    return true;
}

Row times(const std::vector<Row>& matrix, const Row& v) {
    Row out;
    for (const Row& row : matrix) out.push_back(product(row, v));
    return out;
}

}  // namespace

std::optional<Places> spread(const Network& net) {
    const std::size_t n = net.names.size();
    if (n < 3 || net.points() > kMostSpread) return std::nullopt;
    std::vector<Row> scalar;  // of two places about the middle of all, once centred
    for (int p = 0; p < net.points(); ++p) {
        Row way = ways_from(net, p);
        if (std::find(way.begin(), way.end(), kUnreached) != way.end()) return std::nullopt;
        for (double& w : way) w = -0.5 * w * w;
        scalar.push_back(std::move(way));
    }
    Row mean;
    double whole = 0;
    for (const Row& row : scalar) {
        double sum = 0;
        for (const double v : row) sum += v;
        mean.push_back(sum / static_cast<double>(n));
        whole += mean.back() / static_cast<double>(n);
    }
    // The two widest directions, begun with what the first two points see.
    Row x = scalar[0], y = scalar[1];
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = 0; j < n; ++j) scalar[i][j] += whole - mean[i] - mean[j];
    }
    for (int round = 0; round < kRounds; ++round) {
        if (!make_unit(x, nullptr) || !make_unit(y, &x)) return std::nullopt;
        x = times(scalar, x);
        y = times(scalar, y);
    }
    // Each has grown by its own square width.
    const double wide = std::sqrt(std::sqrt(product(x, x))), deep = std::sqrt(std::sqrt(product(y, y)));
    if (!make_unit(x, nullptr) || !make_unit(y, &x)) return std::nullopt;
    Places places;
    for (std::size_t i = 0; i < n; ++i) places.at.push_back({wide * x[i], deep * y[i]});
    return places;
}

}  // namespace spile::survey
