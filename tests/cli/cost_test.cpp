// spile cost with prices: every line explained, sums that add up, other goods laid out anew.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

using nlohmann::json;

const std::string kPrices = SPILE_SOURCE_DIR "/examples/shop/prices.json";

json priced(const std::vector<std::string>& more) {
    const Scratch scratch;
    std::vector<std::string> arguments = {"cost", example("cockpit.json"), "--prices", kPrices, "--json"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    const Outcome outcome = run_spile(arguments, scratch.path());
    EXPECT_EQ(outcome.exit, 0) << outcome.err;
    return json::parse(outcome.out);
}

TEST(CostWithPrices, EveryLineOfTheExampleIsExplainedAndTheSumsAddUp) {
    const json document = priced({});
    ASSERT_EQ(document.at("priced").size(), 1u);
    const json& p = document["priced"][0];
    EXPECT_TRUE(p.at("priced"));
    std::int64_t material = 0, labour = 0, travel = 0;
    for (const json& line : p.at("lines")) {
        EXPECT_GT(line.at("because").get<std::string>().size(), 10u) << line.dump();
        const std::int64_t coins = line.at("cost").at("coins");
        (line["group"] == "material" ? material : line["group"] == "labour" ? labour : travel) += coins;
    }
    EXPECT_GT(material, 0);
    EXPECT_GT(labour, 0);
    EXPECT_GT(travel, 0);
    EXPECT_EQ(p.at("material").at("coins"), material);
    EXPECT_EQ(p.at("cost").at("coins"), material + labour + travel);
    EXPECT_EQ(p.at("net").at("coins").get<std::int64_t>(), p["price"]["coins"].get<std::int64_t>() +
                                                               p["rush"]["coins"].get<std::int64_t>() +
                                                               p["rounding"]["coins"].get<std::int64_t>());
    EXPECT_EQ(p.at("total").at("coins").get<std::int64_t>(),
              p["net"]["coins"].get<std::int64_t>() + p["tax"]["coins"].get<std::int64_t>());
    // material / 0.20: check-values.md, Money.
    EXPECT_EQ(p.at("by_old_rule").at("coins"), 5 * material);
    // Up to a whole 5.00, as the price list says.
    EXPECT_EQ(p["net"]["coins"].get<std::int64_t>() % 500, 0);
}

TEST(CostWithPrices, OtherGoodsAreLaidOutAnewAndARushCostsMore) {
    const json document = priced({"--instead", "woven vinyl, plain, foam back", "--rush"});
    ASSERT_EQ(document.at("priced").size(), 2u);
    const json &sand = document["priced"][0], &plain = document["priced"][1];
    EXPECT_EQ(plain.at("goods"), "woven vinyl, plain, foam back");
    EXPECT_GT(plain["used_mm"].get<double>(), 0);
    EXPECT_NE(plain["net"]["coins"], sand["net"]["coins"]);
    EXPECT_GT(sand.at("rush").at("coins"), 0);
    EXPECT_EQ(priced({})["priced"][0]["rush"]["coins"], 0);
}

TEST(CostWithPrices, GoodsTooNarrowForAPieceAreNoOption) {
    const Scratch scratch;
    std::string text = text_of(kPrices);
    text.replace(text.find("\"usable_width\": 71"), 18, "\"usable_width\": 53");
    const std::string narrow = scratch.file("narrow.json", text);
    const Outcome outcome = run_spile({"cost", example("cockpit.json"), "--prices", narrow, "--instead",
                                       "woven vinyl, plain, foam back", "--json"},
                                      scratch.path());
    EXPECT_EQ(outcome.exit, 1);
    EXPECT_EQ(json::parse(outcome.out)["priced"].size(), 1u);
    EXPECT_NE(outcome.err.find("wide across the direction"), std::string::npos) << outcome.err;
}

TEST(CostWithPrices, WhatIsMissingIsNamed) {
    const Scratch scratch;
    const std::string prices = scratch.file("prices.json", R"({"prices": 1, "labour_per_hour": "60"})");
    const Outcome outcome = run_spile({"cost", example("cockpit.json"), "--prices", prices}, scratch.path());
    EXPECT_EQ(outcome.exit, 1);
    EXPECT_NE(outcome.out.find("There is no price for the goods, woven vinyl, sand, foam back."),
              std::string::npos)
        << outcome.out;
    EXPECT_NE(outcome.out.find("no price"), std::string::npos);
    const Outcome unknown = run_spile(
        {"cost", example("cockpit.json"), "--prices", kPrices, "--instead", "silk"}, scratch.path());
    EXPECT_EQ(unknown.exit, 1);
    EXPECT_NE(unknown.out.find("no goods \"silk\""), std::string::npos) << unknown.out;
    const std::string wrong = scratch.file("wrong.json", R"({"prices": 1, "snap": "-1"})");
    EXPECT_EQ(run_spile({"cost", example("cockpit.json"), "--prices", wrong}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"cost", example("cockpit.json"), "--prices", "none.json"}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"cost", example("cockpit.json"), "--data", "nowhere"}, scratch.path()).exit, 2);
    EXPECT_EQ(
        run_spile({"cost", example("cockpit.json"), "--data", "b", "--prices", kPrices}, scratch.path()).exit,
        2);
}

}  // namespace
}  // namespace spile::cli_test
