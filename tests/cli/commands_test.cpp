// How the commands end, what they print where, and what they do with nonsense.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

using nlohmann::json;

std::set<std::string> keys(const json& object) {
    std::set<std::string> names;
    for (const auto& item : object.items()) names.insert(item.key());
    return names;
}

TEST(Program, HelpForEveryCommand) {
    const Scratch scratch;
    for (const std::vector<std::string>& arguments : {std::vector<std::string>{}, {"--help"}}) {
        const Outcome help = run_spile(arguments, scratch.path());
        EXPECT_EQ(help.exit, 0);
        for (const char* command : {"check", "measure", "make", "layout", "cost"})
            EXPECT_NE(help.out.find(std::string("spile ") + command), std::string::npos) << command;
        EXPECT_EQ(help.err, "");
    }
    for (const char* command : {"check", "measure", "make", "layout", "cost"}) {
        const Outcome help = run_spile({command, "--help"}, scratch.path());
        EXPECT_EQ(help.exit, 0) << command;
        EXPECT_NE(help.out.find("JOB"), std::string::npos) << help.out;
    }
    EXPECT_EQ(run_spile({"--version"}, scratch.path()).exit, 0);
}

TEST(Program, CommandsThatAreNotUnderstood) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    const std::vector<std::vector<std::string>> wrong = {{"bake"},
                                                         {"check"},
                                                         {"make", job},
                                                         {"check", job, "--quickly"},
                                                         {"check", job, job},
                                                         {"--json"},
                                                         {"check", "measure"},
                                                         {"layout", job, "--rounds", "-1"},
                                                         {"layout", job, "--rounds", "many"},
                                                         {"layout", job, "--seconds", "nan"},
                                                         {"layout", job, "--seconds", "-3"},
                                                         {"layout", job, "--seconds", "1", "--rounds", "1"}};
    for (const auto& arguments : wrong) {
        const Outcome outcome = run_spile(arguments, scratch.path());
        EXPECT_EQ(outcome.exit, 2) << arguments[0];
        EXPECT_EQ(outcome.out, "");
        EXPECT_NE(outcome.err.find("spile: "), std::string::npos) << outcome.err;
    }
}

TEST(Program, FilesThatCannotBeRead) {
    const Scratch scratch;
    const std::string jobs[] = {"missing.json",
                                scratch.path().string(),
                                scratch.file("empty.json", ""),
                                scratch.file("bytes.json", "\xFF\xFE\x00\x01"),
                                scratch.file("list.json", "[1, 2]"),
                                scratch.file("newer.json", R"({"spile": 999})"),
                                scratch.file("deep.json", std::string(200000, '[')),
                                "/dev/null"};
    for (const std::string& job : jobs) {
        for (const std::vector<std::string>& arguments :
             std::vector<std::vector<std::string>>{{"check", job},
                                                   {"measure", job, "--json"},
                                                   {"make", job, "--out", "out"},
                                                   {"layout", job},
                                                   {"cost", job}}) {
            const Outcome outcome = run_spile(arguments, scratch.path());
            EXPECT_EQ(outcome.exit, 2) << arguments[0] << " " << job << "\n" << outcome.err;
            EXPECT_EQ(outcome.out, "") << arguments[0] << " " << job;
            EXPECT_NE(outcome.err.find("spile: "), std::string::npos) << outcome.err;
        }
    }
    EXPECT_FALSE(std::filesystem::exists(scratch / "out"));
    EXPECT_NE(run_spile({"check", "."}, scratch.path()).err.find("folder"), std::string::npos);
}

TEST(Program, NothingThatCommandsTheTerminalIsPassedOn) {
    const Scratch scratch;
    const std::string job =
        scratch.file("odd.json", "{\"spile\": 1, \"units\": \"in\", \"\\u001b[2J\\u0007\": 3}");
    for (const char* command : {"check", "measure", "layout", "cost"}) {
        const Outcome outcome = run_spile({command, job}, scratch.path());
        EXPECT_EQ((outcome.out + outcome.err).find_first_of("\x1b\x07"), std::string::npos) << command;
    }
}

TEST(Program, SaysWhenItsOutputCannotBeWritten) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    const std::string command = SPILE_BINARY_DIR "/spile check " + job + " >/dev/full 2>/dev/null";
    EXPECT_EQ(WEXITSTATUS(std::system(command.c_str())), 2);
}

TEST(Check, EndsByWhatItFinds) {
    const Scratch scratch;
    const Outcome good =
        run_spile({"check", scratch.file("good.json", mat_job("24 x 36, turned"))}, scratch.path());
    EXPECT_EQ(good.exit, 0) << good.out << good.err;
    const std::string wide = scratch.file("wide.json", mat_job("90 x 80, turned"));
    const Outcome bad = run_spile({"check", wide}, scratch.path());
    EXPECT_EQ(bad.exit, 1);
    EXPECT_NE(bad.out.find("STOP"), std::string::npos);
    EXPECT_EQ(bad.err, "");
    const Outcome as_json = run_spile({"check", wide, "--json"}, scratch.path());
    EXPECT_EQ(as_json.exit, 1);
    const json found = json::parse(as_json.out);
    ASSERT_FALSE(found.at("findings").empty());
    EXPECT_EQ(keys(found.at("findings")[0]),
              (std::set<std::string>{"code", "severity", "subject", "numbers", "says", "to_do", "where"}));
    EXPECT_EQ(found.at("findings")[0].at("severity"), "stop");
}

TEST(Check, AllExamplesMayBeCut) {
    for (const auto& entry : std::filesystem::directory_iterator(SPILE_SOURCE_DIR "/examples")) {
        const Scratch scratch;
        if (entry.path().extension() != ".json") continue;
        const Outcome outcome = run_spile({"check", entry.path().string()}, scratch.path());
        EXPECT_EQ(outcome.exit, 0) << entry.path() << "\n" << outcome.out << outcome.err;
    }
}

TEST(Measure, TheShapeOfItsDocument) {
    const Scratch scratch;
    const Outcome outcome = run_spile({"measure", example("cockpit.json"), "--json"}, scratch.path());
    ASSERT_EQ(outcome.exit, 0) << outcome.err;
    const json document = json::parse(outcome.out);
    EXPECT_EQ(keys(document), (std::set<std::string>{"spaces"}));
    ASSERT_EQ(document.at("spaces").size(), 1u);
    const json& space = document.at("spaces")[0];
    EXPECT_EQ(keys(space), (std::set<std::string>{"id", "verdict", "spare", "variance_factor", "points",
                                                  "ties", "suspects", "advice", "missing", "fit"}));
    EXPECT_EQ(space.at("id"), "cockpit");
    ASSERT_TRUE(space.at("points").contains("A"));
    EXPECT_EQ(keys(space.at("points").at("A")),
              (std::set<std::string>{"x_mm", "y_mm", "sd_x_mm", "sd_y_mm", "cov_xy_mm2"}));
    EXPECT_NEAR(space.at("points").at("Q").at("x_mm"), 0, 1e-9) << "the first point of `bow` is the origin";
    EXPECT_NEAR(space.at("points").at("J1").at("y_mm"), 0, 1e-9) << "the second lies ahead of it";
    ASSERT_GT(space.at("ties").size(), 40u);
    EXPECT_EQ(keys(space.at("ties")[0]),
              (std::set<std::string>{"text", "from", "to", "reads_mm", "residual_mm", "redundancy", "w",
                                     "smallest_slip_mm"}));
    EXPECT_EQ(space.at("ties")[0].at("text"), "A B 95 3/4");
    EXPECT_NEAR(space.at("ties")[0].at("reads_mm"), 95.75 * 25.4, 1e-9);
    EXPECT_TRUE(space.at("suspects").empty()) << space.at("suspects").dump(2);
}

TEST(Measure, ItsSuspectsAndWhatCannotBeToldFromThem) {
    const Scratch scratch;
    // One reading to spare: the slip is seen, but four ties explain it alike.
    const std::string job = scratch.file(
        "one-spare.json",
        R"({ "spile": 1, "units": "mm", "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 3000", "B C 2000", "C D 3000", "D A 2000", "A C 3605.5", "B D 3640"] }] })");
    const Outcome outcome = run_spile({"measure", job, "--json"}, scratch.path());
    const json document = json::parse(outcome.out);
    const json& suspects = document.at("spaces")[0].at("suspects");
    ASSERT_EQ(suspects.size(), 1u) << outcome.out;
    const json& s = suspects[0];
    EXPECT_EQ(keys(s), (std::set<std::string>{"id", "text", "from", "to", "slip_mm", "sd_mm", "guess",
                                              "proposed", "alike"}));
    EXPECT_EQ(s.at("text").get<std::string>().substr(0, 3),
              s.at("from").get<std::string>() + " " + s.at("to").get<std::string>());
    EXPECT_GT(s.at("sd_mm").get<double>(), 0);
    ASSERT_EQ(s.at("alike").size(), 3u);
    for (const json& other : s.at("alike")) EXPECT_EQ(keys(other), (std::set<std::string>{"from", "to"}));
}

TEST(Layout, SameRoundsSamePlaces) {
    const Scratch scratch;
    const auto places = [&](const std::vector<std::string>& more) {
        std::vector<std::string> arguments = {"layout", example("cockpit.json"), "--json"};
        arguments.insert(arguments.end(), more.begin(), more.end());
        const Outcome outcome = run_spile(arguments, scratch.path());
        EXPECT_EQ(outcome.exit, 0) << outcome.err;
        return json::parse(outcome.out);
    };
    const json some = places({"--seconds", "0.05"});
    const json again = places({"--rounds", std::to_string(some.at("rounds").get<int>())});
    EXPECT_EQ(some, again);
    EXPECT_EQ(keys(some),
              (std::set<std::string>{"placements", "used_mm", "bought_mm", "bound_mm", "bound_reason",
                                     "goods_share", "rounds", "stretches", "least_order"}));
    EXPECT_EQ(some.at("placements").size(), 6u);
    EXPECT_GE(some.at("used_mm").get<double>(), some.at("bound_mm").get<double>());
    EXPECT_GE(some.at("bought_mm").get<double>(), some.at("used_mm").get<double>());
}

// There is a layout, but not yet one to cut from: scripts see it in how the command ends.
TEST(Layout, EndsWithOneWhereSomethingElseStopsTheCutting) {
    const Scratch scratch;
    std::string job = mat_job("24 x 36, turned");
    job.insert(job.find("\"width\""), "\"direction\": \"sideways\", ");
    const Outcome layout =
        run_spile({"layout", scratch.file("sideways.json", job), "--json"}, scratch.path());
    EXPECT_EQ(layout.exit, 1);
    EXPECT_EQ(json::parse(layout.out).at("placements").size(), 1u);
    EXPECT_NE(layout.err.find("sideways"), std::string::npos) << layout.err;
}

TEST(Layout, NoLayoutIsStillADocument) {
    const Scratch scratch;
    const std::string wide = scratch.file("wide.json", mat_job("90 x 80, turned"));
    const Outcome layout = run_spile({"layout", wide, "--json"}, scratch.path());
    EXPECT_EQ(layout.exit, 1);
    EXPECT_EQ(json::parse(layout.out), json::parse(R"({"placements": []})"));
    EXPECT_NE(layout.err.find("STOP"), std::string::npos) << layout.err;
    EXPECT_EQ(run_spile({"cost", wide}, scratch.path()).exit, 1);
    // For a plain mat no joint is proposed, and nobody is sent to one.
    const Outcome asked = run_spile({"layout", wide}, scratch.path());
    EXPECT_EQ(asked.out.find("--divide"), std::string::npos) << asked.out;
}

// A sole of 120 x 100 in on goods of 72 in: the command proposes, writes when asked to, and what it writes is laid out.
TEST(Layout, APanelWiderThanTheGoodsIsDividedWhenAsked) {
    const Scratch scratch;
    const std::string wide = scratch.file("wide.json", R"({ "spile": 1, "units": "in", "mark_on": "back",
      "goods": { "width": 72 },
      "spaces": [{ "id": "hold", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 120", "B C 100", "C D 120", "D A 100", "A C 156 3/16", "B D 156 3/16"] }],
      "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"], "corner_radius": 2 }] })");
    const Outcome asked = run_spile({"layout", wide}, scratch.path());
    EXPECT_EQ(asked.exit, 1);
    EXPECT_NE(asked.out.find("J1 on D A at 50"), std::string::npos) << asked.out;
    EXPECT_NE(asked.out.find("--divide NEW.json"), std::string::npos) << asked.out;

    const std::string parts = (scratch.path() / "parts.json").string();
    const Outcome divided = run_spile({"layout", wide, "--divide", parts}, scratch.path());
    EXPECT_EQ(divided.exit, 0) << divided.err;
    EXPECT_NE(divided.out.find("1 and 1b"), std::string::npos) << divided.out;
    const Outcome laid = run_spile({"layout", parts, "--json", "--rounds", "2"}, scratch.path());
    EXPECT_EQ(laid.exit, 0) << laid.err;
    EXPECT_EQ(json::parse(laid.out).at("placements").size(), 2u);
    EXPECT_EQ(run_spile({"layout", wide, "--divide", parts}, scratch.path()).exit, 2);  // it is there
    const Outcome nothing = run_spile({"layout", parts, "--divide", parts + "2"}, scratch.path());
    EXPECT_EQ(nothing.exit, 1);
    EXPECT_NE(nothing.err.find("no piece is too wide"), std::string::npos) << nothing.err;

    // The second way lies elsewhere; a fourth there is not.
    const std::string others = (scratch.path() / "others.json").string();
    const Outcome second = run_spile({"layout", wide, "--divide", others, "--way", "2"}, scratch.path());
    EXPECT_EQ(second.exit, 0) << second.err;
    EXPECT_NE(second.out.find("J1 on D A at 60"), std::string::npos) << second.out;
    EXPECT_EQ(run_spile({"layout", others, "--json", "--rounds", "2"}, scratch.path()).exit, 0);
    EXPECT_EQ(run_spile({"layout", wide, "--divide", others + "2", "--way", "4"}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"layout", wide, "--way", "2"}, scratch.path()).exit, 2);
}

// A mat has no joint lines: nothing is proposed, and nobody is told how to have it.
TEST(Layout, WhereNoJointIsProposedNobodyIsToldHowToTakeIt) {
    const Scratch scratch;
    const std::string wide = scratch.file("wide.json", mat_job("90 x 80, turned"));
    const Outcome asked = run_spile({"layout", wide}, scratch.path());
    EXPECT_EQ(asked.exit, 1);
    EXPECT_NE(asked.out.find("No joint is proposed"), std::string::npos) << asked.out;
    EXPECT_EQ(asked.out.find("--divide"), std::string::npos) << asked.out;
    const Outcome divided = run_spile({"layout", wide, "--divide", "new.json"}, scratch.path());
    EXPECT_EQ(divided.exit, 1);
    EXPECT_NE(divided.err.find("no joint is proposed"), std::string::npos) << divided.err;
}

// A finished 24 x 36 in turned mat takes a face of 26 x 38 in (common practice: turned 1 in all round).
TEST(Cost, APlainMat) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    const Outcome outcome = run_spile({"cost", job, "--json"}, scratch.path());
    ASSERT_EQ(outcome.exit, 0) << outcome.err;
    const json document = json::parse(outcome.out);
    EXPECT_EQ(keys(document), (std::set<std::string>{"materials", "work"}));
    ASSERT_FALSE(document.at("materials").empty());
    const json& goods = document.at("materials")[0];
    EXPECT_EQ(keys(goods), (std::set<std::string>{"what", "amount", "unit", "to_buy", "because"}));
    EXPECT_EQ(goods.at("what"), "woven vinyl");
    EXPECT_NEAR(goods.at("to_buy"), 36 * 25.4, 1e-9);
}

}  // namespace
}  // namespace spile::cli_test
