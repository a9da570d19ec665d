// Papers made from the book and kept in it: quote, order list, invoice, credit note, care sheet.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "shop/papers.h"
#include "shop/quoting.h"

namespace spile::shop {

/// A solver for one job: lengths are said in its units.
using SolverFor = std::function<LayoutSolver(const Job&)>;

struct ToSend {
    SentKind kind = SentKind::quote;
    Id job = 0;
    std::string day;                   ///< printed, and the prices that hold; "2026-03-01"
    bool rush = false;                 ///< of a quote
    std::vector<std::string> instead;  ///< of a quote: other goods of the price list
    std::string by;
};

/// A paper as it would be sent.
struct Draft {
    std::string number;
    NewPaper paper;
    std::vector<PricedJob> priced;  ///< of a quote or an order list: the job as it is, then its options
};

/// Makes a paper from the newest document of a job, as a PDF. Nothing is written.
/// A quote asks what the prices of its day make; an invoice asks what the newest quote of the job asked, whatever has become
/// of the prices since; a credit note takes back the invoice that stands.
/// On bad input: "not-there"; the stops of the job; "date-refused", "prices-missing" and the stops of make_quote;
/// "quote-missing" for an invoice without a quote, "invoice-missing" for a credit note without an invoice.
/// Finds besides: a look "short-of-roll" when no roll holds the length, "quote-expired" for an invoice after its day.
Result<Draft> draft_paper(Store& store, const ToSend& send, const SolverFor& solver);

/// The same, kept under its number: from then on it is never changed. See keep_paper.
Result<PaperHead> send_paper(Store& store, const ToSend& send, const SolverFor& solver);

}  // namespace spile::shop
