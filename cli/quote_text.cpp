#include "cli/quote_text.h"

#include "cli/terminal.h"
#include "core/base/running_length.h"
#include "core/base/text.h"

namespace spile::cli {
namespace {

std::string line_text(const CostLine& line, const Currency& currency, const LengthStyle& style, int width) {
    const std::string cost = line.cost ? money_text(*line.cost, currency) : "no price";
    return wrapped("  -",
                   harmless(line.what + ", " + amount_text(line.amount, line.unit, style) + ": " + cost +
                            ". " + line.because),
                   4, width);
}

std::string group_text(const char* heading, CostLine::Group group, const shop::PricedJob& priced,
                       const LengthStyle& style, int width) {
    std::string text;
    for (const CostLine& line : priced.quote.lines)
        if (line.group == group) text += line_text(line, priced.book.currency, style, width);
    return text.empty() ? "" : heading + ("\n" + text) + "\n";
}

}  // namespace

std::string amount_text(double amount, const std::string& unit, const LengthStyle& style) {
    if (unit == "mm") return running_length(amount, style);
    if (unit == "mm2") {
        return style.unit == Unit::inch ? fixed(amount / (304.8 * 304.8), 1) + " sq ft"
                                        : fixed(amount / 1e6, 2) + " m2";
    }
    return shortest(amount) + (unit.empty() ? "" : " " + unit);
}

std::string materials_text(const shop::PricedJob& priced, const LengthStyle& style, int width) {
    return group_text("Material", CostLine::Group::material, priced, style, width);
}

std::string quote_text(const shop::PricedJob& priced, const LengthStyle& style, int width) {
    const Quote& q = priced.quote;
    std::string text = "In " + harmless(priced.goods) +
                       (priced.book.since.empty() ? "" : ", at the prices of " + priced.book.since) + "\n\n";
    text += materials_text(priced, style, width);
    text += group_text("Labour", CostLine::Group::labour, priced, style, width);
    text += group_text("Travel", CostLine::Group::travel, priced, style, width);
    if (!q.priced) return text + "Nothing is added up while a price is missing.\n";
    text += "What is asked\n";
    for (const std::string& step : q.steps) text += wrapped("  -", harmless(step), 4, width);
    text +=
        wrapped("  -",
                "Work: " + fixed(q.minutes / 60, 1) + " h" +
                    (q.minutes_sd > 0 ? ", give or take " + fixed(q.minutes_sd / 60, 1) + " h by the tickets"
                                      : std::string()) +
                    (q.guesses > 0 ? "; " + count_of(static_cast<std::size_t>(q.guesses),
                                                     "line rests on a guess", "lines rest on guesses")
                                   : std::string()) +
                    ". The machine itself runs " + fixed(q.machine_minutes, 1) + " min of it.",
                4, width);
    return text;
}

std::string option_text(const shop::PricedJob& priced, const LengthStyle& style, int width) {
    const std::string bought = amount_text(priced.layout.bought_mm, "mm", style);
    return wrapped(
        "  -",
        harmless(priced.goods) + ", " + bought + " to buy: " +
            (priced.quote.priced ? money_text(priced.quote.net, priced.book.currency) + " before tax, " +
                                       money_text(priced.quote.total, priced.book.currency) + " in all."
                                 : "a price is missing."),
        4, width);
}

}  // namespace spile::cli
