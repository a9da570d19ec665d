// The papers that leave the shop with a number, drawn as display lists. Inside of shop/.
#pragma once

#include <string>
#include <vector>

#include "core/paper/sheets.h"
#include "shop/papers.h"
#include "shop/quoting.h"

namespace spile::shop {

/// The shop as its papers name it (setting "shop").
struct Letterhead {
    std::string name, address, terms;
};

/// What all of them say.
struct SentPaper {
    std::string number, day;
    Letterhead shop;
    std::string title, boat, customer, address;
    PaperSize size = letter();
    LengthStyle lengths;
};

struct PieceLine {
    int number = 0;
    std::string name, size;  ///< finished, largest sizes
};

/// The customer sees what is asked, never what it costs the shop.
Sheet quote_sheet(const SentPaper& paper, const std::vector<PieceLine>& pieces, const PricedJob& asked,
                  const std::vector<PricedJob>& options, const std::string& valid_until);

/// What to buy for the job, each line with how it came about.
Sheet order_sheet(const SentPaper& paper, const PricedJob& priced, const std::string& in_stock);

struct InvoiceLines {
    std::string of;  ///< "Q-0003", or the invoice that a credit note takes back
    Cents net = 0, tax = 0, total = 0, paid = 0;
    Currency currency;
};
Sheet invoice_sheet(const SentPaper& paper, const InvoiceLines& lines);
Sheet credit_sheet(const SentPaper& paper, const InvoiceLines& lines);

/// The job's own words on care and warranty; common practice where it has none.
Sheet care_sheet(const SentPaper& paper, const std::string& goods, const std::string& care,
                 const std::string& warranty);

}  // namespace spile::shop
