#include "core/takeoff/money.h"

#include "core/base/check.h"
#include "core/base/stop.h"

namespace spile {
namespace {

__extension__ typedef __int128 Wide;

Finding refused(const char* code, std::string says, std::string to_do) {
    return stop_finding(code, std::move(says), std::move(to_do), {"money", ""});
}

/// A decimal number as a whole number of 10^-decimals; nothing when it is none, `too_fine` when it has more decimals.
struct Decimal {
    bool good = false, too_fine = false, too_large = false;
    std::int64_t value = 0;
};

Decimal read_decimal(const std::string& text, int decimals) {
    Decimal d;
    std::size_t digits = 0;
    int after = -1;
    for (const char c : text) {
        if (c == '.' && after < 0) {
            after = 0;
            continue;
        }
        if (c < '0' || c > '9') return d;
        ++digits;
        if (after >= 0 && ++after > decimals) {
            if (c != '0') d.too_fine = true;
            continue;
        }
        if (d.value > kLargestPrice * 1000) d.too_large = true;
        if (!d.too_large) d.value = d.value * 10 + (c - '0');
    }
    for (int i = after < 0 ? 0 : after; i < decimals && !d.too_large; ++i) d.value *= 10;
    d.good = digits > 0;
    return d;
}

std::string scaled_text(std::int64_t value, int decimals) {
    const bool negative = value < 0;
    std::string text = std::to_string(negative ? -value : value);
    const auto places = static_cast<std::size_t>(decimals);
    while (text.size() < places + 1) text.insert(0, "0");
    if (decimals > 0) text.insert(text.size() - places, ".");
    return (negative ? "-" : "") + text;
}

}  // namespace

Cents rounded_share(Cents amount, std::int64_t numerator, std::int64_t denominator) {
    SPILE_CHECK(denominator > 0);
    const Wide exact = static_cast<Wide>(amount) * numerator;
    const Wide half = denominator / 2 + (denominator % 2 != 0 ? 1 : 0);
    const Wide size = exact < 0 ? -exact : exact;
    Wide whole = size / denominator;
    if (size % denominator >= half) ++whole;
    SPILE_CHECK(whole < (static_cast<Wide>(1) << 62));
    return static_cast<Cents>(exact < 0 ? -whole : whole);
}

Cents rounded_up(Cents amount, Cents step) {
    if (step <= 1) return amount;
    const Cents size = amount < 0 ? -amount : amount;
    const Cents up = (size + step - 1) / step * step;
    return amount < 0 ? -up : up;
}

std::string money_text(Cents amount, const Currency& currency) {
    return scaled_text(amount, currency.decimals) + (currency.code.empty() ? "" : " " + currency.code);
}

Result<Cents> parse_money(const std::string& text, const Currency& currency) {
    const std::string shown = "\"" + text.substr(0, 40) + "\"";
    if (!text.empty() && text[0] == '-')
        return Result<Cents>::refuse(refused("money-refused", shown + " is below zero; a price is not.",
                                             "Write the price without a sign."));
    const Decimal d = read_decimal(text, currency.decimals);
    if (!d.good)
        return Result<Cents>::refuse(refused("money-refused", shown + " is no amount of money.",
                                             "Write digits, with a point before the cents: " +
                                                 money_text(1250, {"", currency.decimals}) + "."));
    if (d.too_fine)
        return Result<Cents>::refuse(refused(
            "money-refused",
            shown + " is finer than the coin, which has " + std::to_string(currency.decimals) + " decimals.",
            "Round it, or price a larger amount: a spool instead of a yard."));
    if (d.too_large || d.value > kLargestPrice)
        return Result<Cents>::refuse(
            refused("money-refused", shown + " is more than any price.", "Look for a digit too many."));
    return Result<Cents>::ok(d.value);
}

Result<Millionths> parse_percent(const std::string& text, int most_percent) {
    std::string digits = text;
    while (!digits.empty() && (digits.back() == '%' || digits.back() == ' ')) digits.pop_back();
    const Decimal d = read_decimal(digits, 4);
    if (!d.good || d.too_fine || d.too_large || d.value > kWhole / 100 * most_percent)
        return Result<Millionths>::refuse(
            refused("share-refused",
                    "\"" + text.substr(0, 40) + "\" is no percentage between 0 and " +
                        std::to_string(most_percent) + " with at most four decimals.",
                    "Write it in percent, like 8.25."));
    return Result<Millionths>::ok(d.value);
}

std::string percent_text(Millionths share) {
    std::string text = scaled_text(share, 4);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text + " %";
}

Cents price_from_cost(Cents cost, const Uplift& uplift) {
    if (uplift.kind == UpliftKind::mark_up) return rounded_share(cost, kWhole + uplift.share, kWhole);
    SPILE_CHECK(uplift.share < kWhole);
    return rounded_share(cost, kWhole, kWhole - uplift.share);
}

Millionths mark_up_of(Cents cost, Cents price) {
    return cost > 0 ? rounded_share(price - cost, kWhole, cost) : 0;
}

Millionths margin_of(Cents cost, Cents price) {
    return price > 0 ? rounded_share(price - cost, kWhole, price) : 0;
}

}  // namespace spile
