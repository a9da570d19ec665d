#include "shop/quoting.h"

#include <algorithm>

#include "core/job/json_with_lines.h"
#include "shop/database.h"
#include "shop/price_lists.h"

namespace spile::shop {

Result<PricedJob> price_job(const Job& job, const Derived& derived, const ShopPrices& prices, bool rush) {
    if (!derived.layout)
        return Result<PricedJob>::refuse(
            stop("layout-missing", "A price goes by the layout, and this job has none.",
                 "See what stops it, then lay it out: spile check says what to do.", {"job", ""}));
    PricedJob out;
    out.goods = job.goods.name;
    out.layout = *derived.layout;
    out.takeoff = take_off(derived.pieces, job.goods, out.layout, prices.settings_for(job.takeoff),
                           lengths_of(job), derived.applied);
    out.book = prices.book_for(job.goods.name);
    out.trips = prices.trips;
    out.trips.spaces = std::max(out.trips.spaces, static_cast<int>(job.spaces.size()));
    out.rush = rush;
    Result<Quote> quote = make_quote(out.takeoff, out.book, out.trips, rush, lengths_of(job));
    out.quote = std::move(*quote);
    return {std::move(out), std::move(quote.findings)};
}

Result<Job> job_in_goods(const Job& job, const std::string& goods_document) {
    Result<JsonValue> goods = parse_json(goods_document);
    if (!goods) return {std::nullopt, std::move(goods.findings)};
    JsonValue said = job.said;
    said.set("goods", std::move(*goods));
    said.erase("kept_layout");
    return job_from_said(std::move(said));
}

Result<PricedJob> price_in_goods(const Job& job, const std::string& goods, const ShopPrices& prices,
                                 const LayoutSolver& solver, bool rush) {
    const auto described = prices.goods_documents.find(goods);
    if (described == prices.goods_documents.end())
        return Result<PricedJob>::refuse(stop(
            "goods-not-described",
            "The price list has no goods \"" + goods + "\" with a width, so nothing can be laid out in them.",
            "Give them the group \"goods\" in the price list, as a job has it.", {"goods", goods}));
    Result<Job> other = job_in_goods(job, described->second);
    if (!other) return {std::nullopt, std::move(other.findings)};
    const Derived derived = run_job(*other, solver, {});
    if (!derived.layout) return {std::nullopt, derived.findings};
    return price_job(*other, derived, prices, rush);
}

Result<Hours> book_hours(Store& store, const std::string& day) {
    WorkTimes guesses = guessed_times();
    const Result<std::string> document = price_list_on(store, day);
    if (!document && document.findings.front().code != "prices-missing")
        return {std::nullopt, document.findings};
    if (document)
        if (const auto prices = read_prices(*document)) guesses = prices->book.times;
    const Result<std::vector<TicketWork>> tickets = list_tickets(store);
    if (!tickets) return {std::nullopt, tickets.findings};
    return Result<Hours>::ok(learn_hours(guesses, *tickets));
}

Result<ShopPrices> book_prices(Store& store, const std::string& day) {
    const Result<std::string> document = price_list_on(store, day);
    if (!document) return {std::nullopt, document.findings};
    Result<ShopPrices> prices = read_prices(*document);
    if (!prices) return prices;
    const Result<std::vector<TicketWork>> tickets = list_tickets(store);
    if (!tickets) return {std::nullopt, tickets.findings};
    prices->book.times = learn_hours(prices->book.times, *tickets).times;
    return prices;
}

}  // namespace spile::shop
