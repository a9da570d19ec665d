// A set laid out over several lengths of goods, of one lot or of several, some of it perhaps still to buy. Inside of shop/.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "core/job/run_job.h"
#include "core/layout/layout.h"
#include "shop/worth.h"

namespace spile::shop {

/// With more pieces than this the largest of a space (then of the job) stay together on one length.
inline constexpr std::size_t kMostApart = 8;
/// So much is tried in all: a layout on an offcut counts as one, a search on the whole width as kWholeWidth.
inline constexpr int kMostTried = 600, kWholeWidth = 10;

/// A length that a set may be cut from: a roll, an offcut, or (neither) goods to buy.
struct StockLength {
    Stretch stretch;
    const Roll* roll = nullptr;
    const Offcut* offcut = nullptr;

    bool buys() const { return !roll && !offcut; }
};

/// A set on some of the lengths.
struct SpreadSet {
    Layout layout;                     ///< its stretches are the lengths that are used
    std::vector<std::size_t> lengths;  ///< by stretch
    std::vector<CutWorth> worth;       ///< by stretch
    Loss loss;
};

/// Which pieces go on which length so that least is lost.
/// Guarantees: (1) what is returned has passed check_layout; (2) pieces that carry one pattern lie on one length, what is
/// seen together is of one lot, and what is to buy is a lot of its own; (3) no other way over the same lengths loses less, as
/// far as the solver finds the layouts, with up to kMostApart pieces while kMostTried lasts; beyond, the best of what was tried.
/// Only the layouts that could be part of a better way are tried: what a length loses at least is known beforehand.
class Spreading {
  public:
    /// `whole`: the layout of all pieces on one length of the whole width, where it is known. Requires: the lengths of a lot
    /// stand together; they and `worth` outlive this.
    Spreading(const std::vector<LayoutPiece>& pieces, const Goods& goods,
              const std::vector<StockLength>& lengths, const Worth& worth, LayoutSolver solver,
              std::optional<Layout> whole);

    /// Over the lengths that `allowed` says, by their places. Nothing when no way was found.
    std::optional<SpreadSet> best(const std::vector<bool>& allowed);

  private:
    using Mask = std::size_t;  ///< bundles, by bit
    /// What stays on one length.
    struct Bundle {
        std::vector<LayoutPiece> pieces;
        std::size_t unit = 0;  ///< bundles of a unit are of one lot
        std::size_t kind = 0;  ///< bundles of a kind are of the same outline
    };
    /// What it comes to when a mask is cut from a length.
    struct Cell {
        enum class Is { open, known, no } is = Is::open;
        Loss loss;  ///< while open: no more than what it will be
        CutWorth worth;
        Layout layout;
    };
    struct Share {
        std::size_t length;
        Mask mask;
    };

    void gather(std::vector<std::vector<LayoutPiece>> groups);
    void name_kinds();
    void expect(std::size_t length, Mask mask);
    std::optional<std::vector<Share>> plan(const std::vector<bool>& allowed, bool known_only) const;
    void try_cell(std::size_t length, Mask mask);
    bool too_large_for(const Offcut& offcut, Mask mask) const;
    std::optional<Layout> lie(std::size_t length, Mask mask);
    const std::optional<Layout>& on_whole_width(Mask mask);
    std::optional<Layout> solved(Mask mask, const Goods& goods);
    std::optional<SpreadSet> put_together(const std::vector<Share>& shares) const;
    std::vector<LayoutPiece> pieces_of(Mask mask) const;
    std::map<std::string, std::string> renamed(Mask mask) const;

    std::vector<LayoutPiece> pieces_;
    Goods goods_;
    const std::vector<StockLength>& lengths_;
    const Worth& worth_;
    LayoutSolver solver_;
    std::vector<Bundle> bundles_;
    std::vector<Mask> like_;                ///< by mask: the first one of the same outlines
    std::vector<double> area_mm2_;          ///< by mask
    std::vector<double> least_mm_;          ///< by mask: no layout on the whole width is shorter
    std::vector<Mask> whole_units_;         ///< masks of whole units
    std::vector<std::vector<Cell>> cells_;  ///< by length and mask; of masks alike only the first is filled
    std::map<Mask, std::optional<Layout>> on_whole_width_;
    int tried_ = 0;
};

}  // namespace spile::shop
