// A range by telephone, never a number.
#pragma once

#include <string>
#include <vector>

#include "shop/quoting.h"

namespace spile::shop {

struct Enquiry {
    double boat_length_mm = 0;  ///< 0: not known
    std::string kind;  ///< of space, in a word or two: "cockpit"; jobs are alike whose title has these words
    int panels = 1;
    std::string day;
};

struct Ballpark {
    Cents low = 0, high = 0;  ///< before tax, to a whole `round_to` of the price list
    Currency currency;
    std::size_t past_jobs = 0;         ///< quotes it rests on; 0: on the price list and a rough size alone
    std::vector<std::string> reasons;  ///< how it came about and what moves it, one sentence each
};

/// From the shop's own quotes of jobs alike, where there are at least kAlike of them: what one panel was asked, from the lower
/// to the upper fifth, times the panels. Else from the price list: the roll goods of a set of five for a boat of 29 ft are
/// 36 sq ft (common practice) and go by the square of her length; half as much less and
/// the minutes a quarter less, half as much and a quarter more.
/// On bad input: "panels-refused" outside 1 to 60, "length-refused" outside 2 to 60 m or, without past jobs, not given;
/// "prices-missing", the stops of make_quote.
Result<Ballpark> ballpark(Store& store, const Enquiry& enquiry);

inline constexpr std::size_t kAlike = 5;

}  // namespace spile::shop
