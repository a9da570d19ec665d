// Streams of news, searches for a layout, papers.
#include <gtest/gtest.h>

#include <atomic>
#include <chrono>

#include "tests/server/running.h"

namespace spile {
namespace {

using namespace spile::testing;
using namespace std::chrono_literals;

/// Listens in a thread of its own until it has heard `wanted`, or for a while.
class Listening {
  public:
    Listening(const Running& running, const Client& page, std::string path, std::string wanted)
        : thread_([this, port = const_cast<Running&>(running).port(), cookie = page.cookie(),
                   path = std::move(path), wanted = std::move(wanted)] {
              httplib::Client http("127.0.0.1", port);
              http.set_read_timeout(30);
              http.Get(path, {{"Cookie", cookie}}, [&](const char* data, std::size_t size) {
                  const std::lock_guard lock(mutex_);
                  heard_.append(data, size);
                  if (heard_.find("event: ready") != std::string::npos) ready_ = true;
                  return heard_.find(wanted) == std::string::npos && !leave_;
              });
          }) {
        for (int i = 0; i < 500 && !ready_; ++i) std::this_thread::sleep_for(20ms);
    }
    ~Listening() {
        leave_ = true;
        if (thread_.joinable()) thread_.join();
    }
    std::string heard() {
        thread_.join();
        const std::lock_guard lock(mutex_);
        return heard_;
    }
    bool ready() const { return ready_; }

  private:
    std::mutex mutex_;
    std::string heard_;
    std::atomic<bool> ready_{false}, leave_{false};
    std::thread thread_;
};

TEST(News, of_a_job_reach_the_other_page) {
    Running running;
    Client one = running.page(), two = running.page();
    const std::int64_t id = one.add(example_text());
    Listening listening(running, two, "/api/jobs/" + std::to_string(id) + "/events", "\"rev\":2");
    ASSERT_TRUE(listening.ready());
    EXPECT_EQ(one.edit(id, 1, "the edit", set_title("Cockpit sole", "x")).status, 200);
    const std::string heard = listening.heard();
    EXPECT_NE(heard.find("event: revision"), std::string::npos) << heard;
    EXPECT_NE(heard.find("\"op_id\":\"the edit\""), std::string::npos) << heard;
}

TEST(News, of_the_list_tell_of_a_new_job) {
    Running running;
    Client page = running.page();
    Listening listening(running, page, "/api/events", "event: job");
    ASSERT_TRUE(listening.ready());
    page.add(example_text());
    EXPECT_NE(listening.heard().find("event: job"), std::string::npos);
}

TEST(News, of_the_book_tell_of_stock_and_prices_and_not_of_edits) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    Listening listening(running, page, "/api/events", "event: book");
    ASSERT_TRUE(listening.ready());
    EXPECT_EQ(page.edit(id, 1, "an edit", set_title("Cockpit sole", "x")).status, 200);
    EXPECT_EQ(page.send("POST", "/api/goods", {{"name", ""}}).status, 422);
    EXPECT_EQ(page.send("PUT", "/api/settings/shop", {{"name", "The loft"}}).status, 200);
    const std::string heard = listening.heard();
    EXPECT_EQ(heard.find("event: book"), heard.rfind("event: book")) << "once, for what was done: " << heard;
}

TEST(News, streams_are_capped_and_never_starve_edits) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const std::string path = "/api/jobs/" + std::to_string(id) + "/events";
    std::vector<std::unique_ptr<Listening>> all;
    for (std::size_t i = 0; i < server::kMostStreamsOfOne; ++i)
        all.push_back(std::make_unique<Listening>(running, page, path, "\"rev\":2"));
    for (const auto& listening : all) EXPECT_TRUE(listening->ready());
    const Answer one_too_many = page.get(path);
    EXPECT_EQ(one_too_many.status, 503);
    EXPECT_EQ(one_too_many.code(), "too-many-streams");
    EXPECT_EQ(page.edit(id, 1, "a", set_title("Cockpit sole", "x")).status, 200);
    for (const auto& listening : all) EXPECT_NE(listening->heard().find("revision"), std::string::npos);
    // Those that left make room again.
    Answer again;
    for (int i = 0; i < 100; ++i) {
        Listening listening(running, page, path, "event: ready");
        if (listening.heard().find("event: ready") != std::string::npos) return;
        std::this_thread::sleep_for(50ms);
    }
    ADD_FAILURE() << "no stream after the others had left";
}

Answer settled_search(Client& page, const std::string& path) {
    Answer state;
    for (int i = 0; i < 600; ++i) {
        state = page.get(path);
        const std::string word = state.body["search"]["state"];
        if (word != "waits" && word != "runs") break;
        std::this_thread::sleep_for(50ms);
    }
    return state;
}

// Fillers_test.cpp's closed form: beside a mat of 600 x 1000 on goods of 1920 with a gap of 10 there is room for six of 290.
TEST(Layout, fillers_are_put_beside_a_layout_in_hand_and_proved_by_the_core) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(R"({ "spile": 1, "units": "mm", "mark_on": "face",
      "goods": { "width": 1920, "gap": 10, "step": 1000, "fillers": [{ "name": "mat", "size": "290 x 290", "most": 100 }] },
      "panels": [{ "id": "1", "mat": "600 x 1000, sealed" }] })");
    const std::string path = "/api/jobs/" + std::to_string(id) + "/fillers";
    const json placements = json::array({{{"piece", "1"}, {"x_um", 10'000}, {"y_um", 10'000}}});
    const Answer found = page.send("POST", path, {{"placements", placements}});
    ASSERT_TRUE(found.ok()) << found.text;
    const json fillers = found.body["fillers"];
    EXPECT_EQ(fillers.size(), 6u) << found.text;

    json question = {{"do", "derive"},
                     {"job", page.get("/api/jobs/" + std::to_string(id)).body["job"]},
                     {"layout", {{"placements", placements}}},
                     {"fillers", fillers}};
    const json layout = page.send("POST", "/api/ask", question).body["roll"]["layout"];
    EXPECT_EQ(layout["fillers"].size(), 6u);
    EXPECT_EQ(layout["filler_words"], "6 of mat");
    // One on the panel: the core shows none, and the layout as it is.
    question["fillers"][0]["x_um"] = 300'000;
    question["fillers"][0]["y_um"] = 300'000;
    const json without = page.send("POST", "/api/ask", question).body["roll"]["layout"];
    EXPECT_TRUE(without["fillers"].empty());
    EXPECT_EQ(without["placements"], layout["placements"]);

    // A layout that may not be cut has nothing beside it.
    json off = placements;
    off[0]["y_um"] = -500'000;
    EXPECT_TRUE(page.send("POST", path, {{"placements", off}}).body["fillers"].empty());
    EXPECT_EQ(page.send("POST", path, {{"placements", "all"}}).status, 422);
}

TEST(Layout, is_looked_for_while_the_page_goes_on) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const std::string path = "/api/jobs/" + std::to_string(id) + "/layout";
    EXPECT_EQ(page.get(path).status, 404);
    EXPECT_EQ(page.send("DELETE", path, nullptr).status, 404);
    const Answer begun = page.send("POST", path, {{"rounds", 5}});
    ASSERT_EQ(begun.status, 202) << begun.text;
    EXPECT_EQ(page.edit(id, 1, "meanwhile", set_title("Cockpit sole", "x")).status, 200);
    const Answer done = settled_search(page, path);
    ASSERT_EQ(done.body["search"]["state"], "done") << done.text;
    const json layout = done.body["search"]["layout"];
    EXPECT_EQ(layout["placements"].size(), 6u);
    EXPECT_GE(layout["used_mm"], layout["bound_mm"]);

    // Accepted as any edit, through the core's own question.
    const auto [job, rev] = page.job(id);
    const std::string text = page.get("/api/jobs/" + std::to_string(id)).body["job"];
    const json given = {{"placements", layout["placements"]}, {"rounds", layout["rounds"]}};
    const Answer kept =
        page.send("POST", "/api/ask", {{"do", "keep_layout"}, {"job", text}, {"layout", given}});
    ASSERT_TRUE(kept.ok()) << kept.text;
    EXPECT_EQ(page.edit(id, rev, "keep", kept.body["edits"]).status, 200);
    EXPECT_EQ(page.job(id).first["kept_layout"]["placements"].size(), 6u);

    // A piece that a person pinned stays where it is, the others are laid out round it.
    json pin = layout["placements"][2];
    pin["x_um"] = pin["x_um"].get<std::int64_t>() + 150'000;
    page.send("POST", path, {{"rounds", 0}, {"pins", json::array({pin})}});
    Answer pinned = page.get(path);
    for (int i = 0; i < 600 && pinned.body["search"]["state"] != "done"; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
        pinned = page.get(path);
    }
    EXPECT_EQ(pinned.body["search"]["layout"]["placements"][2], pin);
    EXPECT_EQ(page.send("POST", path, {{"pins", "all"}}).status, 422);
    for (const json& bad :
         {json{{"rounds", -1}}, json{{"rounds", "many"}}, json{{"rounds", 1e9}}, json{{"turns", 1}}})
        EXPECT_EQ(page.send("POST", path, bad).status, 422) << bad.dump();
}

TEST(Layout, can_be_stopped_and_the_best_so_far_is_at_hand) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const std::string path = "/api/jobs/" + std::to_string(id) + "/layout";
    page.send("POST", path, {{"rounds", 100'000}});
    for (int i = 0; i < 600 && page.get(path).body["search"]["layout"].is_null(); ++i)
        std::this_thread::sleep_for(50ms);
    EXPECT_EQ(page.send("DELETE", path, nullptr).status, 200);
    const Answer stopped = settled_search(page, path);
    EXPECT_EQ(stopped.body["search"]["state"], "stopped") << stopped.text.substr(0, 300);
    EXPECT_FALSE(stopped.body["search"]["layout"].is_null());
}

TEST(Layout, that_cannot_be_says_why) {
    Running running;
    Client page = running.page();
    const std::int64_t id =
        page.add(R"({ "spile": 1, "units": "in", "mark_on": "back", "goods": { "width": 20 },
        "panels": [{ "id": "1", "mat": "40 x 40" }] })");
    const std::string path = "/api/jobs/" + std::to_string(id) + "/layout";
    EXPECT_EQ(page.send("POST", path, {{"rounds", 4}}).status, 202);
    const Answer failed = settled_search(page, path);
    EXPECT_EQ(failed.body["search"]["state"], "failed");
    EXPECT_FALSE(failed.body["search"]["findings"].empty());
}

TEST(Papers, are_listed_and_read_one_by_one) {
    Running running;
    Client page = running.page();
    const std::int64_t id =
        page.add(R"({ "spile": 1, "units": "in", "mark_on": "back", "goods": { "width": 72 },
        "panels": [{ "id": "1", "mat": "24 x 36, turned" }] })");
    const std::string path = "/api/jobs/" + std::to_string(id) + "/papers";
    const Answer list = page.get(path);
    ASSERT_EQ(list.status, 200) << list.text;
    EXPECT_EQ(list.body["may_cut"], true);
    bool pdf = false;
    for (const json& paper : list.body["papers"]) {
        const Answer file = page.get(path + "/" + paper["name"].get<std::string>());
        EXPECT_EQ(file.status, 200) << paper["name"];
        EXPECT_EQ(file.text.size(), paper["bytes"].get<std::size_t>());
        const bool is_pdf = file.headers.find("Content-Type")->second == "application/pdf";
        EXPECT_EQ(is_pdf, file.text.substr(0, 5) == "%PDF-");
        pdf = pdf || is_pdf;
        EXPECT_NE(file.headers.find("Content-Security-Policy")->second.find("sandbox"), std::string::npos);
    }
    EXPECT_TRUE(pdf);
    EXPECT_EQ(page.get(path + "/nothing.pdf").status, 404);
}

TEST(Papers, to_cut_from_are_held_back_while_something_stops) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(R"({ "spile": 1, "units": "in", "goods": { "width": 72 },
        "panels": [{ "id": "1", "mat": "24 x 36" }] })");  // the side to mark is missing
    const Answer list = page.get("/api/jobs/" + std::to_string(id) + "/papers");
    ASSERT_EQ(list.status, 200) << list.text;
    EXPECT_EQ(list.body["may_cut"], false);
    for (const json& paper : list.body["papers"]) EXPECT_EQ(paper["cutting"], false) << paper["name"];
}

}  // namespace
}  // namespace spile
