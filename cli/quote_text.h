// What a job takes and costs, for a person to read.
#pragma once

#include <string>

#include "shop/quoting.h"

namespace spile::cli {

/// "2.5 yd", "12.5 sq ft", "35 min".
std::string amount_text(double amount, const std::string& unit, const LengthStyle& style);

/// What to buy, every line explained.
std::string materials_text(const shop::PricedJob& priced, const LengthStyle& style, int width);

/// Every line of a quote with its cost and how it came about, the sums, and how the cost became a price.
std::string quote_text(const shop::PricedJob& priced, const LengthStyle& style, int width);

/// What other goods would change: goods, length to buy, total.
std::string option_text(const shop::PricedJob& priced, const LengthStyle& style, int width);

}  // namespace spile::cli
