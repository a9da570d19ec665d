// A set laid out over several lengths of goods, of one lot or of several, some of it perhaps still to buy. Inside of shop/.
#pragma once

#include <map>
#include <optional>
#include <vector>

#include "core/job/run_job.h"
#include "core/layout/layout.h"
#include "shop/columns.h"
#include "shop/spread_plan.h"
#include "shop/worth.h"

namespace spile::shop {

/// So much is tried in all: a search on an offcut counts as one, on the whole width as kWholeWidth. The last kToShorten are kept
/// to shorten what is offered where the others did not tell which way is best.
inline constexpr int kMostTried = 600, kWholeWidth = 10, kToShorten = 100;

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
/// far as the solver finds the layouts, with up to kMostApart pieces unless gave_up(); beyond, the best of what was tried;
/// (4) nor does any way that takes no search: pieces by their boxes in columns, or as nest_on lays them on an offcut.
/// Only the layouts that could be part of a better way are searched for: what a length loses at least is known beforehand.
class Spreading {
  public:
    /// `whole`: the layout of all pieces on one length of the whole width, where it is known. Requires: the lengths of a lot
    /// stand together; they and `worth` outlive this; there is a piece.
    Spreading(const std::vector<LayoutPiece>& pieces, const Goods& goods,
              const std::vector<StockLength>& lengths, const Worth& worth, LayoutSolver solver,
              std::optional<Layout> whole);

    /// Over the lengths that `allowed` says, by their places. Nothing when no way was found.
    std::optional<SpreadSet> best(const std::vector<bool>& allowed);

    /// kMostTried did not tell which way is best, in one of the calls up to now.
    bool gave_up() const { return gave_up_; }
    int tried() const { return tried_; }

  private:
    /// What it comes to when a mask is cut from a length.
    struct Cell {
        enum class Is { open, known, no } is = Is::open;
        Loss loss;          ///< while open: no more than what it will be
        bool quick = true;  ///< while open: what takes no search may still be tried
        bool held = false;  ///< there is a layout, if perhaps not the shortest
        CutWorth worth;     ///< of it
        Layout layout;
    };
    /// On one length of the whole width.
    struct Wide {
        Layout layout;
        LeftOver left;
    };

    bool first_of_its_kind(Mask mask) const { return like_[mask] == mask; }
    /// A cell takes two searches at most.
    bool may_try(int most) const { return tried_ + 2 * kWholeWidth <= most; }
    bool rolled(std::size_t length) const { return !lengths_[length].offcut; }
    void find_twins();
    void expect(std::size_t length, Mask mask);
    void tell(std::size_t length, Mask mask);
    bool raise_least(Mask mask, double least_mm);
    bool look_closer(Mask mask);
    bool try_quickly(std::size_t length, Mask mask);
    void try_cell(std::size_t length, Mask mask);
    void hold(std::size_t length, Mask mask, Layout layout, CutWorth worth);
    void hold_on_roll(std::size_t length, Mask mask, const Wide& wide);
    void rule_out(std::size_t length, Mask mask);
    bool too_large_for(const Offcut& offcut, Mask mask) const;
    void search_on_offcut(std::size_t length, Mask mask);
    void search_on_roll(std::size_t length, Mask mask);
    const std::optional<Wide>& on_whole_width(Mask mask);
    const std::optional<Wide>& columns(Mask mask);
    Wide wide(Mask mask, Layout layout) const;
    std::optional<SpreadSet> best_held(const std::vector<bool>& allowed);
    std::optional<SpreadSet> put_together(const std::vector<Share>& shares) const;
    std::vector<LayoutPiece> pieces_of(Mask mask) const;
    std::map<std::string, std::string> renamed(Mask mask) const;

    std::vector<LayoutPiece> pieces_;
    Goods goods_;
    const std::vector<StockLength>& lengths_;
    const Worth& worth_;
    LayoutSolver solver_;
    std::vector<Bundle> bundles_;
    std::vector<std::size_t> twin_;    ///< by length: the first that is as long, or of the same outline
    std::vector<Mask> like_;           ///< by mask: the first one of the same outlines
    std::vector<double> area_mm2_;     ///< by mask, as the following: of masks alike only the first is filled
    std::vector<double> least_mm_;     ///< no layout on the whole width is shorter
    std::vector<bool> looked_closer_;  ///< the solver's bound is in that
    std::vector<std::vector<Cell>> cells_;  ///< by length and mask; of twins only the first is filled
    std::map<Mask, std::optional<Wide>> on_whole_width_, columns_;
    SharePlan hopeful_, sure_;  ///< with what is open at its least; with what there is, or takes no search
    int tried_ = 0;
    bool gave_up_ = false;
};

}  // namespace spile::shop
