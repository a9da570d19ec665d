#include "shop/sending.h"

#include <algorithm>

#include "core/base/running_length.h"
#include "core/base/text.h"
#include "core/geom/measure_of.h"
#include "export/pdf/pdf.h"
#include "shop/database.h"
#include "shop/people.h"
#include "shop/sent_sheets.h"
#include "shop/settings.h"
#include "shop/show.h"
#include "shop/stock.h"

namespace spile::shop {
namespace {

constexpr Seconds kDay = 86400;

Letterhead letterhead_of(Store& store) {
    const Result<std::optional<std::string>> kept = read_setting(store, "shop");
    const Json json = Json::parse(kept && *kept ? **kept : "", nullptr, false);
    const auto word = [&](const char* key) {
        return json.is_object() && json.contains(key) && json[key].is_string() ? json[key].get<std::string>()
                                                                               : std::string();
    };
    return {word("name"), word("address"), word("terms")};
}

class Drafter {
  public:
    Drafter(Store& store, const ToSend& send, const SolverFor& solver)
        : store_(store), send_(send), solver_(solver) {}

    Result<Draft> draft() {
        if (begin() && make()) {
            say_who_is_missing();
            return {std::move(draft_), std::move(findings_)};
        }
        return {std::nullopt, std::move(findings_)};
    }

  private:
    /// The value of a result; its findings are kept. False when there is none.
    template <class T>
    bool take(Result<T> result, T& value) {
        append(findings_, std::move(result.findings));
        if (!result) return false;
        value = std::move(*result);
        return true;
    }

    bool refuse_with(Finding finding) {
        findings_.push_back(std::move(finding));
        return false;
    }

    void look(Finding finding) {
        finding.severity = Severity::look;
        findings_.push_back(std::move(finding));
    }

    void say_who_is_missing() {
        if (paper_.shop.name.empty())
            look(stop("shop-unnamed", "The paper does not say whose it is: the shop has no name yet.",
                      "Write name and address in the settings of the shop (spile shop about --name).",
                      {"paper", draft_.number}));
        if (paper_.customer.empty())
            look(stop("customer-unnamed", "The paper does not say whom it is for: the job has no customer.",
                      "Say whose the job is.", {"paper", draft_.number}));
    }

    bool begin() {
        Revision revision;
        if (!take(job_head(store_, send_.job), head_) || !take(read_revision(store_, send_.job), revision) ||
            !take(parse_date(send_.day), at_))
            return false;
        Result<Job> job = read_job(revision.document);
        if (!job) return take(std::move(job), job_);
        job_ = std::move(*job);
        if (!take(next_paper_number(store_, send_.kind), draft_.number)) return false;
        paper_.number = draft_.number;
        paper_.day = send_.day;
        paper_.shop = letterhead_of(store_);
        paper_.title = job_.title;
        paper_.boat = job_.boat;
        paper_.customer = job_.customer;
        paper_.size = job_.paper == Paper::a4 ? a4() : letter();
        paper_.lengths = lengths_of(job_);
        if (head_.customer) {
            Customer customer;
            if (!take(read_customer(store_, head_.customer), customer)) return false;
            paper_.customer = customer.name;
            paper_.address = customer.address;
        }
        draft_.paper.kind = send_.kind;
        draft_.paper.job = send_.job;
        draft_.paper.rev = head_.rev;
        draft_.paper.media = "application/pdf";
        draft_.paper.by = send_.by;
        return true;
    }

    bool make() {
        switch (send_.kind) {
            case SentKind::quote:
                return work_out() && price(send_.instead) && quote();
            case SentKind::order_list:
                return work_out() && price({}) &&
                       drawn(order_sheet(paper_, draft_.priced.front(), stock_words()));
            case SentKind::invoice:
            case SentKind::credit_note:
                return money_paper();
            case SentKind::care_sheet:
                return drawn(care_sheet(paper_, job_.goods.name, job_.papers.care, job_.papers.warranty));
        }
        return false;
    }

    bool work_out() {
        derived_ = run_job(job_, solver_(job_), {});
        for (const Finding& f : derived_.findings)
            if (f.severity == Severity::stop) findings_.push_back(f);
        return !has_stop(findings_);
    }

    bool price(const std::vector<std::string>& instead) {
        ShopPrices prices;
        if (!take(book_prices(store_, send_.day), prices)) return false;
        PricedJob asked;
        if (!take(price_job(job_, derived_, prices, send_.rush), asked) || !asked.quote.priced) return false;
        draft_.priced.push_back(std::move(asked));
        for (const std::string& goods : instead) {
            PricedJob option;
            if (!take(price_in_goods(job_, goods, prices, solver_(job_), send_.rush), option) ||
                !option.quote.priced)
                return false;
            draft_.priced.push_back(std::move(option));
        }
        draft_.paper.basis = shown(draft_.priced).dump(-1, ' ', false, Json::error_handler_t::replace);
        return true;
    }

    bool quote() {
        const PricedJob& asked = draft_.priced.front();
        stock_words();  // running short is seen now, not when cutting
        draft_.paper.net = asked.quote.net;
        draft_.paper.tax = asked.quote.tax;
        draft_.paper.total = asked.quote.total;
        draft_.paper.currency = asked.book.currency.code;
        draft_.paper.valid_until = date_of(at_ + asked.book.valid_days * kDay);
        std::vector<PieceLine> pieces;
        for (const Piece& p : derived_.pieces) {
            const Box box = box_of(p.net);
            LengthStyle unit = paper_.lengths;
            unit.with_unit = true;
            pieces.push_back({p.number, p.name,
                              print_length(box.width(), paper_.lengths).text + " \u00d7 " +
                                  print_length(box.height(), unit).text});
        }
        const std::vector<PricedJob> options(draft_.priced.begin() + 1, draft_.priced.end());
        return drawn(quote_sheet(paper_, pieces, asked, options, draft_.paper.valid_until));
    }

    /// What the rack holds of the goods, in words; a look when no roll is long enough.
    std::string stock_words() {
        const PricedJob& asked = draft_.priced.front();
        std::vector<AcceptedLayout> cut;
        if (!take(list_layouts(store_, send_.job), cut)) return "";
        if (std::any_of(cut.begin(), cut.end(), [](const AcceptedLayout& l) { return l.taken_back == 0; }))
            return "The goods of this job are cut already.";
        if (const std::size_t lengths = asked.layout.stretches.size(); lengths > 0) {
            std::vector<std::string> from;
            for (std::size_t k = 0; k < lengths; ++k) from.push_back(stretch_words(asked.layout, k));
            if (!(asked.layout.to_buy_mm > 0))
                return "It is to be cut from " + list_words(from) + " of the rack.";
            return "It is to be cut from " + list_words(from) + ": " +
                   running_length(asked.layout.to_buy_mm, paper_.lengths) + " to order, of one lot.";
        }
        GoodsStock stock;
        if (!take(stock_of(store_, asked.goods, send_.job), stock) || !stock.known) return "";
        LengthStyle said = paper_.lengths;
        said.with_unit = true;
        const double free_mm = static_cast<double>(stock.longest_free_um) / 1000;
        const std::string there = "The longest roll of \"" + asked.goods + "\" has " +
                                  plain_length(free_mm, said) + " free; the job takes " +
                                  plain_length(asked.layout.used_mm, said) + ".";
        if (free_mm < asked.layout.used_mm) {
            look(stop("short-of-roll", there, "Order the length to buy, of one lot, before it is promised.",
                      {"goods", asked.goods},
                      {{"free", free_mm, "mm"}, {"takes", asked.layout.used_mm, "mm"}}));
        }
        return there;
    }

    bool money_paper() {
        const bool credit = send_.kind == SentKind::credit_note;
        std::vector<PaperHead> sent;
        if (!take(list_papers(store_, send_.job), sent)) return false;
        const SentKind of = credit ? SentKind::invoice : SentKind::quote;
        const auto at =
            std::find_if(sent.begin(), sent.end(), [&](const PaperHead& p) { return p.kind == of; });
        const std::string job = "Job " + std::to_string(send_.job);
        if (at == sent.end())
            return refuse_with(stop(credit ? "invoice-missing" : "quote-missing",
                                    job + (credit ? " has no invoice to take back." : " has no quote yet."),
                                    credit ? "Look at the papers of the job."
                                           : "Send a quote first; an invoice asks what it asked.",
                                    {"job", std::to_string(send_.job)}));
        if (!credit && !at->valid_until.empty() && at->valid_until < send_.day) {
            look(stop("quote-expired",
                      "Quote " + at->number + " was good until " + at->valid_until + "; the invoice is of " +
                          send_.day + " and asks the same.",
                      "Send a new quote first if it was ordered after that day.", {"paper", at->number}));
        }
        Account account;
        if (!take(account_of(store_, send_.job), account)) return false;
        NewPaper& paper = draft_.paper;
        paper.net = at->net;
        paper.tax = at->tax;
        paper.total = at->total;
        paper.currency = at->currency;
        Json basis = {{"of", at->number}};
        paper.basis = basis.dump();
        const InvoiceLines lines{at->number, at->net,      at->tax,
                                 at->total,  account.paid, {at->currency, book_currency(store_).decimals}};
        return drawn(credit ? credit_sheet(paper_, lines) : invoice_sheet(paper_, lines));
    }

    bool drawn(const Sheet& sheet) { return take(pdf_bytes(sheet), draft_.paper.bytes); }

    Store& store_;
    const ToSend& send_;
    const SolverFor& solver_;
    JobHead head_;
    Seconds at_ = 0;
    Job job_;
    Derived derived_;
    SentPaper paper_;
    Draft draft_;
    std::vector<Finding> findings_;
};

}  // namespace

Result<Draft> draft_paper(Store& store, const ToSend& send, const SolverFor& solver) {
    return Drafter(store, send, solver).draft();
}

Result<PaperHead> send_paper(Store& store, const ToSend& send, const SolverFor& solver) {
    Result<Draft> draft = draft_paper(store, send, solver);
    if (!draft) return {std::nullopt, std::move(draft.findings)};
    Result<PaperHead> kept = keep_paper(store, draft->number, draft->paper);
    if (!kept) return kept;
    append(draft.findings, std::move(kept.findings));
    return {std::move(kept.value), std::move(draft.findings)};
}

}  // namespace spile::shop
