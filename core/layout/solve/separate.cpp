#include "core/layout/solve/separate.h"

#include <algorithm>

namespace spile::lay {
namespace {

constexpr std::size_t kCandidates = 6;
constexpr float kLeastGrowth = 1.2F,
                kMostGrowth = 2.0F;  // of a weight in one pass, by the share of the worst overlap
constexpr float kDecay = 0.95F;

}  // namespace

Separator::Separator(const FieldTable& fields)
    : fields_(fields),
      n_(fields.problem().items.size()),
      tolerance_(fields.problem().slack_units),
      finder_(fields, kCandidates),
      depth_(n_ * n_, 0),
      weight_(n_ * n_, 1) {}

void Separator::start(const Places& places, double length) {
    length_ = length;
    forget();
    put(places);
}

void Separator::forget() {
    std::fill(weight_.begin(), weight_.end(), 1.0F);
}

void Separator::put(const Places& places) {
    places_ = places;
    total_ = 0;
    for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = i + 1; j < n_; ++j) {
            const DPoint d = places_[j].at - places_[i].at;
            double depth = 0;
            if (fields_.box(places_[i].shape, places_[j].shape).holds(d))
                depth = fields_.field(places_[i].shape, places_[j].shape).depth(d);
            if (depth <= tolerance_) depth = 0;
            depth_[i * n_ + j] = depth_[j * n_ + i] = depth;
            total_ += depth;
        }
}

void Separator::measure_row(std::size_t item) {
    for (std::size_t j = 0; j < n_; ++j) {
        if (j == item) continue;
        const DPoint d = places_[item].at - places_[j].at;
        double depth = 0;
        if (fields_.box(places_[j].shape, places_[item].shape).holds(d))
            depth = fields_.field(places_[j].shape, places_[item].shape).depth(d);
        if (depth <= tolerance_) depth = 0;
        depth_[item * n_ + j] = depth_[j * n_ + item] = depth;
    }
}

double Separator::overlap_of(std::size_t item) const {
    double sum = 0;
    for (std::size_t j = 0; j < n_; ++j) sum += depth_[item * n_ + j];
    return sum;
}

double Separator::weighted(std::size_t item) const {
    double sum = 0;
    for (std::size_t j = 0; j < n_; ++j) sum += depth_[item * n_ + j] * weight_[item * n_ + j];
    return sum;
}

void Separator::pass(Random& random) {
    order_.clear();
    for (std::size_t i = 0; i < n_; ++i)
        if (overlap_of(i) > 0) order_.push_back(i);
    random.shuffle(order_);
    for (std::size_t item : order_) {
        const double now = weighted(item);
        if (now <= 0) continue;  // came free meanwhile
        ++tries;
        const auto found = finder_.least(places_, static_cast<int>(item), &weight_[item * n_], length_, now);
        if (found.loss >= now) continue;
        ++moves;
        places_[item] = found.place;
        measure_row(item);
    }
    reweigh();
}

void Separator::reweigh() {
    double worst = 0;
    total_ = 0;
    for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = i + 1; j < n_; ++j) {
            worst = std::max(worst, depth_[i * n_ + j]);
            total_ += depth_[i * n_ + j];
        }
    if (worst <= 0) return;
    for (std::size_t i = 0; i < n_; ++i)
        for (std::size_t j = i + 1; j < n_; ++j) {
            float& w = weight_[i * n_ + j];
            const double depth = depth_[i * n_ + j];
            w = depth > 0
                    ? w * (kLeastGrowth + (kMostGrowth - kLeastGrowth) * static_cast<float>(depth / worst))
                    : std::max(1.0F, w * kDecay);
            weight_[j * n_ + i] = w;
        }
}

}  // namespace spile::lay
