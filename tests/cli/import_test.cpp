// Drawings made elsewhere: listed, made into a job, and what is asked for.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

using nlohmann::json;

constexpr const char* kSole =
    "over (in),up "
    "(in),layer\n0,0,sole\n60,0,sole\n60,40,sole\n0,40,sole\n20,10,hatch\n40,10,hatch\n40,25,hatch\n20,25,"
    "hatch\n";

TEST(Import, ListsTheOutlinesOfADrawing) {
    const Scratch scratch;
    const std::string drawing = scratch.file("sole.csv", kSole);
    const Outcome list = run_spile({"import", drawing}, scratch.path());
    EXPECT_EQ(list.exit, 0) << list.err;
    EXPECT_NE(list.out.find("1  60 in x 40 in, layer \"sole\""), std::string::npos) << list.out;
    EXPECT_NE(list.out.find("2  20 in x 15 in, layer \"hatch\""), std::string::npos) << list.out;
    EXPECT_NE(list.out.find("inside 1"), std::string::npos) << list.out;
}

TEST(Import, MakesAJobThatCanBeChecked) {
    const Scratch scratch;
    const std::string drawing = scratch.file("sole.csv", kSole), job = (scratch / "sole.json").string();
    const Outcome made = run_spile({"import", drawing, "--out", job}, scratch.path());
    EXPECT_EQ(made.exit, 0) << made.err;
    const json document = json::parse(text_of(job));
    ASSERT_EQ(document["panels"].size(), 1u);
    EXPECT_EQ(document["units"], "in");
    EXPECT_EQ(document["panels"][0]["openings"].size(), 1u);
    const Outcome check = run_spile({"check", job}, scratch.path());
    EXPECT_LT(check.exit, 2) << check.err;
    EXPECT_NE(check.out.find("1 piece"), std::string::npos) << check.out;
    // It is never written over.
    EXPECT_EQ(run_spile({"import", drawing, "--out", job}, scratch.path()).exit, 2);
    // Of one layer alone.
    const std::string lid = (scratch / "lid.json").string();
    EXPECT_EQ(run_spile({"import", drawing, "--layer", "hatch", "--out", lid}, scratch.path()).exit, 0);
    EXPECT_FALSE(json::parse(text_of(lid))["panels"][0].contains("openings"));
}

TEST(Import, RoundOutlinesBecomePanelsToo) {
    const Scratch scratch;
    const std::string drawing = scratch.file(
        "round.svg",
        "<svg width='400mm' height='400mm' viewBox='0 0 400 400'><circle cx='200' cy='200' r='150'/></svg>");
    const std::string job = (scratch / "round.json").string();
    EXPECT_EQ(run_spile({"import", drawing, "--out", job}, scratch.path()).exit, 0);
    const Outcome check = run_spile({"check", job}, scratch.path());
    EXPECT_NE(check.out.find("1 piece"), std::string::npos) << check.out << check.err;
}

TEST(Import, AsksForWhatIsMissing) {
    const Scratch scratch;
    const std::string silent = scratch.file("sole.csv", "0,0\n60,0\n60,40\n");
    const Outcome asked = run_spile({"import", silent}, scratch.path());
    EXPECT_EQ(asked.exit, 1);
    EXPECT_NE(asked.err.find("--units"), std::string::npos) << asked.err;
    EXPECT_EQ(run_spile({"import", silent, "--units", "in"}, scratch.path()).exit, 0);
    EXPECT_EQ(run_spile({"import", silent, "--units", "ells"}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"import", silent, "--units", "in", "--outlines", "2"}, scratch.path()).exit, 1);
    EXPECT_EQ(run_spile({"import", silent, "--units", "in", "--gap", "wide"}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"import", scratch.file("sole.doc", "x")}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"import", scratch.file("sole.dxf", "x")}, scratch.path()).exit, 2);
    EXPECT_EQ(run_spile({"import", (scratch / "none.svg").string()}, scratch.path()).exit, 2);
}

}  // namespace
}  // namespace spile::cli_test
