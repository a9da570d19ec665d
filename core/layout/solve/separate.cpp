#include "core/layout/solve/separate.h"

#include <algorithm>
#include <cmath>

#include "core/layout/solve/wide.h"

namespace spile::lay {
namespace {

// So that a weight never overflows however long a pair stays stuck.
constexpr float kMostWeight = 1e12F;

SPILE_WIDE void grow_weights(float* __restrict weight, const float* __restrict base,
                             const float* __restrict depth, std::size_t count, float least, float slope,
                             float decay) {
    for (std::size_t k = 0; k < count; ++k) {
        const float grown = weight[k] * (least + slope * depth[k]);
        const float shrunk = weight[k] * decay;
        const float w = depth[k] > 0 ? grown : shrunk;
        const float low = w > base[k] ? w : base[k];
        weight[k] = low < kMostWeight ? low : kMostWeight;
    }
}

SPILE_WIDE float sum_of_products(const float* __restrict a, const float* __restrict b, std::size_t count) {
    // Eight running sums, so that the order of additions is the same for every width of vector.
    float sum[8] = {};
    std::size_t k = 0;
    for (; k + 8 <= count; k += 8)
        for (std::size_t m = 0; m < 8; ++m) sum[m] += a[k + m] * b[k + m];
    for (; k < count; ++k) sum[0] += a[k] * b[k];
    return ((sum[0] + sum[1]) + (sum[2] + sum[3])) + ((sum[4] + sum[5]) + (sum[6] + sum[7]));
}

SPILE_WIDE float greatest(const float* a, std::size_t count) {
    float most[8] = {};
    std::size_t k = 0;
    for (; k + 8 <= count; k += 8)
        for (std::size_t m = 0; m < 8; ++m) most[m] = a[k + m] > most[m] ? a[k + m] : most[m];
    for (; k < count; ++k) most[0] = a[k] > most[0] ? a[k] : most[0];
    return *std::max_element(most, most + 8);
}

}  // namespace

double hull_area(const Problem& problem, int item) {
    return area_of(hull_of(problem.shapes[problem.items[item].shapes[0]].outer));
}

Separator::Separator(const FieldTable& fields, const SeparateSettings& settings, std::function<bool()> halt)
    : fields_(fields),
      settings_(settings),
      halt_(std::move(halt)),
      n_(fields.problem().items.size()),
      finder_(fields, settings.candidates, halt_),
      base_(n_ * n_),
      depth_(n_ * n_, 0),
      weight_(n_ * n_) {
    std::vector<double> size(n_);
    double mean = 0;
    for (std::size_t i = 0; i < n_; ++i) {
        // A power of a half or its halves by square roots alone keeps the bits the same everywhere.
        size[i] = std::pow(hull_area(fields.problem(), static_cast<int>(i)), settings.size_power);
        mean += size[i] / static_cast<double>(n_);
    }
    for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = 0; j < n_; ++j)
            base_[i * n_ + j] = static_cast<float>(std::sqrt(size[i] * size[j]) / mean);
}

void Separator::start(const Places& places, double length) {
    length_ = length;
    weight_ = base_;
    Places inside = places;
    for (std::size_t i = 0; i < n_; ++i) {
        if (fields_.problem().items[i].fixed) continue;
        Place& p = inside[i];
        turn_to_fit(i, p);
        const IBox& box = fields_.problem().boxes[p.shape];
        p.at.x = std::max(std::min(p.at.x, length - static_cast<double>(box.max_x)),
                          -static_cast<double>(box.min_x));
    }
    put(inside);
}

/// What is longer than the strip as it lies, but not in another of its turns, is turned about its middle.
void Separator::turn_to_fit(std::size_t item, Place& p) const {
    const Problem& problem = fields_.problem();
    const auto box = [&](int shape) -> const IBox& { return problem.boxes[static_cast<std::size_t>(shape)]; };
    if (static_cast<double>(box(p.shape).width()) <= length_) return;
    const auto middle = [&](int shape) {
        const IBox& b = box(shape);
        return DPoint{0.5 * static_cast<double>(b.min_x + b.max_x),
                      0.5 * static_cast<double>(b.min_y + b.max_y)};
    };
    const DPoint before = p.at + middle(p.shape);
    for (const int shape : problem.items[item].shapes)
        if (box(shape).width() < box(p.shape).width()) p.shape = shape;
    p.at = before - middle(p.shape);
    p.at.y = std::max(std::min(p.at.y, static_cast<double>(problem.width - box(p.shape).max_y)),
                      -static_cast<double>(box(p.shape).min_y));
}

float Separator::depth_of(std::size_t i, std::size_t j) const {
    if (fields_.problem().items[i].fixed && fields_.problem().items[j].fixed) return 0;
    const DPoint d = places_[j].at - places_[i].at;
    if (!fields_.box(places_[i].shape, places_[j].shape).holds(d)) return 0;
    const double depth = fields_.field(places_[i].shape, places_[j].shape).depth(d);
    return depth <= fields_.problem().slack_units ? 0.0F : static_cast<float>(depth);
}

void Separator::put(const Places& places) {
    places_ = places;
    for (std::size_t i = 0; i < n_; ++i) {
        if (halt_ && halt_()) {
            total_ = 1e300;
            return;
        }
        for (std::size_t j = i + 1; j < n_; ++j) depth_[i * n_ + j] = depth_[j * n_ + i] = depth_of(i, j);
    }
    total_ = 0.5 * sum_of_products(depth_.data(), base_.data(), n_ * n_);
}

void Separator::measure_row(std::size_t item) {
    for (std::size_t j = 0; j < n_; ++j)
        if (j != item) depth_[item * n_ + j] = depth_[j * n_ + item] = depth_of(j, item);
}

double Separator::weighted(std::size_t item) const {
    return sum_of_products(&depth_[item * n_], &weight_[item * n_], n_);
}

void Separator::pass(Random& random) {
    order_.clear();
    for (std::size_t i = 0; i < n_; ++i)
        if (!fields_.problem().items[i].fixed && weighted(i) > 0) order_.push_back(i);
    random.shuffle(order_);
    for (std::size_t item : order_) {
        const double now = weighted(item);
        if (now <= 0) continue;  // came free meanwhile
        if (halt_ && halt_()) return;
        ++tries_;
        const auto found = finder_.least(places_, static_cast<int>(item), &weight_[item * n_], length_, now);
        if (found.loss >= now) continue;
        places_[item] = found.place;
        measure_row(item);
    }
    reweigh();
}

void Separator::reweigh() {
    total_ = 0.5 * sum_of_products(depth_.data(), base_.data(), n_ * n_);
    const float worst = greatest(depth_.data(), n_ * n_);
    if (worst <= 0) return;
    grow_weights(weight_.data(), base_.data(), depth_.data(), n_ * n_, settings_.least_growth,
                 (settings_.most_growth - settings_.least_growth) / worst, settings_.decay);
}

}  // namespace spile::lay
