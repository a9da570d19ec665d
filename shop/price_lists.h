// The shop's price lists in its book: one for each day on which something changed.
#pragma once

#include <string>
#include <vector>

#include "shop/prices.h"
#include "shop/store.h"

namespace spile::shop {

struct PriceListHead {
    std::string since;  ///< it holds from this day until the next one
    std::string by;
    Seconds at = 0;
    std::size_t bytes = 0;
};

/// Keeps a price list under its "since". On bad input: what read_prices says; "date-refused" without a day; "price-known"
/// when there is one of that day: quotes may have been made with it.
Result<PriceListHead> add_price_list(Store& store, const std::string& document, const std::string& by);
/// Newest first.
Result<std::vector<PriceListHead>> list_price_lists(Store& store);
/// The document that holds on a day. On bad input: "date-refused"; "prices-missing" when none holds yet.
Result<std::string> price_list_on(Store& store, const std::string& day);

}  // namespace spile::shop
