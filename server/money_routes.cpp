// Prices, what a job costs, papers sent, payments and hours.
#include "server/inside.h"
#include "shop/sending.h"
#include "shop/show.h"

namespace spile::server {
namespace {

constexpr std::size_t kMostOptions = 8;

std::string today_of(shop::Store& store) {
    return shop::date_of(store.now());
}

/// The goods of the options, at most kMostOptions: each is laid out anew.
std::vector<std::string> options_of(Body& body) {
    std::vector<std::string> goods;
    if (!body.has("instead")) return goods;
    const JsonValue& list = body.value("instead");
    bool good = list.is(JsonValue::Kind::list) && list.items.size() <= kMostOptions;
    for (const JsonValue& item : list.items) {
        good = good && item.is(JsonValue::Kind::text);
        goods.push_back(item.text);
    }
    if (!good)
        body.fault("\"instead\" is a list of at most " + std::to_string(kMostOptions) + " names of goods.",
                   "Name goods of the price list.");
    return goods;
}

}  // namespace

void Server::Inside::money_routes() {
    routes.push_back({"GET", "/api/prices", Route::Who::session, [this](const Asked&) {
                          const auto lists =
                              book->with([](shop::Store& s) { return shop::list_price_lists(s); });
                          return lists ? ok({{"prices", shop::shown(*lists)}}) : refusal(lists.findings);
                      }});
    routes.push_back({"POST", "/api/prices", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"text"});
                          const std::string text = body.text("text");
                          if (!body.good()) return body.refusal();
                          const auto list = book->with(
                              [&](shop::Store& s) { return shop::add_price_list(s, text, a.who); });
                          return list ? ok({{"list", shop::shown(*list)}}, 201) : refusal(list.findings);
                      }});
    routes.push_back({"GET", "/api/prices/{day}", Route::Who::session, [this](const Asked& a) {
                          const auto text = book->with(
                              [&](shop::Store& s) { return shop::price_list_on(s, a.part("day")); });
                          return text ? ok({{"text", *text}}) : refusal(text.findings);
                      }});
    // On a connection of its own: laying out takes its time, and others go on working.
    const auto drafted = [this](const Asked& a, Body& body, shop::SentKind kind) {
        shop::ToSend send;
        send.kind = kind;
        send.job = a.number("id");
        send.rush = body.flag_or("rush", false);
        send.instead = options_of(body);
        send.by = a.who;
        if (!body.good()) return Result<shop::Draft>{};
        const auto store = own_store();
        if (!store) return Result<shop::Draft>{std::nullopt, store.findings};
        send.day = today_of(**store);
        return shop::draft_paper(**store, send, solvers());
    };
    routes.push_back({"POST", "/api/jobs/{id}/cost", Route::Who::session, [drafted](const Asked& a) {
                          Body body(a.body);
                          body.only({"rush", "instead"});
                          const Result<shop::Draft> draft = drafted(a, body, shop::SentKind::quote);
                          if (!body.good()) return body.refusal();
                          if (!draft) return refusal(draft.findings);
                          return ok({{"number", draft->number},
                                     {"valid_until", draft->paper.valid_until},
                                     {"priced", shop::shown(draft->priced)},
                                     {"findings", surface::shown(draft.findings)}});
                      }});
    routes.push_back({"GET", "/api/jobs/{id}/sent", Route::Who::session, [this](const Asked& a) {
                          const auto list = book->with(
                              [&](shop::Store& s) { return shop::list_papers(s, a.number("id")); });
                          if (!list) return refusal(list.findings);
                          const int decimals =
                              book->with([](shop::Store& s) { return shop::book_currency(s).decimals; });
                          return ok({{"papers", surface::list_of(*list, [&](const shop::PaperHead& p) {
                                          return shop::shown(p, decimals);
                                      })}});
                      }});
    routes.push_back(
        {"POST", "/api/jobs/{id}/sent", Route::Who::session, [this, drafted](const Asked& a) {
             Body body(a.body);
             body.only({"kind", "rush", "instead"});
             const std::optional<shop::SentKind> kind = shop::sent_kind_of(body.text("kind"));
             if (body.good() && !kind)
                 body.fault("There is no such paper.",
                            "Name quote, order list, invoice, care sheet or credit note.");
             const Result<shop::Draft> draft = drafted(a, body, kind.value_or(shop::SentKind::care_sheet));
             if (!body.good()) return body.refusal();
             if (!draft) return refusal(draft.findings);
             const auto kept =
                 book->with([&](shop::Store& s) { return shop::keep_paper(s, draft->number, draft->paper); });
             if (!kept) return refusal(kept.findings);
             news.tell({0, "job", {{"id", kept->job}}});
             const int decimals = book->with([](shop::Store& s) { return shop::book_currency(s).decimals; });
             return ok(
                 {{"paper", shop::shown(*kept, decimals)}, {"findings", surface::shown(draft.findings)}},
                 201);
         }});
    routes.push_back(
        {"GET", "/api/sent/{number}", Route::Who::session, [this](const Asked& a) {
             const auto bytes =
                 book->with([&](shop::Store& s) { return shop::read_paper(s, a.part("number")); });
             if (!bytes) return refusal(bytes.findings);
             const auto head =
                 book->with([&](shop::Store& s) { return shop::paper_head(s, a.part("number")); });
             if (!head) return refusal(head.findings);
             Reply reply;
             reply.body = *bytes;
             reply.type = head->media == "application/pdf" ? "application/pdf" : "application/octet-stream";
             reply.headers["Content-Disposition"] = "inline; filename=\"" + head->number + ".pdf\"";
             reply.headers["Content-Security-Policy"] =
                 "default-src 'none'; style-src 'unsafe-inline'; sandbox";
             return reply;
         }});
    routes.push_back(
        {"GET", "/api/jobs/{id}/account", Route::Who::session, [this](const Asked& a) {
             const shop::Id id = a.number("id");
             const auto head = book->with([&](shop::Store& s) { return shop::job_head(s, id); });
             if (!head) return refusal(head.findings);
             const auto account = book->with([&](shop::Store& s) { return shop::account_of(s, id); });
             const auto paid = book->with([&](shop::Store& s) { return shop::list_payments(s, id); });
             if (!account) return refusal(account.findings);
             if (!paid) return refusal(paid.findings);
             const int decimals = book->with([](shop::Store& s) { return shop::book_currency(s).decimals; });
             return ok({{"account", shop::shown(*account, decimals)},
                        {"payments", surface::list_of(*paid, [&](const shop::Payment& p) {
                             return shop::shown(p, decimals);
                         })}});
         }});
    routes.push_back({"POST", "/api/jobs/{id}/payments", Route::Who::session, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"amount", "back", "day", "note"});
                          const std::string amount = body.text("amount"), day = body.text_or("day", ""),
                                            note = body.text_or("note", "");
                          const bool back = body.flag_or("back", false);
                          if (!body.good()) return body.refusal();
                          const shop::Id id = a.number("id");
                          const auto kept = book->with([&](shop::Store& s) -> Result<shop::Payment> {
                              const auto account = shop::account_of(s, id);
                              if (!account) return {std::nullopt, account.findings};
                              Currency currency = shop::book_currency(s);
                              if (!account->currency.empty()) currency.code = account->currency;
                              const Result<Cents> coins = parse_money(amount, currency);
                              if (!coins) return {std::nullopt, coins.findings};
                              shop::Payment payment;
                              payment.job = id;
                              payment.day = day.empty() ? today_of(s) : day;
                              payment.amount = back ? -*coins : *coins;
                              payment.currency = currency.code;
                              payment.note = note;
                              payment.by = a.who;
                              return shop::add_payment(s, payment);
                          });
                          if (!kept) return refusal(kept.findings);
                          const int decimals =
                              book->with([](shop::Store& s) { return shop::book_currency(s).decimals; });
                          return ok({{"payment", shop::shown(*kept, decimals)}}, 201);
                      }});
    routes.push_back({"GET", "/api/hours", Route::Who::session, [this](const Asked&) {
                          const auto hours =
                              book->with([](shop::Store& s) { return shop::book_hours(s, today_of(s)); });
                          return hours ? ok({{"hours", shop::shown(*hours)}}) : refusal(hours.findings);
                      }});
}

}  // namespace spile::server
