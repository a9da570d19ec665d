// From a job of the book to an accepted layout: laid out, proved, kept, cut from the stock.
#pragma once

#include <vector>

#include "shop/sending.h"
#include "shop/stock.h"

namespace spile::shop {

struct ToCut {
    Id job = 0;
    Id roll = 0;         ///< cut from this roll, or
    Id offcut = 0;       ///< from this offcut, or
    bool best = false;   ///< from the best that is in the rack: see stock_choices
    bool again = false;  ///< although a layout of this job stands: another set, a piece spoiled
    std::string by;
};

/// Lays the newest document out, on the roll by the solver (or as the job already keeps it), on an offcut piece by piece, and
/// accepts that: see accept_layout. With neither named, a kept layout is cut from the rolls and offcuts that its stretches name,
/// once it is proved on them as they lie in the rack; what of it was still to buy is cut from the roll that is named. The layout's id is "JOB-REVISION", so that the same revision is cut once.
/// On bad input: the stops of the job, "layout-stands" unless `again`, "layout-missing", "stock-short" when nothing in the rack holds the set, "offcut-too-small" when no place was found for every piece, "goods-to-buy" while the roll that was to buy is not named, and those
/// of accept_layout.
Result<Accepted> cut_job(Store& store, const ToCut& cut, const SolverFor& solver);

/// Takes an accepted layout back: see take_back_layout. The job's newest document stays, without the layout it keeps.
Result<JobHead> uncut_layout(Store& store, const std::string& layout, const std::string& by);

/// Offcuts of the goods of a job that would hold its whole set, smallest first, at most 100. What a tight fit would take may be missed.
/// On bad input: as cut_job says.
Result<std::vector<Offcut>> offcuts_for(Store& store, Id job, const SolverFor& solver);

}  // namespace spile::shop
