// The strip packing problem the search works on: shapes, items, the strip, and what every pair of shapes forbids.
#pragma once

#include <atomic>
#include <memory>
#include <vector>

#include "core/layout/solve/no_fit.h"

namespace spile::lay {

/// Strip space: x along the strip from 0, y across it from 0 to `width`.
struct Problem {
    /// Distinct shapes, each in its own turn about its own origin. Made smaller by `slack_units` all round, so that exact
    /// fits have room; grown by half the gap before that.
    std::vector<Shape> shapes;
    std::vector<IBox> boxes;  ///< by shape: what must lie inside the strip (gap and slack left out)
    struct Item {
        int kind = 0;             ///< items of one kind may change places freely
        std::vector<int> shapes;  ///< those it may be placed as, one per allowed turn
        bool fixed = false;       ///< stays where it lies: pinned, or a flaw
        bool flaw = false;        ///< no piece: may lie anywhere and takes no length
        int cloth = -1;           ///< items of one cloth keep to one lattice
        IPoint in_cloth;
    };
    std::vector<Item> items;
    std::int64_t width = 0;
    double area = 0;  ///< of all items, true shapes, square units
    double slack_units = 2;

    /// The places a cloth allows: one place less `in_cloth`, and whole steps from there. A step of 0 leaves that way free.
    struct Lattice {
        std::int64_t along = 0, across = 0;
        std::int64_t drop = 0;  ///< along, for every step across

        bool any() const { return along > 0 || across > 0; }
    };
    Lattice lattice;

    const IBox& box_of_item(std::size_t item) const { return boxes[items[item].shapes[0]]; }
};

/// Where an item lies: its shape's origin in strip space.
struct Spot {
    int shape = 0;
    IPoint at;

    bool operator==(const Spot&) const = default;
};
using Spots = std::vector<Spot>;  ///< by item

/// Range of origins for which a shape lies inside a strip of that length; empty when it does not fit.
IBox range_of(const Problem& problem, int shape, std::int64_t length);

std::int64_t length_of(const Problem& problem, const Spots& spots);

/// No-fit polygons of all pairs of shapes, made when first asked for. Safe from several threads: what is made depends on
/// the shapes alone.
class FitTable {
  public:
    struct Pair {
        Polys loops;  ///< forbidden surface for `moving` relative to `fixed`
        IBox box;
    };

    /// `keep`: pairs once made stay, at some thousand bytes each. Requires for pair(): they do.
    explicit FitTable(const Problem& problem, bool keep = true);
    ~FitTable();
    FitTable(const FitTable&) = delete;
    FitTable& operator=(const FitTable&) = delete;

    bool keeps() const { return !pairs_.empty(); }
    const Pair& pair(int fixed, int moving) const;
    std::unique_ptr<Pair> made(int fixed, int moving) const;
    /// Box of the forbidden surface, without making it.
    IBox box(int fixed, int moving) const;
    const Problem& problem() const { return problem_; }

  private:
    const Problem& problem_;
    std::size_t n_;
    mutable std::vector<std::atomic<Pair*>> pairs_;
};

/// Is p strictly inside the surface bounded by `loops`? Exact.
bool strictly_inside(const Polys& loops, IPoint p);

/// Is the whole placement legal: every item inside a strip of that length, none strictly overlapping? Exact. Debug and
/// last resort; the search keeps its own account.
bool legal(const FitTable& table, const Spots& spots, std::int64_t length);

}  // namespace spile::lay
