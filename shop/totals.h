// What a stretch of days came to: for the tax return, and to see whether quotes become orders.
#pragma once

#include <map>
#include <string>

#include "core/takeoff/money.h"
#include "shop/store.h"

namespace spile::shop {

struct MoneyTotals {
    Cents net = 0, tax = 0, invoiced = 0;  ///< invoices less credit notes
    Cents paid = 0;                        ///< less what was paid back
    Cents quoted = 0;                      ///< of every quote sent, with tax
};

struct Totals {
    std::string from, to;                       ///< days, both counted
    std::map<std::string, MoneyTotals> money;   ///< by currency: two are never added
    std::map<std::string, std::size_t> papers;  ///< how many were sent, by the word of their kind
    std::map<std::string, std::size_t> jobs;    ///< begun in these days, by the state they are in now
    std::int64_t received_um = 0, cut_um = 0;   ///< of rolls; what was taken back is not cut
    double minutes = 0;                         ///< of tickets written in these days
};

/// On bad input: "date-refused", also when `to` lies before `from`.
Result<Totals> totals_of(Store& store, const std::string& from, const std::string& to);

}  // namespace spile::shop
