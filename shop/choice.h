// What a job is best cut from: offcuts and rolls held against each other in money.
#pragma once

#include <string>
#include <vector>

#include "shop/sending.h"
#include "shop/stock.h"

namespace spile::shop {

/// What the rack holds is worth so much of its price by the area, since not every job finds its size there. A guess of ours.
inline constexpr Millionths kRestWorth = 500'000;
/// A roll's end shorter than this is waste. As OffcutRule::least_mm.
inline constexpr double kLeastRest_mm = 300;

/// One way to cut the whole set from one lot: from one length of goods or from several.
struct StockChoice {
    Id roll = 0, offcut = 0;         ///< neither: bought for the job
    std::vector<CutFrom> more = {};  ///< further lengths, by the stretches of the layout
    std::string lot;
    bool other_lot = false;  ///< a set of this job is cut from another lot already
    Layout layout;
    double taken_mm2 = 0;       ///< of the roll with its end where that is waste; of the offcut; as bought
    double left_mm2 = 0;        ///< of it, still good for something
    Cents taken = 0, left = 0;  ///< their worth; 0 while the goods have no price
    Currency currency;
    std::string because;      ///< one sentence
    std::string kept_layout;  ///< the group of a job that keeps this layout, as JSON; of several lengths only

    Cents cost() const { return taken - left; }
};

/// Every roll that is long enough, the smallest offcuts that hold the set, and the goods to buy; best first: the lot that the
/// job is cut from already, then what costs least, then what leaves the largest piece whole. What a roll or a purchase takes is
/// worth its price at that length, the rack kRestWorth of it. Without a price the same areas decide.
/// Tried: the job's one layout on rolls, the eight smallest offcuts that hold the set, and per lot the six smallest offcuts
/// that hold a piece, first, with the rolls of the lot after them; a tight fit may be missed. On bad input: as cut_job says.
Result<std::vector<StockChoice>> stock_choices(Store& store, Id job, const SolverFor& solver);

}  // namespace spile::shop
