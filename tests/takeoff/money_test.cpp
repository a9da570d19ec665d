// Money, bias and quotes against values from outside.
#include "core/takeoff/money.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/takeoff/bias.h"
#include "core/takeoff/quote.h"

namespace spile {
namespace {

using testing::HasSubstr;

constexpr double kInch = 25.4;
const Currency kDollar{"USD", 2};

TEST(Money, RoundsTheHalfAwayFromZeroExactly) {
    EXPECT_EQ(rounded_share(5, 1, 2), 3);
    EXPECT_EQ(rounded_share(-5, 1, 2), -3);
    EXPECT_EQ(rounded_share(7, 1, 3), 2);
    EXPECT_EQ(rounded_share(8, 1, 3), 3);
    EXPECT_EQ(rounded_share(1, 1, 3), 0);
    // 1.005 in doubles is less than a half and would go down.
    EXPECT_EQ(rounded_share(100, 1005, 1000), 101);
    // Beyond 64 bits inside, exact all the same.
    EXPECT_EQ(rounded_share(kLargestPrice, 999'999, 1'000'000), 999'999'000'000);
    EXPECT_EQ(rounded_up(10'001, 500), 10'500);
    EXPECT_EQ(rounded_up(10'000, 500), 10'000);
    EXPECT_EQ(rounded_up(10'001, 0), 10'001);
}

TEST(Money, MarkUpAndMarginAreTwoThings) {
    // 45 % mark-up = 31.03 % margin (check-values.md, Money; 45/145).
    const Cents price = price_from_cost(10'000, {UpliftKind::mark_up, 450'000});
    EXPECT_EQ(price, 14'500);
    EXPECT_EQ(margin_of(10'000, price), 310'345);
    EXPECT_EQ(mark_up_of(10'000, price), 450'000);
    EXPECT_EQ(price_from_cost(10'000, {UpliftKind::margin, 310'345}), 14'500);
    EXPECT_EQ(price_from_cost(10'000, {UpliftKind::margin, 450'000}), 18'182);  // 10000 / 0.55
    EXPECT_EQ(margin_of(0, 0), 0);
}

TEST(Money, ReadsWhatIsWrittenAndNothingElse) {
    EXPECT_EQ(*parse_money("12.50", kDollar), 1250);
    EXPECT_EQ(*parse_money("12.5", kDollar), 1250);
    EXPECT_EQ(*parse_money("12", kDollar), 1200);
    EXPECT_EQ(*parse_money("0.07", kDollar), 7);
    EXPECT_EQ(*parse_money("12.500", kDollar), 1250);
    EXPECT_EQ(*parse_money("350", {"JPY", 0}), 350);
    EXPECT_EQ(*parse_money("1.234", {"KWD", 3}), 1234);
    for (const char* wrong : {"", ".", "-1", "1,50", "1.505", "1.5.0", "abc", "1e3", " 1", "10000000000.01",
                              "99999999999999999999999999"}) {
        const Result<Cents> read = parse_money(wrong, kDollar);
        ASSERT_FALSE(read) << wrong;
        EXPECT_EQ(read.findings[0].code, "money-refused");
    }
    EXPECT_FALSE(parse_money("1.5", {"JPY", 0}));
    EXPECT_EQ(money_text(250'000, kDollar), "2500.00 USD");
    EXPECT_EQ(money_text(-7, kDollar), "-0.07 USD");
    EXPECT_EQ(money_text(350, {"JPY", 0}), "350 JPY");
    EXPECT_EQ(*parse_percent("8.25 %", 100), 82'500);
    EXPECT_EQ(percent_text(82'500), "8.25 %");
    EXPECT_EQ(percent_text(310'345), "31.0345 %");
    EXPECT_FALSE(parse_percent("101", 100));
    EXPECT_FALSE(parse_percent("-1", 100));
    EXPECT_FALSE(parse_percent("8.12345", 100));
}

// check-values.md, Sewing: bias strip yield L = s^2 / w and its worked values.
TEST(Bias, SquaresAndJoins) {
    EXPECT_DOUBLE_EQ(bias_from_square_mm(20 * kInch, 2 * kInch), 200 * kInch);
    EXPECT_NEAR(square_for_bias_mm(250 * kInch, 2 * kInch, 0), 22.36 * kInch, 0.005 * kInch);
    EXPECT_DOUBLE_EQ(square_for_bias_mm(250 * kInch, 2 * kInch, kInch), 23 * kInch);
    EXPECT_NEAR(square_for_bias_mm(450 * kInch, 2.25 * kInch, 0), 31.82 * kInch, 0.005 * kInch);
    EXPECT_DOUBLE_EQ(square_for_bias_mm(450 * kInch, 2.25 * kInch, kInch), 32 * kInch);
    EXPECT_DOUBLE_EQ(square_for_bias_mm(200 * kInch, 2 * kInch, kInch), 20 * kInch);  // an exact inch stays
    EXPECT_NEAR(bias_join_mm(0.25 * kInch), 0.707 * kInch, 0.0005 * kInch);
}

// Counted out by joining strip after strip, which knows no formula.
TEST(Bias, StripsFromClothAreEnoughAndNoneTooMany) {
    for (int length = 1; length < 40'000; length += 173) {
        const BiasFromCloth made = bias_from_cloth(length, 1400, 50.8, 6.35);
        double have = made.strip_length_mm;
        int strips = 1;
        while (have < length - 0.002) {
            have += made.strip_length_mm - bias_join_mm(6.35);
            ++strips;
        }
        EXPECT_EQ(made.strips, strips) << length;
        EXPECT_EQ(made.joins, strips - 1);
        EXPECT_NEAR(made.cloth_length_mm, 1400 + strips * 50.8 * std::sqrt(2.0), 1e-9);
    }
    EXPECT_EQ(bias_from_cloth(0, 1400, 50.8, 6.35).strips, 0);
}

/// One piece bound all round, two snaps.
Takeoff small_takeoff() {
    Takeoff t;
    t.materials = {{"woven vinyl", 1500, "mm", 1828.8, "By the layout.", "goods"},
                   {"binding", 3000, "mm", 3657.6, "One run.", "binding"},
                   {"thread", 9000, "mm", 10000, "One seam.", "thread"},
                   {"snaps (socket and cap)", 2, "", 2, "Two studs.", "snap"}};
    t.work = {{"binding", 2500, "mm", 0, "One piece.", "bind"},
              {"snaps to find and set", 2, "", 0, "Two.", "snap-set"},
              {"pieces to mark and cut", 1, "", 0, "One.", "piece"}};
    t.stitches = 7200;
    t.area_mm2 = 2e6;
    return t;
}

PriceBook prices() {
    PriceBook book;
    book.currency = kDollar;
    book.goods = {{3800, 914'400, 0}, {3500, 914'400, 9'144'000}};
    book.binding = {110, 914'400, 0};
    book.thread = {1400, 1'000'000'000, 0};
    book.tape = {500, 10'000'000, 0};
    book.snap = 45;
    book.labour_per_hour = 6500;
    book.travel_per_km = 70;
    book.uplift = {UpliftKind::margin, 350'000};
    book.tax = 82'500;
    book.deposit = 500'000;
    book.rush = 200'000;
    book.round_to = 500;
    return book;
}

TEST(Quote, AddsUpAsOnPaper) {
    const Trips trips{2, 40, 45, 1};
    const Result<Quote> quote = make_quote(small_takeoff(), prices(), trips, true, {});
    ASSERT_TRUE(quote);
    ASSERT_TRUE(quote->priced) << quote.findings[0].says;
    // By hand: goods 2 yd 76.00; binding 4 yd 4.40; thread 10 of 1000 m at 14.00: 0.14; snaps 0.90.
    EXPECT_EQ(quote->material, 7600 + 440 + 14 + 90);
    // Minutes by hand from the guesses: visits 2 x 20, space 60, binding 2.5 m x 6, snaps 2 x 4, piece 20, fitting 6,
    // travelling 4 x 45: 329 min at 65.00 an hour, each line rounded: 43.33 65.00 16.25 8.67 21.67 6.50 195.00.
    EXPECT_DOUBLE_EQ(quote->minutes, 329);
    EXPECT_EQ(quote->labour, 4333 + 6500 + 1625 + 867 + 2167 + 650 + 19500);
    EXPECT_EQ(quote->travel, 160 * 70);
    EXPECT_EQ(quote->cost, 8144 + 35642 + 11200);
    EXPECT_EQ(quote->price, 84594);  // 54986 / 0.65 = 84593.8
    EXPECT_EQ(quote->rush, 16919);   // 20 %: 16918.8
    EXPECT_EQ(quote->net, 102'000);  // 101513 up to a whole 5.00
    EXPECT_EQ(quote->rounding, 487);
    EXPECT_EQ(quote->tax, 8415);
    EXPECT_EQ(quote->total, 110'415);
    EXPECT_EQ(quote->deposit, 55'208);  // half, 55207.5 up
    EXPECT_EQ(quote->by_old_rule, 8144 * 5);
    // 6 x 240 / 1200 = 1.2 min (check-values.md, Sewing), here 7200 stitches.
    EXPECT_DOUBLE_EQ(quote->machine_minutes, 6);
    EXPECT_EQ(quote->guesses, 6);
    for (const CostLine& line : quote->lines) EXPECT_FALSE(line.because.empty()) << line.what;
    EXPECT_THAT(quote->steps, testing::Contains(HasSubstr("over 65 % (a margin of 35 %)")));
}

TEST(Quote, TheOldRuleTurnsFiveHundredIntoTwoThousandFiveHundred) {
    // check-values.md, Money.
    Takeoff t;
    t.materials = {{"woven vinyl", 1000, "mm", 1000, "", "goods"}};
    PriceBook book = prices();
    book.goods = {{50'000, 1'000'000, 0}};
    const Result<Quote> quote = make_quote(t, book, {0, 0, 0, 0}, false, {});
    EXPECT_EQ(quote->material, 50'000);
    EXPECT_EQ(quote->by_old_rule, 250'000);
}

TEST(Quote, APriceStepHoldsForTheWholeLength) {
    Takeoff t;
    t.materials = {{"woven vinyl", 9144, "mm", 9144, "", "goods"}};
    EXPECT_EQ(make_quote(t, prices(), {0, 0, 0, 0}, false, {})->material, 35'000);
    t.materials[0].to_buy = 9143;
    EXPECT_EQ(make_quote(t, prices(), {0, 0, 0, 0}, false, {})->material, 37'996);  // 9143 / 914.4 x 38.00
}

TEST(Quote, WhatHasNoPriceIsNamedAndNothingIsAddedUp) {
    PriceBook book = prices();
    book.goods.clear();
    book.snap = -3;
    book.labour_per_hour.reset();
    const Result<Quote> quote = make_quote(small_takeoff(), book, {2, 40, 45, 1}, false, {});
    ASSERT_TRUE(quote);
    EXPECT_FALSE(quote->priced);
    EXPECT_EQ(quote->total, 0);
    std::vector<std::string> says;
    for (const Finding& f : quote.findings) says.push_back(f.says);
    EXPECT_EQ(says, (std::vector<std::string>{"There is no price for the goods, woven vinyl.",
                                              "The price of snaps (socket and cap) is below zero: -0.03 USD.",
                                              "There is no price for an hour of work."}));
    book = prices();
    book.uplift = {UpliftKind::margin, kWhole};
    EXPECT_EQ(make_quote(small_takeoff(), book, {}, false, {}).findings[0].code, "margin-refused");
}

TEST(Quote, ASlipOfTheKeysIsNamedAndNothingOverflows) {
    PriceBook book = prices();
    book.goods = {{kLargestPrice, 1, 0}};  // for a micrometre
    const Result<Quote> quote = make_quote(small_takeoff(), book, {2, 40, 45, 1}, false, {});
    ASSERT_TRUE(quote);
    EXPECT_FALSE(quote->priced);
    EXPECT_EQ(quote.findings.front().code, "price-too-large");
    EXPECT_THAT(quote.findings.front().says, HasSubstr("woven vinyl is more than 10000000000.00 USD"));
    // Each line can be counted, their sum cannot.
    book = prices();
    book.extras.assign(3, {"gilding", kLargestPrice / 2, Extra::Per::job, 1});
    const Result<Quote> sum = make_quote(small_takeoff(), book, {0, 0, 0, 0}, false, {});
    EXPECT_EQ(sum.findings.front().code, "price-too-large");
    EXPECT_FALSE(sum->priced);
    // The largest that is counted, with all that can be put on it.
    book.extras.assign(1, {"gilding", kLargestPrice - 100'000'000, Extra::Per::job, 1});
    book.uplift = {UpliftKind::margin, kWhole - 1};
    book.rush = 3 * kWhole;
    book.tax = kWhole;
    EXPECT_TRUE(make_quote(small_takeoff(), book, {0, 0, 0, 0}, true, {})->priced);
}

TEST(Quote, SaysWhenMoreGoodsWouldCostLess) {
    Takeoff t;
    t.materials = {{"woven vinyl", 9143, "mm", 9143, "", "goods"}};
    const Result<Quote> quote = make_quote(t, prices(), {0, 0, 0, 0}, false, {});
    EXPECT_THAT(quote->lines.front().because, HasSubstr("10 yd would cost less: 350.00 USD."));
    t.materials[0].to_buy = 1828.8;
    EXPECT_THAT(make_quote(t, prices(), {0, 0, 0, 0}, false, {})->lines.front().because,
                testing::Not(HasSubstr("cost less")));
}

TEST(Quote, GoodsOfAppliedPiecesStudsScrewsAndAdhesiveHaveTheirOwnPrices) {
    Takeoff t = small_takeoff();
    t.materials.push_back({"mesh", 508, "mm", 508, "1a.", "other-goods"});
    t.materials.push_back({"adhesive", 23'225.76, "mm2", 23'225.76, "Under 1a.", "adhesive"});
    t.materials.push_back({"studs", 2, "", 2, "Two.", "stud"});
    t.materials.push_back({"screws", 6, "", 6, "Six.", "screw"});
    PriceBook book = prices();
    // Without their prices: the goods and the adhesive stop, studs and screws are taken as an extra and say so.
    Result<Quote> quote = make_quote(t, book, {0, 0, 0, 0}, false, {});
    EXPECT_FALSE(quote->priced);
    std::string says;
    for (const Finding& f : quote.findings) says += f.says;
    EXPECT_THAT(says, HasSubstr("the goods, mesh"));
    EXPECT_THAT(says, HasSubstr("adhesive"));
    EXPECT_THAT(says, testing::Not(HasSubstr("stud")));
    book.other_goods["mesh"] = {{1200, 914'400, 0}};
    book.adhesive_per_m2 = 2000;
    quote = make_quote(t, book, {0, 0, 0, 0}, false, {});
    ASSERT_TRUE(quote->priced);
    // By hand: 508 mm of 914.4 at 12.00 is 6.67; 0.0232 square metre at 20.00 is 0.46.
    EXPECT_EQ(quote->material, 8144 + 667 + 46);
    EXPECT_THAT(quote->lines[6].because, HasSubstr("part of the snaps, or an extra"));
    book.stud = 60;
    book.screw = 8;
    quote = make_quote(t, book, {0, 0, 0, 0}, false, {});
    EXPECT_EQ(quote->material, 8144 + 667 + 46 + 2 * 60 + 6 * 8);
}

TEST(Quote, ExtrasAreCountedByWhatTheyGoWith) {
    PriceBook book = prices();
    book.extras = {{"studs", 60, Extra::Per::snap, 1},
                   {"non-slip", 900, Extra::Per::square_metre, 1},
                   {"heel pad", 1500, Extra::Per::job, 2},
                   {"screws", 5, Extra::Per::piece, 4}};
    const Result<Quote> quote = make_quote(small_takeoff(), book, {0, 0, 0, 0}, false, {});
    ASSERT_TRUE(quote->priced);
    EXPECT_EQ(quote->material, 8144 + 120 + 1800 + 3000 + 20);
}

}  // namespace
}  // namespace spile
