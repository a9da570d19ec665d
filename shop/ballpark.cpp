#include "shop/ballpark.h"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "core/base/text.h"
#include "shop/database.h"
#include "shop/rows.h"
#include "shop/words.h"

namespace spile::shop {
namespace {

constexpr int kMostPanels = 60;
constexpr double kLeastBoat_mm = 2000, kLongestBoat_mm = 60'000;
constexpr double kSetGoods_mm2 = 36 * 304.8 * 304.8,
                 kSetBoat_mm = 29 * 304.8;  // common practice: see the header
constexpr double kSpread = 0.5;             // of that rule, either way: a guess of ours, said in the reasons
constexpr double kHoursSpread = 0.25;       // likewise
constexpr double kRollWidth_mm = 72 * 25.4, kStep_mm = 914.4;  // common practice

/// What one panel was asked in each quote of a job alike, before tax; quotes in another currency do not count.
std::vector<double> asked_for_a_panel(Database& database, const std::string& kind,
                                      const std::string& currency) {
    const SearchWords words = search_words(kind);
    std::string where = words.sql;
    Statement rows(
        database,
        ("SELECT paper.basis, paper.net FROM paper JOIN job ON job.id=paper.job WHERE "
         "paper.kind=0 AND paper.id=(SELECT max(id) FROM paper AS p WHERE p.job=job.id AND p.kind=0)" +
         where + " AND paper.currency=?")
            .c_str());
    rows.with_list(words.patterns);
    rows.with_at(words.patterns.size() + 1, currency);
    std::vector<double> each;
    while (rows.next()) {
        const auto basis = nlohmann::json::parse(rows.text(0), nullptr, false);
        if (!basis.is_array() || basis.empty() || !basis[0].is_object()) continue;
        const double pieces = basis[0].value("pieces", 0.0);
        if (pieces >= 1) each.push_back(static_cast<double>(rows.whole(1)) / pieces);
    }
    std::sort(each.begin(), each.end());
    return each;
}

/// Between the values at a share of the way; `sorted` holds at least one.
double at_share(const std::vector<double>& sorted, double share) {
    const double place = share * static_cast<double>(sorted.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, sorted.size() - 1);
    return sorted[below] + (place - static_cast<double>(below)) * (sorted[above] - sorted[below]);
}

Cents down_to(Cents amount, Cents step) {
    return step > 1 ? amount / step * step : amount;
}

/// A set as one would guess it: panels twice as long as wide, bound, a snap in each corner.
Takeoff rough_takeoff(double goods_mm2, int panels) {
    const double n = panels, area = 0.8 * goods_mm2 / n, round = 6 * std::sqrt(area / 2);
    const double used = goods_mm2 / kRollWidth_mm;
    Takeoff t;
    t.area_mm2 = n * area;
    t.materials = {{"goods", used, "mm", std::ceil(used / kStep_mm) * kStep_mm, "", "goods"},
                   {"binding", n * round, "mm", n * round, "", "binding"},
                   {"thread", 3.5 * n * round, "mm", 4 * n * round, "", "thread"},
                   {"snaps", 4 * n, "", 4 * n, "", "snap"}};
    t.work = {{"binding", n * round, "mm", 0, "", "bind"},
              {"corners to bind round", 4 * n, "", 0, "", "corner-bound"},
              {"snaps to find and set", 4 * n, "", 0, "", "snap-set"},
              {"pieces to mark and cut", n, "", 0, "", "piece"}};
    return t;
}

class Guesser {
  public:
    Guesser(Store& store, const Enquiry& enquiry) : store_(store), enquiry_(enquiry) {}

    Result<Ballpark> guess() {
        if (enquiry_.panels < 1 || enquiry_.panels > kMostPanels)
            return refused("panels-refused",
                           std::to_string(enquiry_.panels) + " panels are no set: 1 to " +
                               std::to_string(kMostPanels) + ".",
                           "Count the pieces that lift out.");
        const bool length_known = enquiry_.boat_length_mm > 0;
        if (length_known &&
            (enquiry_.boat_length_mm < kLeastBoat_mm || enquiry_.boat_length_mm > kLongestBoat_mm))
            return refused(
                "length-refused",
                "A boat of " + fixed(enquiry_.boat_length_mm / 1000, 1) + " m lies outside 2 to 60 m.",
                "Give her length over all.");
        Result<ShopPrices> prices = book_prices(store_, enquiry_.day);
        if (!prices) return {std::nullopt, std::move(prices.findings)};
        out_.currency = prices->book.currency;
        const Result<std::vector<double>> alike = reading(store_, [&](Database& database) {
            return asked_for_a_panel(database, enquiry_.kind, out_.currency.code);
        });
        if (!alike) return {std::nullopt, alike.findings};
        if (alike->size() >= kAlike)
            from_past(*alike, prices->book.round_to);
        else if (!length_known)
            return refused("length-refused",
                           "There are only " + std::to_string(alike->size()) +
                               " quotes of jobs alike, and the boat's length is not given.",
                           "Ask how long she is.");
        else if (auto findings = from_prices(*prices, alike->size()); !findings.empty())
            return {std::nullopt, std::move(findings)};
        out_.reasons.push_back(
            "What moves it: the goods chosen, holes and studs, how far away she lies, and whether the "
            "corners are square. The price follows the measuring.");
        return Result<Ballpark>::ok(std::move(out_));
    }

  private:
    static Result<Ballpark> refused(const char* code, std::string says, std::string to_do) {
        return Result<Ballpark>::refuse(stop(code, std::move(says), std::move(to_do)));
    }

    std::string money(double coins) const { return money_text(std::llround(coins), out_.currency); }

    void from_past(const std::vector<double>& each, Cents step) {
        const double low = at_share(each, 0.2), high = at_share(each, 0.8);
        out_.past_jobs = each.size();
        out_.low = down_to(std::llround(low * enquiry_.panels), step);
        out_.high = rounded_up(std::llround(high * enquiry_.panels), step);
        out_.reasons.push_back(
            "In " + count_of(each.size(), "quote", "quotes") +
            (enquiry_.kind.empty() ? " of the shop" : " of the shop for \"" + enquiry_.kind + "\"") +
            " a panel was asked at " + money(each.front()) + " to " + money(each.back()) +
            "; three in five lie between " + money(low) + " and " + money(high) + ".");
        out_.reasons.push_back("Times " +
                               count_of(static_cast<std::size_t>(enquiry_.panels), "panel", "panels") + ".");
    }

    std::vector<Finding> from_prices(const ShopPrices& prices, std::size_t alike) {
        const double boat = enquiry_.boat_length_mm / kSetBoat_mm;
        const double goods_mm2 = kSetGoods_mm2 * boat * boat;
        PriceBook book = prices.book;
        Cents dearest = -1;
        std::string name;
        for (const auto& [goods, steps] : prices.goods)
            if (!steps.empty() && steps.front().cents > dearest) {
                dearest = steps.front().cents;
                book.goods = steps;
                name = goods;
            }
        const auto priced = [&](double goods_share, double hours_share) {
            PriceBook with = book;
            for (auto& [code, time] : with.times) time.minutes *= hours_share;
            return make_quote(rough_takeoff(goods_mm2 * goods_share, enquiry_.panels), with, prices.trips,
                              false, {});
        };
        const Result<Quote> low = priced(1 - kSpread, 1 - kHoursSpread),
                            high = priced(1 + kSpread, 1 + kHoursSpread);
        for (const Result<Quote>* q : {&low, &high})
            if (has_stop(q->findings)) return q->findings;
        out_.low = down_to(low->net, book.round_to);
        out_.high = high->net;
        out_.reasons.push_back(
            "The shop has " +
            (alike ? "only " + count_of(alike, "quote", "quotes") : std::string("no quotes")) +
            " of jobs alike, so this rests on the price list" +
            (book.since.empty() ? "" : " of " + book.since) + ".");
        out_.reasons.push_back(
            "Goods: " + fixed(goods_mm2 / (304.8 * 304.8), 0) + " sq ft (" + fixed(goods_mm2 / 1e6, 1) +
            " m2) by her length, a rule of thumb that may be off by half either way; at the price of \"" +
            name + "\".");
        out_.reasons.push_back("Work: " + fixed(low->minutes / 60, 1) + " to " +
                               fixed(high->minutes / 60, 1) + " h for " +
                               count_of(static_cast<std::size_t>(enquiry_.panels), "panel", "panels") +
                               ", bound, a snap in each corner, with the visits and the way; the minutes "
                               "less and more by a quarter.");
        return {};
    }

    Store& store_;
    const Enquiry& enquiry_;
    Ballpark out_;
};

}  // namespace

Result<Ballpark> ballpark(Store& store, const Enquiry& enquiry) {
    return Guesser(store, enquiry).guess();
}

}  // namespace spile::shop
