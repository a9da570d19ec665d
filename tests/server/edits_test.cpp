// Editing over the API: revisions, two pages at once, repeated sends, undo.
#include <gtest/gtest.h>

#include "tests/server/running.h"

namespace spile {
namespace {

using namespace spile::testing;

const std::string kTie = "/spaces/cockpit/ties/t1";

json change(const std::string& target, const std::string& field, const json& old, const json& fresh) {
    json edit = {{"target", target}, {"field", field}};
    if (!old.is_null()) edit["old"] = old;
    if (!fresh.is_null()) edit["new"] = fresh;
    return edit;
}

json reading(const json& job, std::size_t i) {
    return job["spaces"][0]["ties"][i]["line"];
}

TEST(Edits, make_revisions_that_can_be_read) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const Answer done = page.edit(id, 1, "a1", set_title("Cockpit sole", "Cockpit, new"));
    ASSERT_EQ(done.status, 200) << done.text;
    EXPECT_EQ(done.body["made"], 2);
    EXPECT_EQ(done.body["merged"], false);
    EXPECT_TRUE(done.body["more"].empty());
    EXPECT_EQ(done.body["head"]["title"], "Cockpit, new");
    EXPECT_EQ(page.job(id).first["title"], "Cockpit, new");
    const std::string base = "/api/jobs/" + std::to_string(id) + "/revisions";
    EXPECT_EQ(json::parse(page.get(base + "/1").body["job"].get<std::string>())["title"], "Cockpit sole");
    EXPECT_EQ(page.get(base).body["revisions"].size(), 2u);
    EXPECT_EQ(page.get(base + "/3").status, 404);
    EXPECT_EQ(page.get(base + "/0").status, 404);
    EXPECT_EQ(page.get(base + "/99999999999").status, 404);
}

TEST(Edits, a_repeated_send_does_nothing_twice) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const json edits = set_title("Cockpit sole", "x");
    EXPECT_EQ(page.edit(id, 1, "once", edits).body["made"], 2);
    const Answer again = page.edit(id, 1, "once", edits);
    ASSERT_EQ(again.status, 200) << again.text;
    EXPECT_EQ(again.body["again"], true);
    EXPECT_EQ(again.body["made"], 2);
    EXPECT_EQ(page.job(id).second, 2);
}

TEST(Edits, of_two_pages_come_together) {
    Running running;
    Client one = running.page(), two = running.page();
    const std::int64_t id = one.add(example_text());
    EXPECT_EQ(one.edit(id, 1, "one", json::array({change(kTie, "line", "A B 95 3/4", "A B 95 1/2")})).status,
              200);
    const Answer second = two.edit(id, 1, "two", set_title("Cockpit sole", "theirs"));
    ASSERT_EQ(second.status, 200) << second.text;
    EXPECT_EQ(second.body["merged"], true);
    EXPECT_EQ(second.body["more"], json::array({change(kTie, "line", "A B 95 3/4", "A B 95 1/2")}));
    const json job = one.job(id).first;
    EXPECT_EQ(job["title"], "theirs");
    EXPECT_EQ(reading(job, 0), "A B 95 1/2");
    EXPECT_FALSE(job.contains("unsettled"));
}

TEST(Edits, of_the_same_field_show_both_whichever_comes_first) {
    std::vector<std::string> documents;
    for (const bool swapped : {false, true}) {
        Running running;
        Client one = running.page(), two = running.page();
        const std::int64_t id = one.add(example_text());
        const json a = json::array({change(kTie, "line", "A B 95 3/4", "A B 95 1/2")}),
                   b = json::array({change(kTie, "line", "A B 95 3/4", "A B 96")});
        EXPECT_EQ(one.edit(id, 1, "one", swapped ? b : a).status, 200);
        EXPECT_EQ(two.edit(id, 1, "two", swapped ? a : b).status, 200);
        const json job = one.job(id).first;
        ASSERT_EQ(job["unsettled"].size(), 1u);
        EXPECT_EQ(reading(job, 0), "A B 96");
        EXPECT_EQ(job["unsettled"][0]["other"], "\"A B 95 1/2\"");
        documents.push_back(job.dump());
    }
    EXPECT_EQ(documents[0], documents[1]);
}

TEST(Edits, that_do_not_fit_change_nothing) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const Answer stale = page.edit(id, 1, "a", set_title("another title", "x"));
    EXPECT_EQ(stale.status, 409);
    EXPECT_EQ(stale.code(), "edit-outdated");
    const Answer ahead = page.edit(id, 7, "b", set_title("Cockpit sole", "x"));
    EXPECT_EQ(ahead.status, 409);
    EXPECT_EQ(ahead.code(), "job-changed-since");
    EXPECT_EQ(page.edit(id + 1, 1, "c", set_title("Cockpit sole", "x")).status, 404);
    EXPECT_EQ(page.job(id).second, 1);
}

TEST(Edits, undo_takes_back_one_and_leaves_the_later_ones) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    page.edit(id, 1, "a", json::array({change(kTie, "line", "A B 95 3/4", "A B 90")}));
    page.edit(id, 2, "b", set_title("Cockpit sole", "later"));
    const std::string undo = "/api/jobs/" + std::to_string(id) + "/undo";
    const Answer undone = page.send("POST", undo, {{"op_id", "c"}, {"rev", 2}});
    ASSERT_EQ(undone.status, 200) << undone.text;
    json job = page.job(id).first;
    EXPECT_EQ(reading(job, 0), "A B 95 3/4");
    EXPECT_EQ(job["title"], "later");
    // And again: undoing the undo.
    EXPECT_EQ(page.send("POST", undo, {{"op_id", "d"}, {"rev", undone.body["made"]}}).status, 200);
    EXPECT_EQ(reading(page.job(id).first, 0), "A B 90");
    EXPECT_EQ(page.send("POST", undo, {{"op_id", "e"}, {"rev", 1}}).status, 404);
}

TEST(Edits, many_pages_at_once_lose_nothing) {
    Running running;
    Client first = running.page();
    const std::int64_t id = first.add(example_text());
    constexpr int pages = 8, edits_each = 6;
    std::vector<std::thread> threads;
    std::atomic<int> faults{0};
    for (int p = 0; p < pages; ++p) {
        threads.emplace_back([&, p] {
            Client page(running.port(), first.cookie());
            for (int i = 0; i < edits_each; ++i) {
                const int rev = page.job(id).second;
                const std::string reading_id = "n" + std::to_string(p) + "x" + std::to_string(i);
                const json add = {{"target", "/spaces/cockpit/ties/" + reading_id},
                                  {"field", ""},
                                  {"new", {{"id", reading_id}, {"line", "A B 95 3/4"}}}};
                if (page.edit(id, rev, reading_id, json::array({add})).status != 200) ++faults;
            }
        });
    }
    for (std::thread& t : threads) t.join();
    EXPECT_EQ(faults, 0);
    const auto [job, rev] = first.job(id);
    EXPECT_EQ(rev, 1 + pages * edits_each);
    int found = 0;
    for (const json& tie : job["spaces"][0]["ties"]) found += tie["id"].get<std::string>()[0] == 'n';
    EXPECT_EQ(found, pages * edits_each);
}

}  // namespace
}  // namespace spile
