// spile cost: what the job takes, and with prices what it costs.
#include "cli/book_place.h"
#include "cli/commands.h"
#include "cli/json_output.h"
#include "cli/load.h"
#include "cli/quote_text.h"
#include "cli/terminal.h"
#include "core/base/text.h"
#include "shop/show.h"

namespace spile::cli {
namespace {

std::string lines_text(const std::string& heading, const std::vector<QuantityLine>& lines,
                       const LengthStyle& style, int width) {
    std::string text = heading + '\n';
    for (const QuantityLine& line : lines) {
        std::string said = line.what + ": " + amount_text(line.amount, line.unit, style);
        if (line.to_buy > 0) said += ", to buy " + amount_text(line.to_buy, line.unit, style);
        text += wrapped("  -", harmless(said + ". " + line.because), 4, width);
    }
    return text + '\n';
}

/// From the file, or from the shop's book as they hold on that day. Says why there are none on stderr.
std::optional<shop::ShopPrices> prices_for(const CostOptions& options) {
    Result<shop::ShopPrices> prices;
    if (!options.prices.empty()) {
        const std::optional<std::string> text = load_text(options.prices, "a price list");
        if (!text) return std::nullopt;
        prices = shop::read_prices(*text);
    } else {
        Result<shop::Store> store = shop::Store::open(book_in(options.book).string());
        if (store)
            prices = shop::book_prices(*store, options.on.empty() ? shop::date_of(store->now()) : options.on);
        else
            prices.findings = std::move(store.findings);
    }
    if (!prices) complain(findings_text(prices.findings, terminal_width()));
    return std::move(prices.value);
}

/// The job as it is, then in each of the other goods that were asked for.
struct Priced {
    std::vector<shop::PricedJob> jobs;
    std::vector<Finding> findings;
};

Priced price_all(const Job& job, const Derived& derived, const CostOptions& options,
                 const shop::ShopPrices& prices) {
    Priced all;
    const auto take = [&](Result<shop::PricedJob> priced) {
        append(all.findings, std::move(priced.findings));
        if (priced) all.jobs.push_back(std::move(*priced));
    };
    take(shop::price_job(job, derived, prices, options.rush));
    for (const std::string& goods : options.instead)
        take(shop::price_in_goods(job, goods, prices, solver_for(job), options.rush));
    return all;
}

std::string priced_text(const Priced& all, const LengthStyle& style, int width) {
    std::string text = quote_text(all.jobs.front(), style, width);
    for (std::size_t i = 1; i < all.jobs.size(); ++i)
        text += (i == 1 ? "\nIn other goods, laid out anew\n" : "") + option_text(all.jobs[i], style, width);
    return text;
}

Exit cost_with_prices(const Job& job, const Derived& derived, const CostOptions& options) {
    const std::optional<shop::ShopPrices> prices = prices_for(options);
    if (!prices) return not_read;
    const int width = terminal_width();
    Priced all = price_all(job, derived, options, *prices);
    const Exit exit = has_stop(all.findings) ? stopped : all_well;
    append(all.findings, derived.findings);
    sort_worst_first(all.findings);
    const std::string findings = findings_text(all.findings, width);
    if (options.json) {
        complain(findings);
        return print(priced_json(derived.takeoff, shop::shown(all.jobs))) ? exit : not_read;
    }
    const std::string text = all.jobs.empty() ? "" : priced_text(all, lengths_of(job), width);
    return print(findings + text) ? exit : not_read;
}

}  // namespace

Exit cost(const CostOptions& options) {
    const std::optional<Job> job = load_job(options.job);
    if (!job) return not_read;
    const Derived derived = run_job(*job, solver_for(*job), {});
    const Exit exit = derived.takeoff ? all_well : stopped;
    const bool priced = !options.prices.empty() || !options.book.empty();
    if (priced && derived.takeoff) return cost_with_prices(*job, derived, options);
    const int width = terminal_width();
    const std::string findings = findings_text(derived.findings, width);
    if (options.json) {
        complain(findings);
        return print(takeoff_json(derived.takeoff)) ? exit : not_read;
    }
    std::string text = "What it takes cannot be said before there is a layout: see above.\n";
    if (derived.takeoff) {
        text = lines_text("Materials", derived.takeoff->materials, lengths_of(*job), width) +
               lines_text("Work", derived.takeoff->work, lengths_of(*job), width);
    }
    return print(findings + text) ? exit : not_read;
}

}  // namespace spile::cli
