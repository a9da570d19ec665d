#include "shop/price_lists.h"

#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {

Result<PriceListHead> add_price_list(Store& store, const std::string& document, const std::string& by) {
    Result<ShopPrices> read = read_prices(document);
    if (!read) return {std::nullopt, std::move(read.findings)};
    const std::string since = read->book.since;
    return writing(store, [&](Database& database) {
        check_text(by, "the name of who did it");
        const Subject subject{"price", "since"};
        if (since.empty())
            refuse("date-refused",
                   "A price list of the book says from which day it holds; this one does not.",
                   "Write \"since\": \"2026-03-01\" in it.", subject);
        Statement known(database, "SELECT 1 FROM price_list WHERE since=?");
        if (known.with(since).next())
            refuse("price-known", "There is a price list from " + since + " on already.",
                   "One written stays, for quotes were made with it; let the new one hold from the next day.",
                   subject);
        Statement(database, "INSERT INTO price_list VALUES(?,?,?,?)")
            .with(since, document, database.now(), by)
            .run();
        return PriceListHead{since, by, database.now(), document.size()};
    });
}

Result<std::vector<PriceListHead>> list_price_lists(Store& store) {
    return reading(store, [&](Database& database) {
        Statement rows(
            database,
            "SELECT since, by, at, length(CAST(document AS BLOB)) FROM price_list ORDER BY since DESC");
        std::vector<PriceListHead> list;
        while (rows.next())
            list.push_back(
                {rows.text(0), rows.text(1), rows.whole(2), static_cast<std::size_t>(rows.whole(3))});
        return list;
    });
}

Result<std::string> price_list_on(Store& store, const std::string& day) {
    return reading(store, [&](Database& database) {
        check_date(day);
        Statement row(database, "SELECT document FROM price_list WHERE since<=? ORDER BY since DESC LIMIT 1");
        if (!row.with(day).next())
            refuse("prices-missing", "No price list of the book holds on " + day + ".",
                   "Add one; examples/shop/prices.json shows what it looks like.", {"price", ""});
        return row.text(0);
    });
}

}  // namespace spile::shop
