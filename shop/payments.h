// Money that came in for a job, and how a job's account stands.
#pragma once

#include <string>
#include <vector>

#include "core/takeoff/money.h"
#include "shop/store.h"

namespace spile::shop {

struct Payment {
    Id id = 0, job = 0;
    std::string day;   ///< when it came in
    Cents amount = 0;  ///< below zero: paid back
    std::string currency;
    std::string note, by;
    Seconds at = 0;
};

/// Written once; a wrong one is put right by its opposite. On bad input: "not-there", "date-refused", "money-refused" for
/// nothing or more than kLargestPrice, "currency-refused" when the job's papers or payments are in another.
Result<Payment> add_payment(Store& store, const Payment& payment);
/// Newest first; `job` 0: of all.
Result<std::vector<Payment>> list_payments(Store& store, Id job = 0, std::size_t limit = 1000);

struct Account {
    std::string currency;  ///< empty: no money yet
    Cents invoiced = 0;    ///< invoices less credit notes
    Cents paid = 0;
    Cents owed() const { return invoiced - paid; }
};
Result<Account> account_of(Store& store, Id job);

}  // namespace spile::shop
