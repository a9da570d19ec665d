// A price list read with every fault named, kept from a day on; minutes learnt from tickets.
#include "shop/prices.h"

#include <gmock/gmock.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "shop/hours.h"
#include "shop/price_lists.h"
#include "shop/quoting.h"
#include "tests/shop/book.h"

namespace spile::shop {
namespace {

using testing::HasSubstr;

std::string price_list(const std::string& since, const std::string& goods_price) {
    return R"({"prices": 1, "since": ")" + since + R"(", "goods": [{"name": "vinyl", "price": ")" +
           goods_price + R"(", "per": 36}]})";
}

TEST(Prices, TheExampleIsReadAsWritten) {
    const auto prices = read_prices(bytes_of(SPILE_SOURCE_DIR "/examples/shop/prices.json"));
    ASSERT_TRUE(prices) << prices.findings[0].says;
    const PriceBook book = prices->book_for("woven vinyl, sand, foam back");
    EXPECT_EQ(book.since, "2026-01-01");
    ASSERT_EQ(book.goods.size(), 2u);
    EXPECT_EQ(book.goods[0].cents, 3800);
    EXPECT_EQ(book.goods[0].per_um, 914'400);
    EXPECT_EQ(book.goods[1].cents, 3500);
    EXPECT_EQ(book.goods[1].from_um, 9'144'000);
    EXPECT_EQ(book.uplift.kind, UpliftKind::margin);
    EXPECT_EQ(book.uplift.share, 350'000);
    EXPECT_EQ(book.tax, 82'500);
    EXPECT_EQ(*book.labour_per_hour, 6500);
    EXPECT_EQ(prices->trips.visits, 2);
    EXPECT_TRUE(prices->book_for("silk").goods.empty());
    EXPECT_THAT(prices->goods_documents.at("woven vinyl, plain, foam back"), HasSubstr("71"));
    EXPECT_DOUBLE_EQ(prices->settings_for({}).spool_mm, 36'000 * 25.4);
}

TEST(Prices, StudsScrewsAndAdhesiveAreReadAndOldListsStillHold) {
    const auto prices = read_prices(
        R"({"prices": 1, "stud": "0.60", "screw": "0.08", "screws_per_stud": 3, "adhesive": "12.00",
        "goods": [{"name": "mesh", "price": "9.00", "per": 36}], "minutes": {"applied-sewn": 11}})");
    ASSERT_TRUE(prices) << prices.findings[0].says;
    const PriceBook book = prices->book_for("vinyl");
    EXPECT_EQ(*book.stud, 60);
    EXPECT_EQ(*book.screw, 8);
    EXPECT_EQ(*book.adhesive_per_m2, 1200);
    EXPECT_EQ(book.other_goods.at("mesh").at(0).cents, 900);
    EXPECT_EQ(book.times.at("applied-sewn").minutes, 11);
    EXPECT_EQ(prices->settings_for({}).screws_per_stud, 3);
    const auto old = read_prices(R"({"prices": 1, "snap": "0.45"})");
    ASSERT_TRUE(old);
    EXPECT_FALSE(old->book.stud);
    EXPECT_EQ(old->settings_for({}).screws_per_stud, 1);
}

TEST(Prices, EveryFaultIsNamed) {
    const auto wrong =
        read_prices(R"({"prices": 1, "snap": "-1", "margin": 20, "mark_up": 30, "colour": "red",
        "goods": [{"name": "x", "price": "1,50", "per": 36}, {"name": "x", "price": 1, "per": 1}, 7],
        "binding": {"price": "1", "per": 36, "cloth_width": 1, "strip": 0, "join": 90}, "valid_days": 0,
        "minutes": {"sing": 3}, "extras": [{"name": "pad"}, {"each": 1}], "trips": {"km": -1}, "units": "furlong"})");
    ASSERT_FALSE(wrong);
    std::string all;
    for (const Finding& f : wrong.findings) {
        all += f.says + "\n";
        EXPECT_FALSE(f.to_do.empty());
    }
    for (const char* said : {"\"snap\"", "\"mark_up\"", "\"colour\"", "\"x\" of the price list stands twice",
                             "\"cloth_width\"", "\"strip\"", "\"join\"", "\"valid_days\"", "\"sing\"",
                             "\"pad\"", "without a name", "\"km\"", "\"units\""})
        EXPECT_THAT(all, HasSubstr(said));
    for (const char* text : {"", "{", "[]", "3", "{}", R"({"prices": "one"})", R"({"prices": 2})",
                             R"({"prices": 1, "goods": {"a": 1}})", R"({"prices": 1, "extras": 3})",
                             R"({"prices": 1, "minutes": []})", R"({"prices": 1, "tax": []})",
                             R"({"prices": 1, "goods": [{"name": "a", "price": 1, "per": 1, "steps": 7}]})",
                             R"({"prices": 1, "extras": [{"name": "a", "each": 1, "per": 3}]})",
                             R"({"prices": 1, "snap": 1, "snap": 2})"})
        EXPECT_FALSE(read_prices(text)) << text;
    EXPECT_FALSE(read_prices(R"({"prices": 1, "x": )" + std::string(100'000, '[')));
}

TEST(PriceLists, HoldFromTheirDayAndStay) {
    Book book;
    ASSERT_TRUE(add_price_list(book.store, price_list("2026-01-01", "38.00"), "pat"));
    ASSERT_TRUE(add_price_list(book.store, price_list("2026-06-01", "41.00"), "pat"));
    EXPECT_EQ(code_of(add_price_list(book.store, price_list("2026-06-01", "40.00"), "pat")), "price-known");
    EXPECT_EQ(code_of(add_price_list(book.store, R"({"prices": 1})", "pat")), "date-refused");
    EXPECT_EQ(code_of(add_price_list(book.store, "{", "pat")), "not-json");
    EXPECT_EQ(code_of(price_list_on(book.store, "2025-12-31")), "prices-missing");
    EXPECT_THAT(*price_list_on(book.store, "2026-05-31"), HasSubstr("38.00"));
    EXPECT_THAT(*price_list_on(book.store, "2026-06-01"), HasSubstr("41.00"));
    EXPECT_EQ(list_price_lists(book.store)->front().since, "2026-06-01");
    EXPECT_NE(raw_code(book.path, "UPDATE price_list SET by='x'"), 0);
    EXPECT_NE(raw_code(book.path, "DELETE FROM price_list"), 0);
}

// Minutes are known here, tickets scatter about them; one was written for another job altogether.
TEST(Hours, AreLearntFromTicketsAndTheOddOneIsNamed) {
    const std::map<std::string, double> truth = {
        {"bind", 8}, {"piece", 30}, {"fit", 10}, {"visit", 25}, {"space", 45}};
    std::mt19937 random(5);
    std::normal_distribution<double> scatter(0, 12);
    std::vector<TicketWork> tickets;
    for (int i = 1; i <= 80; ++i) {
        TicketWork ticket{i, "job " + std::to_string(i), {}, 0};
        const auto upto = [&](unsigned n) { return static_cast<double>(random() % n); };
        ticket.counts = {{"bind", 5 + upto(25)},
                         {"piece", 1 + upto(9)},
                         {"fit", 1 + upto(9)},
                         {"visit", 1 + upto(3)},
                         {"space", 1 + upto(2)}};
        for (const auto& [code, count] : ticket.counts) ticket.minutes += truth.at(code) * count;
        ticket.minutes += scatter(random);
        tickets.push_back(ticket);
    }
    tickets[40].minutes *= 4;
    const Hours hours = learn_hours(guessed_times(), tickets);
    for (const auto& [code, minutes] : truth) {
        const WorkTime& time = hours.times.at(code);
        EXPECT_NEAR(time.minutes, minutes, 4 * time.sd_minutes) << code;
        EXPECT_LT(time.sd_minutes, 0.25 * minutes) << code;
        EXPECT_EQ(time.jobs, 80) << code;
    }
    EXPECT_EQ(hours.times.at("turn").minutes, guessed_times().at("turn").minutes);
    EXPECT_EQ(hours.times.at("turn").jobs, 0);
    ASSERT_EQ(hours.odd.size(), 1u);
    EXPECT_EQ(hours.odd[0].job, 41);
    // The order in which they were written does not matter.
    std::reverse(tickets.begin(), tickets.end());
    EXPECT_EQ(learn_hours(guessed_times(), tickets).times.at("bind").minutes, hours.times.at("bind").minutes);
    // No tickets: the guesses.
    EXPECT_EQ(learn_hours(guessed_times(), {}).times.at("bind").jobs, 0);
}

TEST(Hours, TicketsAreWrittenOnceForAJob) {
    Book book;
    const Id job = add_job(book.store, new_job(document("sole")))->id;
    EXPECT_EQ(code_of(save_ticket(book.store, 99, {}, 10, "pat")), "not-there");
    for (double wrong : {0.0, -1.0, 1e9, std::nan("")})
        EXPECT_EQ(code_of(save_ticket(book.store, job, {}, wrong, "pat")), "minutes-refused");
    ASSERT_TRUE(save_ticket(book.store, job, {{"piece", 3}, {"visit", 2}}, 300, "pat"));
    ASSERT_TRUE(save_ticket(book.store, job, {{"piece", 4}, {"visit", 2}}, 340, "pat"));  // instead
    const auto tickets = list_tickets(book.store);
    ASSERT_EQ(tickets->size(), 1u);
    EXPECT_EQ(tickets->front().counts.at("piece"), 4);
    EXPECT_EQ(learn_hours(guessed_times(), *tickets).times.at("piece").jobs, 1);
}

// One answer for the quote, the ticket and the list of hours.
TEST(Hours, OfTheBookAreThoseOfItsTicketsThenOfItsPricesThenOurs) {
    Book book;
    const std::string day = "2026-02-01";
    EXPECT_EQ(book_hours(book.store, day)->times.at("bind").minutes, guessed_times().at("bind").minutes);
    ASSERT_TRUE(add_price_list(
        book.store, R"({"prices": 1, "since": "2026-01-01", "minutes": {"bind": 9, "piece": 30}})", "pat"));
    EXPECT_EQ(book_hours(book.store, day)->times.at("bind").minutes, 9);
    EXPECT_EQ(book_hours(book.store, "2025-12-31")->times.at("bind").minutes,
              guessed_times().at("bind").minutes);
    const Id job = add_job(book.store, new_job(document("sole")))->id;
    ASSERT_TRUE(save_ticket(book.store, job, {{"bind", 20}}, 240, "pat"));
    const WorkTime bind = book_hours(book.store, day)->times.at("bind");
    EXPECT_EQ(bind.jobs, 1);
    EXPECT_GT(bind.minutes, 9);
    EXPECT_LT(bind.minutes, 12);
    EXPECT_EQ(book_prices(book.store, day)->book.times.at("bind").minutes, bind.minutes);
    EXPECT_EQ(code_of(book_hours(book.store, "yesterday")), "date-refused");
}

}  // namespace
}  // namespace spile::shop
