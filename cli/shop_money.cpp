// spile shop prices, quote, invoice, pay, ticket: what is asked, sent and paid, and how long it took.
#include "cli/load.h"
#include "cli/quote_text.h"
#include "cli/shop_call.h"
#include "cli/terminal.h"
#include "shop/sending.h"
#include "shop/tickets.h"

namespace spile::cli {
namespace {

shop::SolverFor solvers() {
    return [](const Job& job) { return solver_for(job); };
}

Result<Said> prices_add(const Call& call) {
    const Result<std::string> text = file_text(call.text("FILE"), "a price list");
    if (!text) return {std::nullopt, text.findings};
    return say(shop::add_price_list(*call.store, *text, call.by));
}

Result<Said> prices_list(const Call& call) {
    return say(shop::list_price_lists(*call.store), "prices");
}

Result<Said> prices_show(const Call& call) {
    const Result<std::string> list = shop::price_list_on(*call.store, call.text("DAY", call.day));
    if (!list) return {std::nullopt, list.findings};
    return Result<Said>::ok({Json{{"prices", *list}}, *list, true});
}

shop::ToSend asked_of(const Call& call, shop::SentKind kind) {
    shop::ToSend send;
    send.kind = kind;
    send.job = call.whole("JOB");
    send.day = call.day;
    send.rush = call.has("rush");
    send.instead = call.all("instead");
    send.by = call.by;
    return send;
}

/// Without --send nothing is written: a look at what it would be. --to: the paper itself into a new file.
Result<Said> paper(const Call& call, shop::SentKind kind) {
    shop::Store& store = *call.store;
    const shop::ToSend send = asked_of(call, kind);
    Result<shop::Draft> draft = shop::draft_paper(store, send, solvers());
    if (!draft) return {std::nullopt, std::move(draft.findings)};
    const int decimals = shop::book_currency(store).decimals;
    Said said;
    std::vector<Finding> findings = std::move(draft.findings);
    if (call.has("send")) {
        const Result<shop::PaperHead> kept = shop::keep_paper(store, draft->number, draft->paper);
        if (!kept) return {std::nullopt, kept.findings};
        append(findings, kept.findings);
        said.json = {{"sent", true}, {"paper", shop::shown(*kept, decimals)}};
        said.text = "Sent as " + kept->number + ".\n";
    } else {
        said.json = {{"sent", false}, {"number", draft->number}};
        said.text = "Not sent: it would be " + draft->number + ". Add --send to keep it under that number.\n";
    }
    const Currency currency{draft->paper.currency, decimals};
    if (draft->paper.total != 0)
        said.text = "Total " + money_text(draft->paper.total, currency) + ". " + said.text;
    if (!draft->priced.empty()) {
        said.json["priced"] = shop::shown(draft->priced);
        std::string text = kind == shop::SentKind::order_list
                               ? materials_text(draft->priced.front(), call.style, terminal_width())
                               : quote_text(draft->priced.front(), call.style, terminal_width());
        for (std::size_t i = 1; i < draft->priced.size(); ++i)
            text += option_text(draft->priced[i], call.style, terminal_width());
        said.text = text + '\n' + said.text;
    }
    if (call.has("to")) {
        const Result<std::string> written = write_new_file(call.text("to"), draft->paper.bytes);
        append(findings, written.findings);
        if (!written) return {std::nullopt, std::move(findings)};
        said.json["file"] = call.text("to");
    }
    return {std::move(said), std::move(findings)};
}

Result<Said> quote(const Call& call) {
    return paper(call, shop::SentKind::quote);
}
Result<Said> order(const Call& call) {
    return paper(call, shop::SentKind::order_list);
}
Result<Said> invoice(const Call& call) {
    return paper(call, shop::SentKind::invoice);
}
Result<Said> credit(const Call& call) {
    return paper(call, shop::SentKind::credit_note);
}
Result<Said> care(const Call& call) {
    return paper(call, shop::SentKind::care_sheet);
}

template <class T>
Json with_decimals(const std::vector<T>& list, int decimals) {
    Json json = Json::array();
    for (const T& item : list) json.push_back(shop::shown(item, decimals));
    return json;
}

Result<Said> paper_list(const Call& call) {
    const auto list =
        shop::list_papers(*call.store, call.whole("job"), static_cast<std::size_t>(call.whole("limit", 100)));
    if (!list) return {std::nullopt, list.findings};
    return Result<Said>::ok(
        {Json{{"papers", with_decimals(*list, shop::book_currency(*call.store).decimals)}}});
}

Result<Said> paper_get(const Call& call) {
    const Result<std::string> bytes = shop::read_paper(*call.store, call.text("NUMBER"));
    if (!bytes) return {std::nullopt, bytes.findings};
    const Result<std::string> written = write_new_file(call.text("to"), *bytes);
    if (!written) return {std::nullopt, written.findings};
    return Result<Said>::ok({Json{{"file", *written}, {"bytes", bytes->size()}}});
}

Result<Said> paper_show(const Call& call) {
    const auto head = shop::paper_head(*call.store, call.text("NUMBER"));
    if (!head) return {std::nullopt, head.findings};
    const auto basis = shop::read_paper_basis(*call.store, head->number);
    Json json = shop::shown(*head, shop::book_currency(*call.store).decimals);
    if (basis && !basis->empty()) json["basis"] = Json::parse(*basis, nullptr, false);
    return Result<Said>::ok({std::move(json)});
}

Result<Said> pay(const Call& call) {
    shop::Store& store = *call.store;
    const auto account = shop::account_of(store, call.whole("JOB"));
    if (!account) return {std::nullopt, account.findings};
    const Currency book = shop::book_currency(store);
    const Currency currency{account->currency.empty() ? book.code : account->currency, book.decimals};
    if (call.has("AMOUNT") == call.has("rest"))
        return Result<Said>::refuse(refusal("not-understood",
                                            "A payment is an AMOUNT, or --rest for all that is owed.",
                                            "Give one of the two."));
    const Result<Cents> amount =
        call.has("rest") ? Result<Cents>::ok(account->owed()) : parse_money(call.text("AMOUNT"), currency);
    if (!amount) return {std::nullopt, amount.findings};
    shop::Payment payment;
    payment.job = call.whole("JOB");
    payment.day = call.text("day", call.day);
    payment.amount = call.has("back") ? -*amount : *amount;
    payment.currency = currency.code;
    payment.note = call.text("note");
    payment.by = call.by;
    const auto kept = shop::add_payment(store, payment);
    if (!kept) return {std::nullopt, kept.findings};
    Json json = shop::shown(*kept, currency.decimals);
    const auto after = shop::account_of(store, payment.job);
    if (after) json["account"] = shop::shown(*after, currency.decimals);
    return Result<Said>::ok({std::move(json)});
}

Result<Said> payments(const Call& call) {
    const auto list = shop::list_payments(*call.store, call.whole("job"),
                                          static_cast<std::size_t>(call.whole("limit", 100)));
    if (!list) return {std::nullopt, list.findings};
    return Result<Said>::ok(
        {Json{{"payments", with_decimals(*list, shop::book_currency(*call.store).decimals)}}});
}

Result<Said> totals(const Call& call) {
    const auto sums = shop::totals_of(*call.store, call.text("DAY"), call.text("to", call.day));
    if (!sums) return {std::nullopt, sums.findings};
    return Result<Said>::ok({shop::shown(*sums, shop::book_currency(*call.store).decimals)});
}

Result<Said> ticket(const Call& call) {
    return say(shop::finish_ticket(
        *call.store, call.whole("JOB"), call.number("MINUTES"), static_cast<int>(call.whole("visits", 2)),
        [](const Job& job) { return solver_for(job); }, call.by));
}

Result<Said> hours(const Call& call) {
    return say(shop::book_hours(*call.store, call.day));
}

}  // namespace

std::vector<Verb> money_verbs() {
    return {
        {"prices add FILE",
         "A price list; it holds from its \"since\" on. examples/shop/prices.json is one to try.",
         prices_add},
        {"prices list", "Every list, and from when it holds.", prices_list},
        {"prices show [DAY]", "The list that holds on a day.", prices_show},
        {"quote JOB [--rush] [--instead NAME]... [--send] [--to FILE]",
         "What the job costs and what to ask, every line explained; --instead: also in other goods, laid out "
         "anew.",
         quote},
        {"order JOB [--send] [--to FILE]", "What to buy for it.", order},
        {"invoice JOB [--send] [--to FILE]", "Asks what the newest quote asked.", invoice},
        {"credit JOB [--send] [--to FILE]", "Takes the invoice back, whole.", credit},
        {"care JOB [--send] [--to FILE]", "How to look after the set.", care},
        {"paper list [--job JOB] [--limit COUNT]", "Everything sent, newest first.", paper_list},
        {"paper show NUMBER", "With the prices it was made with.", paper_show},
        {"paper get NUMBER --to FILE", "The paper as it was sent.", paper_get},
        {"pay JOB [AMOUNT] [--rest] [--day DAY] [--note TEXT] [--back]",
         "Money that came in; --rest: all that is owed; --back: paid back.", pay},
        {"payments [--job JOB] [--limit COUNT]", "Newest first.", payments},
        {"totals DAY [--to DAY]",
         "What came of the days from that one on: money, papers, jobs, goods, hours.", totals},
        {"ticket JOB MINUTES [--visits COUNT]", "How long the whole job took.", ticket},
        {"hours", "Minutes of each operation as the tickets have them, and the odd tickets.", hours},
    };
}

}  // namespace spile::cli
