// Money: whole cents, rounded once and by a named rule.
#pragma once

#include <cstdint>
#include <string>

#include "core/base/result.h"

namespace spile {

/// The smallest coin of the currency: cents of a dollar, whole yen. Never a fraction.
using Cents = std::int64_t;

/// Beyond this a price is a slip of the keys; sums of a thousand such still fit.
inline constexpr Cents kLargestPrice = 1'000'000'000'000;

/// A share in millionths: 0.085 is 85 000, 45 % is 450 000. Exact for every percentage with four decimals.
using Millionths = std::int64_t;
inline constexpr Millionths kWhole = 1'000'000;

struct Currency {
    std::string code;  ///< ISO 4217, "USD"; printed behind the amount
    int decimals = 2;  ///< of its coin: 2 for most, 0 for JPY, 3 for KWD
};

/// amount * numerator / denominator, exact inside (128 bit), the half away from zero.
/// Requires: denominator > 0, and a result that 64 bits hold.
Cents rounded_share(Cents amount, std::int64_t numerator, std::int64_t denominator);

/// `amount` up to the next whole `step`, away from zero; as it is for a step of 0 or 1.
Cents rounded_up(Cents amount, Cents step);

/// "2 500.00 USD" without the blank: "2500.00 USD"; "-3 JPY".
std::string money_text(Cents amount, const Currency& currency);

/// Reads "12", "12.5", "12.50" exactly. On bad input: "money-refused": negative, more decimals than the currency has,
/// a comma, more than kLargestPrice, no number.
Result<Cents> parse_money(const std::string& text, const Currency& currency);

/// Reads "45", "8.25 %" or "8.25" as percent, exactly. On bad input: "share-refused": negative, more than four decimals,
/// more than `most_percent`.
Result<Millionths> parse_percent(const std::string& text, int most_percent);

/// "8.25 %", without needless zeros.
std::string percent_text(Millionths share);

/// What is put on the cost: a mark-up is a share of the cost, a margin a share of the price. 45 % mark-up is 31.03 %
/// margin (45/145): the two are never taken for one another.
enum class UpliftKind { mark_up, margin };
struct Uplift {
    UpliftKind kind = UpliftKind::margin;
    Millionths share = 0;  ///< a margin is less than kWhole
};

/// cost * (1 + mark-up), or cost / (1 - margin), the half away from zero. Requires: a margin below kWhole.
Cents price_from_cost(Cents cost, const Uplift& uplift);

/// What a price means, both ways. 0 where there is nothing to divide by.
Millionths mark_up_of(Cents cost, Cents price);
Millionths margin_of(Cents cost, Cents price);

}  // namespace spile
