// The shop's prices as one document, a price list (docs/design/shop.md): one date, one currency.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "core/takeoff/quote.h"
#include "shop/store.h"

namespace spile::shop {

struct ShopPrices {
    PriceBook book;  ///< all but the goods
    Trips trips;
    std::map<std::string, std::vector<LengthPrice>> goods;  ///< by name
    std::map<std::string, std::string> goods_documents;     ///< the group "goods" of a job, JSON, for options
    TakeoffSettings settings;  ///< binding_*, spool_mm as said; the rest as the job says

    /// The price book for a job of these goods.
    PriceBook book_for(const std::string& goods) const;
    /// The job's own settings with what the shop buys by.
    TakeoffSettings settings_for(TakeoffSettings of_job) const;
};

/// Reads a price list (JSON). On bad input: stops "not-json", "price-list-refused" (unknown key, wrong kind),
/// "money-refused", "share-refused", "length-...", "date-refused", each naming the key; all of them.
Result<ShopPrices> read_prices(const std::string& text);

}  // namespace spile::shop
