// A job priced: what core/takeoff works out, at the shop's prices and with the minutes of its tickets.
#pragma once

#include <string>
#include <vector>

#include "core/job/run_job.h"
#include "shop/hours.h"
#include "shop/prices.h"

namespace spile::shop {

/// A job in one kind of goods. Nothing in `layout` has been accepted by anybody yet.
struct PricedJob {
    std::string goods;
    Layout layout;
    Takeoff takeoff;
    PriceBook book;  ///< what it was priced with
    Trips trips;
    bool rush = false;
    Quote quote;  ///< see make_quote: `priced` is false while a price is missing
};

/// Prices what a job takes. `since`, trips and the shop's way of buying come from the prices; each space of the job is
/// measured once.
/// On bad input: "layout-missing" while there is no layout; the stops of make_quote, beside a value.
Result<PricedJob> price_job(const Job& job, const Derived& derived, const ShopPrices& prices, bool rush);

/// The same job in other goods of the price list, for an option of a quote: laid out anew, never scaled.
/// On bad input: "goods-not-described" when the price list does not say how wide they are; the findings of the job in these
/// goods, and those of price_job.
Result<PricedJob> price_in_goods(const Job& job, const std::string& goods, const ShopPrices& prices,
                                 const LayoutSolver& solver, bool rush);

/// The job in other goods: its group "goods" replaced, a layout that was kept dropped, since it was of the old ones.
/// `goods_document`: the group as JSON text. On bad input: what read_job says.
Result<Job> job_in_goods(const Job& job, const std::string& goods_document);

/// The minutes of each operation as the tickets of the book have them; before they do, as the price list of that day says, else
/// our guesses. On bad input: "date-refused".
Result<Hours> book_hours(Store& store, const std::string& day);

/// The prices of the book that hold on a day, with the minutes learnt from its tickets.
/// On bad input: "date-refused", "prices-missing".
Result<ShopPrices> book_prices(Store& store, const std::string& day);

}  // namespace spile::shop
