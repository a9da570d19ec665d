#include "tests/server/shop_day.h"

#include <gtest/gtest.h>

#include <chrono>
#include <fstream>

namespace spile::testing {
namespace {

std::string prices_text() {
    std::ifstream in(std::string(SPILE_SOURCE_DIR) + "/examples/shop/prices.json");
    return std::string(std::istreambuf_iterator<char>(in), {});
}

constexpr const char* kMat = R"({"spile": 1, "title": "Step mat", "units": "in", "mark_on": "back",
  "goods": {"name": "woven vinyl, sand, foam back", "width": 72, "usable_width": "71 1/2", "gap": "1/4", "step": 36},
  "panels": [{"id": "mat", "name": "step mat", "mat": "24 x 20, turned"}]})";

const json kGoods = {{"width", 72}, {"usable_width", "71 1/2"}, {"gap", "1/4"}, {"step", 36}};

}  // namespace

std::int64_t kept_example(Client& page) {
    return kept_job(page, example_text());
}

std::int64_t kept_job(Client& page, const std::string& text) {
    const std::int64_t id = page.add(text);
    const std::string job = "/api/jobs/" + std::to_string(id);
    page.send("POST", job + "/layout", {{"rounds", 0}});
    json layout;
    for (int i = 0; i < 600 && layout.is_null(); ++i) {
        const json search = page.get(job + "/layout").body["search"];
        if (search["state"] == "done") layout = search["layout"];
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    EXPECT_FALSE(layout.is_null());
    const json kept = {{"rounds", layout["rounds"]}, {"placements", json::array()}};
    json value = kept;
    for (const json& p : layout["placements"])
        value["placements"].push_back({{"piece", p["piece"]}, {"x_um", p["x_um"]}, {"y_um", p["y_um"]}});
    const Answer done =
        page.edit(id, 1, "keep", json::array({{{"target", ""}, {"field", "kept_layout"}, {"new", value}}}));
    EXPECT_EQ(done.status, 200) << done.text;
    return id;
}

void ask_the_shop(Client& page) {
    const std::int64_t id = kept_example(page);
    const std::string job = "/api/jobs/" + std::to_string(id);
    page.send("POST", "/api/prices", {{"text", prices_text()}});
    page.send("POST", "/api/prices", {{"text", prices_text()}});
    page.get("/api/prices");
    page.get("/api/prices/2026-03-01");
    page.get("/api/prices/2020-03-01");
    page.send("POST", "/api/customers", {{"name", "J. Miller"}});
    page.send("PATCH", "/api/customers/1", {{"phone", "12 34"}});
    page.get("/api/customers?text=miller");
    page.send("POST", "/api/customers", {{"name", "Nobody"}});
    page.send("DELETE", "/api/customers/2", nullptr);
    page.send("POST", "/api/boats", {{"customer", 1}, {"model", "open launch"}, {"year", 1998}});
    page.send("PATCH", "/api/boats/1", {{"berth", "14"}});
    page.get("/api/boats?customer=1");
    page.send("POST", "/api/boats", {{"name", "Plank"}});
    page.send("DELETE", "/api/boats/2", nullptr);
    page.send("PATCH", job, {{"customer", 1}, {"boat", 1}});
    page.send("DELETE", "/api/customers/1", nullptr);

    page.send("POST", "/api/goods", {{"name", "woven vinyl, sand, foam back"}, {"goods", kGoods}});
    page.send("POST", "/api/goods", {{"name", "carpet"}, {"goods", kGoods}});
    page.send("PUT", "/api/goods/2", {{"name", "carpet, grey"}, {"goods", kGoods}, {"notes", "no longer"}});
    page.send("DELETE", "/api/goods/2", nullptr);
    page.get("/api/goods?text=vinyl");
    page.send("POST", "/api/rolls", {{"goods", 1}, {"lot", "L1"}, {"length_mm", 9144}});
    page.get("/api/rolls?goods=1");
    page.get("/api/rolls/1");
    page.send("POST", "/api/rolls/1/count", {{"left_mm", 9100.5}, {"note", "by the tape"}});
    page.send("POST", "/api/rolls/1/reserve", {{"job", id}, {"length_mm", 1000}});

    page.send("POST", job + "/cost", {{"rush", true}, {"instead", {"woven vinyl, plain, foam back"}}});
    page.send("POST", job + "/cost", {{"instead", {"silk"}}});
    page.send("POST", job + "/sent", {{"kind", "quote"}});
    page.send("POST", job + "/sent", {{"kind", "poem"}});
    page.get(job + "/sent");
    page.get("/api/sent/Q-0001");
    page.get("/api/sent/Q-0009");
    page.send("POST", job + "/payments", {{"amount", "50.00"}, {"note", "deposit"}});
    page.send("POST", job + "/payments", {{"amount", "1,50"}});
    page.get(job + "/account");
    page.get("/api/hours");
    page.send("POST", job + "/notes", {{"text", "Lid lifts aft."}});
    page.get(job + "/notes");
    page.send("POST", job + "/files",
              {{"name", "port side.txt"}, {"media", "text/plain"}, {"base64", "aGVsbG8="}});
    page.get(job + "/files");
    page.get(job + "/files/1");
    page.send("DELETE", job + "/files/1", nullptr);
    page.get(job + "/files/1");
    page.send("PUT", job + "/ticket", {{"minutes", 412.5}});
    page.get("/api/tickets");
    page.get("/api/totals?from=2020-01-01");
    page.get("/api/totals");

    page.get(job + "/offcuts");
    EXPECT_EQ(page.get(job + "/choices").body["choices"][0]["from"], "roll");
    page.get("/api/jobs/99/choices");
    EXPECT_EQ(page.send("POST", job + "/cut", {{"roll", 1}}).status, 201);
    page.send("POST", job + "/cut", {{"roll", 1}});
    const json layouts = page.get(job + "/cut").body["layouts"];
    page.get("/api/offcuts?goods=1&length_mm=300");
    page.send("DELETE", "/api/cut/" + layouts[0]["id"].get<std::string>(), nullptr);
    page.get("/api/movements?job=" + std::to_string(id));

    const std::int64_t again = kept_example(page);
    const std::string other = "/api/jobs/" + std::to_string(again);
    const json cut = page.send("POST", other + "/cut", {{"roll", 1}}).body;
    // A small mat leaves most of the width.
    const std::int64_t mat = kept_job(page, kMat);
    const json left = page.send("POST", "/api/jobs/" + std::to_string(mat) + "/cut", {{"roll", 1}}).body;
    EXPECT_FALSE(left["offcuts"].empty());
    page.send("POST", "/api/offcuts/" + std::to_string(left["offcuts"][0].get<std::int64_t>()) + "/discard",
              {{"note", "sold"}});
    page.send("PATCH", other, {{"state", "in work"}});
    page.send("POST", other + "/fitted", {{"base_rev", cut["head"]["rev"]}});
    const json repeat = page.send("POST", other + "/repeat", {{"sister", true}, {"goods", 1}}).body;
    EXPECT_EQ(repeat["head"]["unchecked"], true);
    const std::string sister = "/api/jobs/" + std::to_string(repeat["head"]["id"].get<std::int64_t>());
    page.send("POST", sister + "/check-sizes", {{"lines", json::array()}});
    page.send("POST", sister + "/check-sizes", {{"lines", {"A Z 12"}}});
    page.get("/api/ballpark?panels=5&kind=cockpit&length_mm=7300");
    page.get("/api/ballpark?panels=900");

    page.send("PUT", "/api/settings/shop", {{"name", "The loft"}});
    page.send("PUT", "/api/settings/sessions", {{"name", "theft"}});
    page.get("/api/settings");
    page.get("/api/book");
    const json backup = page.send("POST", "/api/backups", json::object()).body;
    page.get("/api/backups");
    const std::string kept = "/api/backups/shop%20" + backup["name"].get<std::string>().substr(5, 10) +
                             "%20" + backup["name"].get<std::string>().substr(16);
    EXPECT_EQ(page.get(kept).status, 200);
    EXPECT_EQ(page.send("POST", kept + "/try", json::object()).status, 200);
    page.get("/api/backups/none.spile");
    const std::string copy = page.get(kept).text;
    page.bring(copy, copy.size() / 2 + 1);
    page.send("POST", "/api/backups/brought", {{"from", 7}, {"of", 9}, {"base64", "AA=="}});
    page.get(job + "/states");
    page.send("POST", job + "/layout",
              {{"rounds", 1}, {"pins", json::array({{{"piece", "1"}, {"x_um", 6350}, {"y_um", 6350}}})}});
    page.send("POST", job + "/layout", {{"rounds", 1}, {"pins", json::array({{{"piece", 1}}})}});

    json drawn = {{"name", "sole.csv"}, {"base64", "MCwwCjYwLDAKNjAsNDAK"}};  // 0,0 60,0 60,40
    page.send("POST", "/api/drawings/look", drawn);
    drawn["units"] = "in";
    page.send("POST", "/api/drawings/look", drawn);
    page.send("POST", "/api/drawings/job", drawn);
    // Last: the program ends, to start again with the copy.
    page.send("POST", kept + "/put-back", json::object());
    page.send("POST", kept + "/put-back", {{"instead_of_the_book", true}});
}

}  // namespace spile::testing
