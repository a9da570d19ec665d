// The least sum over all ways to share bundles among lengths. Inside of shop/.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "shop/spread_bundles.h"
#include "shop/worth.h"

namespace spile::shop {

using Mask = std::size_t;  ///< bundles, by bit

/// What goes on a length.
struct Share {
    std::size_t length = 0;
    Mask mask = 0;
};

/// Sums over masks: lot by lot what a mask comes to on its lengths, one after another, then whole units of it added to those
/// of the lots before. What was worked out is kept: after a change only the lot of it, from the length of it on, and the lots
/// after it are added up again. Bundles that may be swapped are counted, not named: eight equal mats have nine masks, not 256.
/// Cost: 3^n steps for each length, n different bundles.
class SharePlan {
  public:
    /// `lots`: by length, a number each; lengths of a lot stand together. Requires: at most kMostApart bundles.
    SharePlan(const std::vector<Bundle>& bundles, const std::vector<std::size_t>& lots);

    /// The masks that stand for all: of bundles that may be swapped the first.
    const std::vector<Mask>& masks() const { return masks_; }

    /// What a mask comes to on a length; null: it cannot lie there. Requires: `mask` is one of masks(); `loss` stays where it is;
    /// said again when what it holds has changed.
    void set(std::size_t length, Mask mask, const Loss* loss);

    /// The way that loses least over the lengths that `allowed` says; nothing when there is none.
    std::optional<std::vector<Share>> best(const std::vector<bool>& allowed);

  private:
    /// A sum with how it came about.
    struct State {
        std::int64_t key;
        Mask put = 0, rest = 0;  ///< on this length or lot, and before it
    };
    struct Cell {
        std::int64_t key;
        const Loss* loss = nullptr;
    };
    struct Step {
        Mask rest, sum;
    };
    struct Lot {
        std::size_t begin, end;
        std::size_t dirty_from;  ///< the first of its lengths that has changed; end: none
    };
    using States = std::vector<State>;

    const Cell& cell(std::size_t length, Mask mask) const { return cells_[length * count_ + mask]; }
    void add_length(const Lot& lot, std::size_t length);
    void add_lot(std::size_t which);
    void of_lot(const Lot& lot, std::size_t end, Mask mask, std::vector<const Loss*>& all) const;
    void of_lots(std::size_t end, Mask mask, std::vector<const Loss*>& all) const;
    bool keeps_more(const std::vector<const Loss*>& a, const std::vector<const Loss*>& b);
    std::vector<Share> named(std::vector<Share> counted) const;

    Mask count_, all_;
    std::vector<std::vector<std::size_t>> alike_;  ///< bundles that may be swapped
    std::vector<Mask> masks_, whole_units_;
    std::vector<std::vector<Step>> steps_;  ///< by mask: what it may be added to, and what then
    std::vector<Lot> lots_;
    std::vector<Cell> cells_;
    States nothing_;                        ///< before the first
    std::vector<States> layers_, reached_;  ///< by length, of its lot up to it; by lot, up to it
    std::vector<bool> allowed_;
    std::vector<const Loss*> one_, other_;
    std::vector<std::int64_t> mine_, theirs_;
};

}  // namespace spile::shop
