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

/// Of a lot so many offcuts are tried for a part of a set, the smallest that hold a piece; of all lots so many, and so many rolls.
inline constexpr std::size_t kMostOfLot = 6, kMostOffcutsTried = 24, kMostRollsTried = 16;

/// One way to get the whole set: from one length of goods or from several, some of it perhaps still to buy.
struct StockChoice {
    Id roll = 0, offcut = 0;  ///< neither: all of it is bought for the job
    std::vector<CutFrom> more =
        {};  ///< further lengths, by the stretches of the layout; what is to buy comes last and is not here
    std::string lot;         ///< "L1, L2" of several; empty: not known, or all bought
    bool other_lot = false;  ///< something of this job is cut already, and not all of this is of its lots
    Layout layout;
    double taken_mm2 = 0;       ///< of the roll with its end where that is waste; of the offcut; as bought
    double left_mm2 = 0;        ///< of it, still good for something
    double to_buy_mm = 0;       ///< of the whole width, in steps
    Cents taken = 0, left = 0;  ///< their worth; 0 while the goods have no price
    Currency currency;
    std::string
        because;  ///< what is cut from what; of the best with a price also what it comes to, and the next
    std::string kept_layout;  ///< the group of a job that keeps this layout, as JSON; of several lengths only

    Cents cost() const { return taken - left; }
    bool in_rack() const { return (roll || offcut) && !(to_buy_mm > 0); }
};

/// Every roll that is long enough, the smallest offcuts that hold the set, the goods to buy, and the best ways over several
/// lengths: of each lot, of the whole rack, and of the rack with goods to buy; best first: the lot that the job is cut from already,
/// then what costs least, then what leaves the largest rectangle whole in the rack. What a roll or a purchase takes is
/// worth its price at that length, the rack kRestWorth of it. Without a price the same areas decide.
/// What is seen together is of one lot, and what is to buy a lot of its own: see Spreading.
/// Tried: the job's one layout on rolls, the eight smallest offcuts that hold the set, and what Spreading tries of the named
/// number of lengths; a tight fit may be missed. Findings: "choice-unsettled" where those tries did not tell which way is
/// cheapest. On bad input: as cut_job says.
Result<std::vector<StockChoice>> stock_choices(Store& store, Id job, const SolverFor& solver);

}  // namespace spile::shop
