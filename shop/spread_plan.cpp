#include "shop/spread_plan.h"

#include <algorithm>
#include <functional>
#include <limits>

namespace spile::shop {
namespace {

constexpr std::int64_t kNone = std::numeric_limits<std::int64_t>::max();
constexpr std::int64_t kLengths = 16;  // more lengths than bundles are never used
static_assert(kMostApart < kLengths);

/// Money first, then fewer lengths: one number, so that a sum of losses is a sum of keys.
std::int64_t key_of(const Loss& loss) {
    return loss.money * kLengths + loss.lengths;
}

}  // namespace

SharePlan::SharePlan(const std::vector<Bundle>& bundles, const std::vector<std::size_t>& lots)
    : count_(Mask{1} << bundles.size()), all_(count_ - 1), steps_(count_) {
    const auto alone = [&](std::size_t i) {
        return std::count_if(bundles.begin(), bundles.end(),
                             [&](const Bundle& b) { return b.unit == bundles[i].unit; }) == 1;
    };
    for (std::size_t i = 0; i < bundles.size(); ++i) {
        const auto swapped = std::find_if(alike_.begin(), alike_.end(), [&](const auto& others) {
            const std::size_t j = others[0];
            return bundles[i].kind == bundles[j].kind &&
                   (bundles[i].unit == bundles[j].unit || (alone(i) && alone(j)));
        });
        if (swapped == alike_.end())
            alike_.push_back({i});
        else
            swapped->push_back(i);
    }
    // Of those alike the first: a mask in which one stands, but not the one before it, is another's.
    std::vector<std::vector<std::size_t>> counts(count_);
    for (Mask mask = 0; mask < count_; ++mask) {
        bool first = true;
        for (const std::vector<std::size_t>& group : alike_) {
            std::size_t in = 0;
            while (in < group.size() && (mask >> group[in] & 1)) ++in;
            counts[mask].push_back(in);
            for (std::size_t k = in; k < group.size(); ++k) first = first && !(mask >> group[k] & 1);
        }
        if (!first) counts[mask].clear();
        if (first && mask > 0) masks_.push_back(mask);
    }
    for (const Mask mask : masks_) {
        for (Mask rest = 0; rest < count_; ++rest) {
            if (counts[rest].empty()) continue;
            Mask sum = 0;
            bool fits = true;
            for (std::size_t g = 0; g < alike_.size() && fits; ++g) {
                const std::size_t together = counts[mask][g] + counts[rest][g];
                fits = together <= alike_[g].size();
                for (std::size_t k = 0; k < together && fits; ++k) sum |= Mask{1} << alike_[g][k];
            }
            if (fits) steps_[mask].push_back({rest, sum});
        }
        const auto whole = [&](std::size_t i) {
            if (alone(i)) return true;
            for (std::size_t j = 0; j < bundles.size(); ++j)
                if (bundles[i].unit == bundles[j].unit && (mask >> i & 1) != (mask >> j & 1)) return false;
            return true;
        };
        bool units = true;
        for (std::size_t i = 0; i < bundles.size(); ++i) units = units && whole(i);
        if (units) whole_units_.push_back(mask);
    }
    for (std::size_t begin = 0, end = 0; begin < lots.size(); begin = end) {
        for (end = begin; end < lots.size() && lots[end] == lots[begin];) ++end;
        lots_.push_back({begin, end, begin});
    }
    cells_.assign(lots.size() * count_, {kNone, nullptr});
    nothing_.assign(count_, {kNone});
    nothing_[0].key = 0;
    layers_.assign(lots.size(), nothing_);
    reached_.assign(lots_.size(), nothing_);
}

void SharePlan::set(std::size_t length, Mask mask, const Loss* loss) {
    Cell& own = cells_[length * count_ + mask];
    if (!own.loss && !loss) return;
    own = {loss ? key_of(*loss) : kNone, loss};
    for (Lot& lot : lots_)
        if (length >= lot.begin && length < lot.end) lot.dirty_from = std::min(lot.dirty_from, length);
}

/// The losses that a sum over the lengths of a lot before `end` is made of.
void SharePlan::of_lot(const Lot& lot, std::size_t end, Mask mask, std::vector<const Loss*>& all) const {
    for (std::size_t k = end; mask > 0 && k-- > lot.begin;) {
        const State& at = layers_[k][mask];
        if (at.put) all.push_back(cell(k, at.put).loss);
        mask = at.rest;
    }
}

void SharePlan::of_lots(std::size_t end, Mask mask, std::vector<const Loss*>& all) const {
    for (std::size_t k = end; mask > 0 && k-- > 0;) {
        const State& at = reached_[k][mask];
        of_lot(lots_[k], lots_[k].end, at.put, all);
        mask = at.rest;
    }
}

/// Among equals in money and lengths: as Loss::better_than.
bool SharePlan::keeps_more(const std::vector<const Loss*>& a, const std::vector<const Loss*>& b) {
    mine_.clear();
    theirs_.clear();
    const auto add = [](std::vector<std::int64_t>& to, const std::vector<std::int64_t>& more) {
        to.insert(to.end(), more.begin(), more.end());
    };
    for (const Loss* loss : a) add(mine_, loss->gained), add(theirs_, loss->gone);
    for (const Loss* loss : b) add(theirs_, loss->gained), add(mine_, loss->gone);
    std::sort(mine_.begin(), mine_.end(), std::greater<>());
    std::sort(theirs_.begin(), theirs_.end(), std::greater<>());
    return mine_ > theirs_;
}

void SharePlan::add_length(const Lot& lot, std::size_t length) {
    const States& before = length == lot.begin ? nothing_ : layers_[length - 1];
    States& with = layers_[length];
    for (Mask mask = 0; mask < count_; ++mask) with[mask] = {before[mask].key, 0, mask};
    if (!allowed_[length]) return;
    for (const Mask mask : masks_) {
        const Cell& own = cell(length, mask);
        if (!own.loss) continue;
        for (const Step& step : steps_[mask]) {
            if (before[step.rest].key == kNone) continue;
            const std::int64_t key = before[step.rest].key + own.key;
            State& at = with[step.sum];
            if (key > at.key) continue;
            if (key == at.key) {
                one_.assign(1, own.loss);
                other_.clear();
                of_lot(lot, length, step.rest, one_);
                of_lot(lot, length + 1, step.sum, other_);
                if (!keeps_more(one_, other_)) continue;
            }
            at = {key, mask, step.rest};
        }
    }
}

void SharePlan::add_lot(std::size_t which) {
    const Lot& lot = lots_[which];
    const States& before = which == 0 ? nothing_ : reached_[which - 1];
    const States& own = layers_[lot.end - 1];
    States& with = reached_[which];
    for (Mask mask = 0; mask < count_; ++mask) with[mask] = {before[mask].key, 0, mask};
    for (const Mask units : whole_units_) {
        if (own[units].key == kNone) continue;
        for (const Step& step : steps_[units]) {
            if (before[step.rest].key == kNone) continue;
            const std::int64_t key = before[step.rest].key + own[units].key;
            State& at = with[step.sum];
            if (key > at.key) continue;
            if (key == at.key) {
                one_.clear();
                other_.clear();
                of_lot(lot, lot.end, units, one_);
                of_lots(which, step.rest, one_);
                of_lots(which + 1, step.sum, other_);
                if (!keeps_more(one_, other_)) continue;
            }
            at = {key, units, step.rest};
        }
    }
}

std::optional<std::vector<Share>> SharePlan::best(const std::vector<bool>& allowed) {
    if (allowed != allowed_)
        for (Lot& lot : lots_) lot.dirty_from = lot.begin;
    allowed_ = allowed;
    bool again = false;
    for (std::size_t which = 0; which < lots_.size(); ++which) {
        Lot& lot = lots_[which];
        again = again || lot.dirty_from < lot.end;
        for (std::size_t k = lot.dirty_from; k < lot.end; ++k) add_length(lot, k);
        lot.dirty_from = lot.end;
        if (again) add_lot(which);
    }
    if (lots_.empty() || reached_.back()[all_].key == kNone) return std::nullopt;
    std::vector<Share> shares;
    Mask left = all_;
    for (std::size_t which = lots_.size(); which-- > 0;) {
        Mask here = reached_[which][left].put;
        left = reached_[which][left].rest;
        for (std::size_t k = lots_[which].end; k-- > lots_[which].begin;) {
            const State& at = layers_[k][here];
            if (at.put) shares.push_back({k, at.put});
            here = at.rest;
        }
    }
    std::reverse(shares.begin(), shares.end());
    return named(std::move(shares));
}

/// Bundles that were only counted, each by its own bit.
std::vector<Share> SharePlan::named(std::vector<Share> counted) const {
    std::vector<std::size_t> next(alike_.size(), 0);
    for (Share& share : counted) {
        Mask own = 0;
        for (std::size_t g = 0; g < alike_.size(); ++g)
            for (const std::size_t i : alike_[g])
                if (share.mask >> i & 1) own |= Mask{1} << alike_[g][next[g]++];
        share.mask = own;
    }
    return counted;
}

}  // namespace spile::shop
