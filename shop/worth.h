// What it costs to cut from a length of goods: its worth less the worth of what stays good for something. Inside of shop/.
#pragma once

#include <vector>

#include "core/layout/layout.h"
#include "core/takeoff/money.h"
#include "core/takeoff/quote.h"
#include "shop/stock.h"

namespace spile::shop {

/// What a way to cut loses: money where the goods have a price, else areas in square centimetres; then the rectangles that
/// stay whole in the rack. Sums of parts are the loss of the whole, whatever their order.
struct Loss {
    std::int64_t money = 0;
    std::vector<std::int64_t> gained =
        {};  ///< largest rectangles of the offcuts that are left, mm2, largest first
    std::vector<std::int64_t> gone = {};  ///< of the offcuts that were cut

    /// Less money; among equals the rack that keeps the largest rectangle, then the second largest, and so on.
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

class Worth {
  public:
    Worth(const Goods& goods, std::vector<LengthPrice> price) : goods_(goods), price_(std::move(price)) {}

    /// `layout` lies on one length of the whole width, `pieces` are those on it.
    CutWorth of_roll(const std::vector<LayoutPiece>& pieces, const Layout& layout, double on_roll_mm) const;
    CutWorth of_bought(const std::vector<LayoutPiece>& pieces, const Layout& layout) const;
    CutWorth of_offcut(const std::vector<LayoutPiece>& pieces, const Layout& layout,
                       const Offcut& offcut) const;

    /// No layout that takes `used_mm` or more of a roll for pieces of `area_mm2` loses less money.
    std::int64_t least_on_roll(double used_mm, double area_mm2) const;
    std::int64_t least_on_offcut(double area_mm2, const Offcut& offcut) const;

    bool priced() const;

  private:
    CutWorth worked(double length_mm, Millionths share, const std::vector<Outline>& left,
                    double end_mm2) const;
    Cents cents(double mm2, Millionths share, double length_mm) const;
    std::int64_t money(double mm2, double each) const;

    Goods goods_;
    std::vector<LengthPrice> price_;
};

}  // namespace spile::shop
