// Quotes, order lists, invoices and care sheets: numbered, kept as bytes, never changed once sent.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/takeoff/money.h"
#include "shop/store.h"

namespace spile::shop {

enum class SentKind { quote, order_list, invoice, care_sheet, credit_note };
const char* paper_word(SentKind kind);  ///< "quote", "order list"
std::optional<SentKind> sent_kind_of(const std::string& word);

struct PaperHead {
    Id id = 0;
    std::string number;  ///< "Q-0001", "O-", "I-", "C-", "N-": one count for each kind, without gaps
    SentKind kind = SentKind::quote;
    Id job = 0;
    int rev = 0;        ///< the revision of the job it was made from
    std::string media;  ///< "text/plain", "application/pdf"
    std::string by;
    Seconds at = 0;
    Cents net = 0, tax = 0, total = 0;  ///< 0 for papers without money
    std::string currency;
    std::string valid_until;  ///< of a quote
    std::size_t bytes = 0;
};

struct NewPaper {
    SentKind kind = SentKind::quote;
    Id job = 0;
    int rev = 0;  ///< it was made from; 0: the newest
    std::string media, bytes;
    Cents net = 0, tax = 0, total = 0;
    std::string currency, valid_until;
    std::string basis;  ///< JSON: the prices it was made with, so that it can be explained for ever
    std::string by;
};

/// The number the next paper of this kind will have, to print on it.
Result<std::string> next_paper_number(Store& store, SentKind kind);

/// Keeps a paper under `number`. A quote makes an enquiry a job that is quoted. On bad input: "number-taken" when another got it meanwhile (make it again under the next
/// one), "not-there", "file-empty", "invoice-known" for a second invoice of a job that no credit note has taken back,
/// "invoice-missing" for a credit note that is not of a whole invoice, "money-refused" when tax and net are not the total, "date-refused", "not-json".
Result<PaperHead> keep_paper(Store& store, const std::string& number, const NewPaper& paper);
/// Newest first; `job` 0: of all.
Result<std::vector<PaperHead>> list_papers(Store& store, Id job = 0, std::size_t limit = 1000);
Result<PaperHead> paper_head(Store& store, const std::string& number);
/// The bytes as they were kept. On bad input: "not-there", "shop-damaged".
Result<std::string> read_paper(Store& store, const std::string& number);
Result<std::string> read_paper_basis(Store& store, const std::string& number);

}  // namespace spile::shop
