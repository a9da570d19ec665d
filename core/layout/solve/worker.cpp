#include "core/layout/solve/worker.h"

#include <algorithm>
#include <cmath>

#include "core/layout/solve/search.h"

namespace spile::lay {

Worker::Worker(const FieldTable& fields, const SeparateSettings& separate, const WorkerSettings& settings,
               std::uint64_t seed, std::function<bool()> halt)
    : fields_(fields),
      problem_(fields.problem()),
      settings_(settings),
      random_(seed),
      halt_(std::move(halt)),
      separator_(fields, separate, halt_),
      shrink_(settings.shrink) {
    std::vector<double> area;
    for (std::size_t i = 0; i < problem_.items.size(); ++i) {
        area.push_back(hull_area(problem_, static_cast<int>(i)));
        if (!problem_.items[i].fixed) by_size_.push_back(static_cast<int>(i));
    }
    std::stable_sort(by_size_.begin(), by_size_.end(), [&](int a, int b) { return area[a] > area[b]; });
}

void Worker::adopt(const Places& best, double length, double enough) {
    best_ = best;
    best_length_ = length;
    enough_ = enough;
    aim_at_best();
}

void Worker::aim_at_best() {
    failures_.clear();
    const double target = std::max(enough_, std::floor(best_length_ * (1 - shrink_)));
    // Pushing in what stands out at the end stirs the rest least: with many items full steps went better so.
    const bool cuts = settings_.always_cuts || shrink_ < settings_.shrink;
    const bool at_a_cut = cuts && random_.share() < settings_.cut_share;
    begin(at_a_cut ? shortened(best_, best_length_ - target) : best_, target);
}

/// What lies beyond a cut somewhere along the strip moves back: no two attempts from one layout begin with the same overlaps.
Places Worker::shortened(Places places, double by) {
    const double cut = random_.share() * best_length_;
    for (const int i : by_size_) {
        const IBox& box = problem_.boxes[places[i].shape];
        const double middle = 0.5 * static_cast<double>(box.min_x + box.max_x);
        if (places[i].at.x + middle > cut)
            places[i].at.x = std::max(places[i].at.x - by, -static_cast<double>(box.min_x));
    }
    return places;
}

void Worker::begin(const Places& places, double target) {
    separator_.start(places, target);
    least_ = separator_.places();
    least_total_ = least_at_strike_ = separator_.total();
    idle_ = strikes_ = 0;
}

void Worker::work(long tries) {
    for (const long end = separator_.tries() + tries; separator_.tries() < end;) {
        if (best_length_ <= enough_) return;
        if (separator_.total() <= 0) {
            succeeded();
            continue;
        }
        if (halt_ && halt_()) return;
        const long before = separator_.tries();
        separator_.pass(random_);
        if (separator_.tries() == before) return;  // halted
        const double total = separator_.total();
        idle_ = total < settings_.worth * least_total_ ? 0 : idle_ + 1;
        if (total < least_total_) {
            least_total_ = total;
            least_ = separator_.places();
        }
        if (total <= 0 || idle_ < settings_.patience) continue;
        strikes_ = least_total_ < settings_.worth * least_at_strike_ ? 0 : strikes_ + 1;
        least_at_strike_ = least_total_;
        idle_ = 0;
        if (strikes_ < settings_.strikes)
            separator_.put(least_);
        else
            failed();
    }
}

void Worker::succeeded() {
    const double length = length_of(problem_, separator_.places());
    // No overlap is left and yet it is no shorter: something stands out of the strip that nothing moves.
    if (length >= best_length_) {
        enough_ = best_length_;
        return;
    }
    best_ = separator_.places();
    best_length_ = length;
    shrink_ = std::min(settings_.shrink, 2 * shrink_);
    aim_at_best();
}

void Worker::failed() {
    if (shrink_ > settings_.least_shrink) {
        shrink_ = std::max(settings_.least_shrink, shrink_ / 4);
        aim_at_best();
        return;
    }
    const Failure failure{least_, least_total_};
    failures_.insert(std::upper_bound(failures_.begin(), failures_.end(), failure,
                                      [](const Failure& a, const Failure& b) { return a.total < b.total; }),
                     failure);
    // The better ones more often: a bell about the first, its width half the list.
    const double bell =
        std::fabs(random_.share() + random_.share() + random_.share() + random_.share() - 2) / 2;
    const auto pick = std::min(failures_.size() - 1,
                               static_cast<std::size_t>(bell * static_cast<double>(failures_.size())));
    begin(disturbed(failures_[pick].places), separator_.length());
}

/// Two large items of different kinds change places, centre to centre.
Places Worker::disturbed(Places places) {
    const auto centre = [&](const Place& p) {
        const IBox& b = problem_.boxes[p.shape];
        return p.at + DPoint{0.5 * static_cast<double>(b.min_x + b.max_x),
                             0.5 * static_cast<double>(b.min_y + b.max_y)};
    };
    const auto centre_at = [&](Place& p, DPoint c) {
        const IBox& b = problem_.boxes[p.shape];
        p.at = p.at + c - centre(p);
        p.at.x = std::max(std::min(p.at.x, separator_.length() - static_cast<double>(b.max_x)),
                          -static_cast<double>(b.min_x));
        p.at.y = std::max(std::min(p.at.y, static_cast<double>(problem_.width - b.max_y)),
                          -static_cast<double>(b.min_y));
    };
    const std::size_t n = by_size_.size();
    const bool thrown = settings_.throw_share > 0 && random_.share() < settings_.throw_share;
    const std::size_t large =
        std::max<std::size_t>(std::min<std::size_t>(2, n),
                              static_cast<std::size_t>(static_cast<double>(n) * settings_.exchange_share));
    for (int attempt = 0; attempt < 100 && !thrown; ++attempt) {
        const int a = by_size_[random_.below(large)], b = by_size_[random_.below(large)];
        if (problem_.items[a].kind == problem_.items[b].kind) continue;
        const DPoint ca = centre(places[a]), cb = centre(places[b]);
        centre_at(places[a], cb);
        centre_at(places[b], ca);
        return places;
    }
    // Also when all are of one kind.
    const int a = by_size_[random_.below(n)];
    centre_at(places[a],
              {random_.share() * separator_.length(), random_.share() * static_cast<double>(problem_.width)});
    return places;
}

}  // namespace spile::lay
