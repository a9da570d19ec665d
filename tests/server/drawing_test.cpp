// Drawings made elsewhere over the wire: looked at, made a job of; wrong, huge and hostile ones refused in words.
#include <gtest/gtest.h>

#include <chrono>

#include "shop/base64.h"
#include "tests/server/running.h"

namespace spile {
namespace {

using namespace spile::testing;

/// A sheet of 20 by 10 in with a hole of 2 in radius and a second sheet beside it, in inches by its own word.
const char* kSheet =
    R"(<svg xmlns="http://www.w3.org/2000/svg" width="40in" height="10in" viewBox="0 0 40 10">)"
    R"(<g id="soles"><path d="M0 0H20V10H0Z"/><circle cx="10" cy="5" r="2"/></g>)"
    R"(<g id="lids"><path d="M25 0H35V10H25Z"/></g></svg>)";

json drawing(const std::string& name, const std::string& bytes) {
    return {{"name", name}, {"base64", shop::to_base64(bytes)}};
}

TEST(Drawings, are_looked_at_and_become_a_job) {
    Running running;
    Client page = running.page();
    json asked = drawing("sheet.svg", kSheet);
    const Answer seen = page.send("POST", "/api/drawings/look", asked);
    ASSERT_EQ(seen.status, 200) << seen.text;
    EXPECT_EQ(seen.body["mm_per_unit"], 25.4);
    ASSERT_EQ(seen.body["count"], 3);
    EXPECT_EQ(seen.body["outlines"][0]["along"]["text"], "20 in");
    EXPECT_EQ(seen.body["outlines"][2]["inside"], 1) << "the hole in the first sheet";
    EXPECT_EQ(page.get("/api/jobs").body["count"], 0) << "looking keeps nothing";
    asked["outlines"] = {1, 3};
    asked["title"] = "From the sheet";
    const Answer made = page.send("POST", "/api/drawings/job", asked);
    ASSERT_EQ(made.status, 201) << made.text;
    const auto [job, rev] = page.job(made.body["head"]["id"]);
    EXPECT_EQ(job["title"], "From the sheet");
    ASSERT_EQ(job["panels"].size(), 1u);
    EXPECT_EQ(job["panels"][0]["openings"].size(), 1u);
}

TEST(Drawings, say_what_they_lack) {
    Running running;
    Client page = running.page();
    json asked = drawing("sole.csv", "0,0\n60,0\n60,40\n0,40\n");
    EXPECT_EQ(page.send("POST", "/api/drawings/look", asked).code(), "units-missing");
    asked["units"] = "ells";
    EXPECT_EQ(page.send("POST", "/api/drawings/look", asked).code(), "units-unknown");
    asked["units"] = "in";
    EXPECT_EQ(page.send("POST", "/api/drawings/look", asked).body["outlines"][0]["across"]["text"], "40 in");
    asked["gap"] = "a mile";
    EXPECT_EQ(page.send("POST", "/api/drawings/look", asked).code(), "length-unknown");
    asked.erase("gap");
    asked["outlines"] = {7};
    EXPECT_EQ(page.send("POST", "/api/drawings/job", asked).code(), "outline-missing");
    for (const json& none : {json::array(), json("all"), json({0}), json({1.5}), json({"1"}), json({1e300})}) {
        asked["outlines"] = none;
        EXPECT_EQ(page.send("POST", "/api/drawings/job", asked).status, 422) << none;
    }
}

TEST(Drawings, that_are_wrong_huge_or_made_to_harm_are_refused) {
    Running running;
    Client page = running.page();
    const auto refused = [&](const std::string& name, const std::string& bytes, const char* why) {
        const Answer answer = page.send("POST", "/api/drawings/look", drawing(name, bytes));
        EXPECT_GE(answer.status, 400) << why;
        EXPECT_LT(answer.status, 500) << why;
        EXPECT_FALSE(answer.code().empty()) << why;
    };
    refused("sheet.doc", kSheet, "an ending of another kind");
    refused("sheet.dxf", kSheet, "not what its ending says");
    refused("sheet.svg", "", "nothing");
    refused(std::string(300, 'a') + ".svg", kSheet, "a name without end");
    refused("sheet.svg", "<svg><!DOCTYPE x [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;&a;\">]>&b;", "entities");
    refused("sheet.svg", "<svg><image href=\"file:///etc/passwd\"/></svg>", "another file");
    refused("sheet.svg", std::string(2'000'000, '<'), "brackets");
    std::string deep;
    for (int i = 0; i < 100'000; ++i) deep += "<g>";
    refused("sheet.svg", "<svg>" + deep, "groups without end");
    std::string many = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"10in\" height=\"10in\" viewBox=\"0 0 10 10\">";
    for (int i = 0; i < 30'000; ++i) many += "<path d=\"M0 0H1V1Z\"/>";
    refused("sheet.svg", many + "</svg>", "more lines than anybody draws");
    EXPECT_EQ(page.send("POST", "/api/drawings/look", {{"name", "a.svg"}, {"base64", "no!"}}).status, 422);
    EXPECT_EQ(page.send("POST", "/api/drawings/look", {{"name", "a.svg"}}).status, 422);
    json more = drawing("sheet.svg", kSheet);
    more["path"] = "/etc/passwd";
    EXPECT_EQ(page.send("POST", "/api/drawings/look", more).status, 422);
    EXPECT_EQ(Client(running.port()).send("POST", "/api/drawings/look", drawing("sheet.svg", kSheet)).status, 401);
    EXPECT_EQ(page.send("POST", "/api/drawings/look", drawing("a.svg", std::string(13'000'000, ' '))).status, 413);
}

#ifdef __SANITIZE_ADDRESS__
constexpr std::chrono::seconds kLong{240};
#else
constexpr std::chrono::seconds kLong{30};
#endif

/// As large as is taken: nobody waits long for it, and others are answered meanwhile.
TEST(Drawings, as_large_as_may_be_are_read_in_time) {
    Running running;
    Client page = running.page();
    std::string many = "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"20000mm\" height=\"10mm\" viewBox=\"0 0 20000 10\">";
    for (int i = 0; i < 19'000; ++i)
        many += "<path d=\"M" + std::to_string(i) + " 0L" + std::to_string(i + 1) + " 0\"/>";
    const auto start = std::chrono::steady_clock::now();
    const Answer answer = page.send("POST", "/api/drawings/look", drawing("sheet.svg", many + "</svg>"));
    EXPECT_NE(answer.status, 0);
    EXPECT_LT(std::chrono::steady_clock::now() - start, kLong);
}

}  // namespace
}  // namespace spile
