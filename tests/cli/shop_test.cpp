// spile shop: a person's day with the book, what is refused, and that nothing is done by halves.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

using nlohmann::json;
using testing::HasSubstr;

/// A book in a folder of its own.
class Desk {
  public:
    Outcome run(std::vector<std::string> words) const {
        words.insert(words.begin(), {"shop", "--data", "book", "--today", "2026-03-02", "--by", "pat"});
        return run_spile(words, scratch.path());
    }
    json ask(std::vector<std::string> words) const {
        words.push_back("--json");
        const Outcome outcome = run(words);
        EXPECT_EQ(outcome.exit, 0) << words[0] << ' ' << words[1] << '\n' << outcome.err << outcome.out;
        return json::parse(outcome.out, nullptr, false);
    }
    std::string refused(std::vector<std::string> words, int exit = 1) const {
        words.push_back("--json");
        const Outcome outcome = run(words);
        EXPECT_EQ(outcome.exit, exit) << words[0] << '\n' << outcome.err << outcome.out;
        const json said = json::parse(outcome.out, nullptr, false);
        return said.is_object() && said.contains("findings") ? said["findings"][0]["code"].get<std::string>()
                                                             : "none";
    }

    Scratch scratch;
};

const std::string kPrices = SPILE_SOURCE_DIR "/examples/shop/prices.json";

TEST(Shop, AJobFromTheEnquiryToPaid) {
    const Desk desk;
    const std::string job = example("cockpit.json");
    EXPECT_EQ(desk.ask({"prices", "add", kPrices})["since"], "2026-01-01");
    EXPECT_EQ(desk.ask({"customer", "add", "J. Miller", "--phone", "12 34"})["id"], 1);
    EXPECT_EQ(desk.ask({"boat", "add", "--customer", "1", "--model", "open launch", "--year", "1998"})["id"],
              1);
    EXPECT_EQ(
        desk.ask({"job", "add", job, "--customer", "1", "--boat", "1", "--promised", "2026-05-01"})["state"],
        "enquiry");
    EXPECT_EQ(desk.ask({"goods", "add", "--from", job})["name"], "woven vinyl, sand, foam back");
    EXPECT_EQ(desk.ask({"roll", "receive", "1", "30 ft", "--lot", "L1"})["left_mm"], 9144.0);

    const json asked = desk.ask({"quote", "1"});
    EXPECT_EQ(asked["sent"], false);
    EXPECT_EQ(desk.ask({"job", "show", "1"})["state"], "enquiry") << "a look changes nothing";
    const json quote = desk.ask({"quote", "1", "--send", "--to", "quote.pdf"});
    EXPECT_EQ(quote["paper"]["number"], "Q-0001");
    EXPECT_EQ(quote["paper"]["total"], asked["priced"][0]["total"]);
    EXPECT_EQ(quote["paper"]["valid_until"], "2026-04-01");  // thirty days after 2 March
    EXPECT_EQ(text_of(desk.scratch / "quote.pdf").substr(0, 5), "%PDF-");
    EXPECT_EQ(desk.ask({"job", "show", "1"})["state"], "quoted");
    EXPECT_EQ(desk.ask({"job", "state", "1", "ordered"})["state"], "ordered");
    EXPECT_EQ(desk.ask({"pay", "1", "100.00", "--note", "deposit"})["account"]["paid"]["coins"], 10000);
    EXPECT_EQ(desk.ask({"order", "1", "--send"})["paper"]["number"], "O-0001");

    const json cut = desk.ask({"cut", "1", "--roll", "1"});
    const double used = cut["layouts"][0]["used_mm"];
    EXPECT_NEAR(desk.ask({"roll", "show", "1"})["left_mm"].get<double>(), 9144.0 - used, 1e-6);
    EXPECT_EQ(desk.refused({"cut", "1", "--roll", "1"}), "layout-stands");
    desk.ask({"job", "state", "1", "in work"});
    desk.ask({"ticket", "1", "540"});
    EXPECT_THAT(desk.run({"hours"}).out, HasSubstr("from 1 ticket"));
    EXPECT_EQ(desk.ask({"job", "fitted", "1"})["as_fitted_rev"], 3);
    desk.ask({"job", "state", "1", "fitted"});
    const json invoice = desk.ask({"invoice", "1", "--send"});
    EXPECT_EQ(invoice["paper"]["total"], quote["paper"]["total"]);
    EXPECT_EQ(desk.refused({"job", "state", "1", "paid"}), "not-paid-yet");
    const std::int64_t owed = invoice["paper"]["total"]["coins"].get<std::int64_t>() - 10000;
    const std::string cents = std::to_string(owed % 100);
    desk.ask({"pay", "1", std::to_string(owed / 100) + "." + (cents.size() < 2 ? "0" : "") + cents});
    EXPECT_EQ(desk.ask({"job", "state", "1", "paid"})["state"], "paid");
    desk.ask({"care", "1", "--send"});
    EXPECT_EQ(desk.ask({"paper", "list"})["papers"].size(), 4u);
    EXPECT_EQ(desk.refused({"invoice", "1", "--send"}), "invoice-known");

    EXPECT_THAT(desk.run({"check"}).out, HasSubstr("the sum of its movements"));
    desk.ask({"backup", "backup.spile"});
    EXPECT_EQ(desk.refused({"restore", "backup.spile"}), "file-there");
    desk.ask({"export", "open"});
    const Outcome other = run_spile({"shop", "import", "open", "--data", "again"}, desk.scratch.path());
    EXPECT_EQ(other.exit, 0) << other.err;
    const Outcome again = run_spile({"shop", "export", "open-again", "--data", "again"}, desk.scratch.path());
    EXPECT_EQ(again.exit, 0) << again.err;
    EXPECT_EQ(text_of(desk.scratch / "open/tables.json"), text_of(desk.scratch / "open-again/tables.json"));
}

TEST(Shop, WhatIsLeftGoesToTheRackAndIsOfferedToTheNextJob) {
    const Desk desk;
    const std::string small = desk.scratch.file("small.json", mat_job("24 x 20, turned"));
    desk.ask({"job", "add", small});
    desk.ask({"job", "add", small});
    desk.ask({"goods", "add", "--from", small});
    desk.ask({"goods", "add", "carpet", "--width", "2 m", "--step", "50 mm"});
    desk.ask({"roll", "receive", "1", "10 ft", "--lot", "L7"});
    desk.ask({"roll", "receive", "2", "10 ft", "--lot", "L1"});
    EXPECT_EQ(desk.refused({"cut", "1", "--roll", "2"}), "goods-differ");
    EXPECT_TRUE(desk.ask({"offcut", "fits", "2"})["offcuts"].empty());
    const json left = desk.ask({"cut", "1", "--roll", "1"})["offcuts"];
    ASSERT_EQ(left.size(), 1u);
    EXPECT_EQ(left[0]["lot"], "L7");
    // Of 71 1/2 in usable, 26 or 22 in are cut, with 1/4 in of room to the selvedge and to the offcut.
    EXPECT_GT(left[0]["width_mm"], 40 * 25.4);
    const json fits = desk.ask({"offcut", "fits", "2"})["offcuts"];
    ASSERT_EQ(fits.size(), 1u);
    const json choices = desk.ask({"choose", "2"})["choices"];
    ASSERT_EQ(choices.size(), 3u);
    EXPECT_EQ(choices[0]["offcut"], fits[0]["id"]);
    EXPECT_EQ(choices[1]["from"], "roll");
    EXPECT_EQ(choices[2]["from"], "to buy");
    EXPECT_EQ(desk.refused({"cut", "2", "--best", "--roll", "1"}), "stock-missing");
    desk.ask({"cut", "2", "--best"});
    EXPECT_EQ(desk.ask({"offcut", "show", "1"})["state"], "cut");
    // What is left of it is an offcut in its turn, smaller and of the same lot.
    const json rest = desk.ask({"offcut", "find"})["offcuts"];
    ASSERT_EQ(rest.size(), 1u);
    EXPECT_EQ(rest[0]["lot"], "L7");
    EXPECT_EQ(rest[0]["from_job"], 2);
    EXPECT_LT(rest[0]["area_mm2"], left[0]["area_mm2"]);
    EXPECT_EQ(desk.refused({"cut", "2", "--offcut", "1", "--again"}), "offcut-not-there");
    // The second is taken back, then the first: the roll is as long as it came.
    EXPECT_EQ(desk.refused({"uncut", "1-1"}), "offcut-used");
    desk.ask({"uncut", "2-1"});
    desk.ask({"uncut", "1-1"});
    EXPECT_EQ(desk.ask({"roll", "show", "1"})["left_mm"], 3048.0);
    desk.ask({"stock", "check"});
}

TEST(Shop, ASisterBoatIsNotCutBeforeHerCheckSizesAgree) {
    const Desk desk;
    const std::string job = example("cockpit.json");
    desk.ask({"job", "add", job});
    EXPECT_EQ(desk.refused({"repeat", "start", "1"}), "not-fitted");
    desk.ask({"job", "state", "1", "in work"});
    desk.ask({"job", "fitted", "1"});
    desk.ask({"goods", "add", "--from", job});
    desk.ask({"roll", "receive", "1", "10 m", "--lot", "L1"});
    EXPECT_EQ(desk.ask({"repeat", "find", "launch"})["jobs"].size(), 1u);
    const json sister = desk.ask({"repeat", "start", "1", "--sister", "--goods", "1"});
    EXPECT_EQ(sister["unchecked"], true);
    EXPECT_EQ(sister["repeat_of"], 1);
    EXPECT_EQ(desk.refused({"cut", "2", "--roll", "1"}), "job-unchecked");
    const json sizes = desk.ask({"repeat", "sizes", "2"})["sizes"];
    ASSERT_EQ(sizes.size(), 4u);
    std::vector<std::string> as_taped = {"repeat", "check", "2"};
    for (const json& size : sizes) {
        EXPECT_GT(size["limit_mm"], 1.0);
        EXPECT_LT(size["limit_mm"], 10.0);
        as_taped.push_back(size["from"].get<std::string>() + " " + size["to"].get<std::string>() + " " +
                           std::to_string(std::llround(size["expected_mm"].get<double>())) + " mm");
    }
    // One left out: still unchecked. One an inch long: still unchecked, and it is named.
    const std::string last = as_taped.back();
    as_taped.pop_back();
    EXPECT_EQ(desk.ask(as_taped)["job"]["unchecked"], true);
    as_taped.push_back(sizes[3]["from"].get<std::string>() + " " + sizes[3]["to"].get<std::string>() + " " +
                       std::to_string(std::llround(sizes[3]["expected_mm"].get<double>() + 25.4)) + " mm");
    const Outcome long_one = desk.run(as_taped);
    EXPECT_EQ(long_one.exit, 0);
    EXPECT_THAT(long_one.err, HasSubstr("Tape it again"));
    EXPECT_EQ(desk.refused({"cut", "2", "--roll", "1"}), "job-unchecked");
    as_taped.back() = last;
    EXPECT_EQ(desk.ask(as_taped)["job"]["unchecked"], false);
    EXPECT_FALSE(desk.ask({"cut", "2", "--roll", "1"})["layouts"].empty());
    EXPECT_EQ(desk.refused({"repeat", "check", "2", "A Z 12"}), "no-check-size");
}

TEST(Shop, ARangeByTelephoneHasItsReasons) {
    const Desk desk;
    desk.ask({"prices", "add", kPrices});
    EXPECT_EQ(desk.refused({"ballpark", "--panels", "5"}), "length-refused");
    EXPECT_EQ(desk.refused({"ballpark", "--panels", "0", "--length", "24 ft"}), "panels-refused");
    const json range = desk.ask({"ballpark", "--panels", "5", "--length", "24 ft", "--kind", "cockpit"});
    EXPECT_GT(range["low"]["coins"], 0);
    EXPECT_GT(range["high"]["coins"], range["low"]["coins"]);
    EXPECT_EQ(range["past_jobs"], 0);
    EXPECT_GE(range["reasons"].size(), 3u);
    for (int i = 1; i <= 5; ++i) {
        desk.ask({"job", "add", example("cockpit.json")});
        desk.ask({"quote", std::to_string(i), "--send"});
    }
    const json known = desk.ask({"ballpark", "--panels", "6", "--kind", "cockpit"});
    EXPECT_EQ(known["past_jobs"], 5);
    // Six panels as the example has them: her own price lies within.
    const std::int64_t net = desk.ask({"paper", "show", "Q-0001"})["net"]["coins"];
    EXPECT_LE(known["low"]["coins"], net);
    EXPECT_GE(known["high"]["coins"], net);
}

TEST(Shop, TwoWhoChangeOneJobAndWhatEachDid) {
    const Desk desk;
    const std::string job = example("cockpit.json");
    desk.ask({"job", "add", job});
    const std::string text = desk.run({"job", "print", "1"}).out;
    std::string renamed = text;
    renamed.replace(renamed.find("Cockpit sole"), 12, "Cockpit mats");
    const std::string file = desk.scratch.file("changed.json", renamed);
    EXPECT_EQ(desk.ask({"job", "save", "1", file, "--on", "1"})["rev"], 2);
    EXPECT_EQ(desk.refused({"job", "save", "1", file, "--on", "1"}), "job-changed-since");
    const std::string late = desk.run({"job", "save", "1", job, "--on", "1"}).err;
    EXPECT_THAT(late, HasSubstr("Meanwhile: ")) << "both are shown";
    EXPECT_THAT(late, HasSubstr("Cockpit mats"));
    const json changes = desk.ask({"job", "compare", "1", "1", "2"})["changes"];
    ASSERT_EQ(changes.size(), 1u) << changes.dump();
    EXPECT_EQ(changes[0]["was"], "Cockpit sole");
    EXPECT_EQ(changes[0]["became"], "Cockpit mats");
    desk.ask({"job", "restore", "1", "1"});
    EXPECT_EQ(desk.run({"job", "print", "1"}).out, text);
    EXPECT_EQ(desk.ask({"job", "history", "1"})["revisions"].size(), 3u);
}

TEST(Shop, WhatIsNotUnderstoodSaysHowItGoes) {
    const Desk desk;
    desk.ask({"customer", "add", "J. Miller"});
    EXPECT_THAT(desk.run({}).out, HasSubstr("spile shop COMMAND"));
    EXPECT_THAT(run_spile({"shop", "job", "--help"}, desk.scratch.path()).out,
                HasSubstr("job state JOB STATE"));
    const std::vector<std::vector<std::string>> wrong = {{"bake"},
                                                         {"job"},
                                                         {"job", "show"},
                                                         {"job", "show", "one"},
                                                         {"job", "show", "1", "2"},
                                                         {"job", "show", "-1"},
                                                         {"job", "find", "--state", "asleep"},
                                                         {"job", "find", "--limit"},
                                                         {"job", "find", "--limit", "3", "--limit", "4"},
                                                         {"job", "find", "--colour", "red"},
                                                         {"job", "add", "missing.json"},
                                                         {"ticket", "1", "long"},
                                                         {"script", "missing"}};
    for (const auto& words : wrong) {
        const Outcome outcome = desk.run(words);
        EXPECT_EQ(outcome.exit, 2) << words[0];
        EXPECT_EQ(outcome.out, "") << words[0];
        EXPECT_THAT(outcome.err, HasSubstr("STOP")) << words[0];
    }
    EXPECT_EQ(desk.refused({"roll", "receive", "1", "3.10.1", "--lot", "x"}, 1).substr(0, 7), "length-");
    EXPECT_EQ(desk.refused({"job", "add", example("cockpit.json"), "--promised", "soon"}), "date-refused");
    EXPECT_EQ(desk.refused({"job", "show", "7"}), "not-there");
    EXPECT_EQ(run_spile({"shop", "job", "find", "--data", "mistyped"}, desk.scratch.path()).exit, 2);
    EXPECT_FALSE(std::filesystem::exists(desk.scratch / "mistyped"));
    std::filesystem::create_directory(desk.scratch / "strange");
    desk.scratch.file("strange/shop.spile", std::string(5000, 'x'));
    const Outcome strange = run_spile({"shop", "job", "find", "--data", "strange"}, desk.scratch.path());
    EXPECT_EQ(strange.exit, 2);
    EXPECT_THAT(strange.err, HasSubstr("shop-not-a-book"));
}

TEST(Shop, AScriptStopsAtTheFirstRefusalAndSaysWhere) {
    const Desk desk;
    const std::string script =
        desk.scratch.file("script",
                          "# two\ntoday 2026-03-05\ncustomer add \"J. \\\"Jo\\\" Miller\"\n\n"
                          "customer show 9\ncustomer add Nobody\n");
    const Outcome outcome = desk.run({"script", script, "--json"});
    EXPECT_EQ(outcome.exit, 1);
    EXPECT_THAT(outcome.err, HasSubstr("line 5: customer show 9"));
    const json said = json::parse(outcome.out);
    ASSERT_EQ(said["answers"].size(), 2u);
    EXPECT_EQ(said["answers"][1]["name"], "J. \"Jo\" Miller");
    EXPECT_EQ(said["answers"][1]["created"], 1772668800 + 12 * 3600);  // 2026-03-05
    EXPECT_EQ(desk.ask({"customer", "find"})["customers"].size(), 1u);
}

}  // namespace
}  // namespace spile::cli_test
