// What it costs to cut from a length of goods: its worth less the worth of what stays good for something. Inside of shop/.
#pragma once

#include <vector>

#include "core/layout/layout.h"
#include "core/takeoff/money.h"
#include "core/takeoff/quote.h"
#include "shop/stock.h"

namespace spile::shop {

/// What a way to cut loses: money where the goods have a price, else areas in square centimetres; then how many lengths have to be
/// fetched, spread and cut; then the rectangles that stay whole in the rack. Sums of parts are the loss of the whole, whatever
/// their order.
struct Loss {
    std::int64_t money = 0;
    std::vector<std::int64_t> gained =
        {};  ///< largest rectangles of the offcuts that are left, mm2, largest first
    std::vector<std::int64_t> gone = {};  ///< of the offcuts that were cut
    int lengths = 0;

    /// Less money; among equals fewer lengths; among those the rack that keeps the largest rectangle, then the second largest, and so on.
    bool better_than(const Loss& other) const;
    Loss plus(const Loss& other) const;
};

/// One length of goods with what is cut from it.
struct CutWorth {
    double taken_mm2 = 0;       ///< of the roll with its end where that is waste; of the offcut; as bought
    double left_mm2 = 0;        ///< of it, still good for something
    Cents taken = 0, left = 0;  ///< their worth; 0 while the goods have no price
    double rest_mm = 0;         ///< of the roll or of what is bought, not cut
    Loss loss;
};

/// What a layout leaves of the length it uses, in pieces good for something.
struct LeftOver {
    double used_mm = 0, bought_mm = 0, area_mm2 = 0;
    std::vector<std::int64_t> rectangles = {};  ///< the largest in each, mm2, largest first
};

class Worth {
  public:
    Worth(const Goods& goods, std::vector<LengthPrice> price) : goods_(goods), price_(std::move(price)) {}

    /// `layout` lies on one length of the whole width, `pieces` are those on it.
    LeftOver left_by(const std::vector<LayoutPiece>& pieces, const Layout& layout) const;
    CutWorth of_roll(const LeftOver& left, double on_roll_mm) const;
    CutWorth of_bought(const LeftOver& left) const;
    CutWorth of_offcut(const std::vector<LayoutPiece>& pieces, const Layout& layout,
                       const Offcut& offcut) const;

    /// No layout that takes `used_mm` or more for pieces of `area_mm2` loses less money: of goods that are bought, and of a roll
    /// of which `free_mm` of what is on it may be used.
    std::int64_t least_bought(double used_mm, double area_mm2) const;
    std::int64_t least_on_roll(double used_mm, double area_mm2, double free_mm, double on_roll_mm) const;
    std::int64_t least_on_offcut(double area_mm2, const Offcut& offcut) const;

    bool priced() const;

  private:
    CutWorth worked(double length_mm, Millionths share, const LeftOver& left, double end_mm2) const;
    double least_each(double length_mm) const;
    Cents cents(double mm2, Millionths share, double length_mm) const;
    std::int64_t money(double mm2, double each) const;

    Goods goods_;
    std::vector<LengthPrice> price_;
};

}  // namespace spile::shop
