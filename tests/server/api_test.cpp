// Every route, well and badly asked, held to docs/openapi.json; the answers are judged by Debian's python3-jsonschema.
#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>
#include <fstream>

#include "tests/server/running.h"
#include "tests/server/shop_day.h"

namespace spile {
namespace {

using namespace spile::testing;

TEST(Api, every_route_answers_as_it_is_described) {
    exchanges().clear();
    {
        Running running;
        Client page = running.page();
        page.get("/api/session");
        page.get("/api/openapi.json");
        page.get("/api/pairing");
        page.send("POST", "/api/pair", {{"code", "12345678"}});
        const std::int64_t id = page.add(example_text());
        page.get("/api/jobs");
        page.get("/api/jobs?text=cockpit&limit=5&skip=0&state=enquiry");
        page.get("/api/jobs?state=nonsense");
        const std::string job = "/api/jobs/" + std::to_string(id);
        page.get(job);
        page.get(job + "9999");
        page.send("PATCH", job, {{"state", "quoted"}, {"promised", "2026-05-01"}});
        page.send("PATCH", job, {{"state", "nonsense"}});
        page.send("PATCH", job, {{"promised", "tomorrow"}});
        page.edit(id, 1, "a", set_title("Cockpit sole", "x"));
        page.edit(id, 1, "a", set_title("Cockpit sole", "x"));
        page.edit(id, 1, "b", set_title("Cockpit sole", "y"));
        page.edit(id, 1, "c", set_title("nonsense", "y"));
        page.send("POST", job + "/undo", {{"op_id", "d"}, {"rev", 2}});
        page.get(job + "/revisions");
        page.get(job + "/revisions/2");
        page.send("POST", job + "/layout", {{"rounds", 0}});
        page.get(job + "/layout");
        page.send("DELETE", job + "/layout", nullptr);
        page.send("POST", job + "/fillers", {{"placements", json::array()}});
        page.send("POST", job + "/fillers", {{"placements", 5}});
        page.get(job + "/papers");
        page.get(job + "/papers/index.html");
        page.send("POST", "/api/ask", {{"do", "read_length"}, {"text", "48 1/4"}, {"units", "in"}});
        const json sessions = page.get("/api/sessions").body["sessions"];
        page.send("DELETE", "/api/sessions/" + sessions[0]["id"].get<std::string>(), nullptr);
        page.get("/api/jobs");
    }
    {
        Running running;
        Client page = running.page();
        ask_the_shop(page);
    }
    {
        server::ServeOptions options;
        options.lan = true;
        Running running(options);
        EXPECT_EQ(running.page().get("/api/pairing").status, 200);
    }
    json all = json::array();
    for (const Exchange& e : exchanges()) {
        all.push_back({{"method", e.method},
                       {"path", e.path.substr(0, e.path.find('?'))},
                       {"status", e.status},
                       {"type", e.type},
                       {"body", e.body.empty() ? json(nullptr) : json::parse(e.body, nullptr, false)}});
    }
    const std::string file = std::string(SPILE_BINARY_DIR) + "/api-exchanges.json";
    std::ofstream(file) << all.dump();
    const std::string command = "/usr/bin/python3 '" + std::string(SPILE_SOURCE_DIR) +
                                "/tests/server/api_check.py' '" + std::string(SPILE_SOURCE_DIR) +
                                "/docs/openapi.json' '" + file + "'";
    EXPECT_EQ(std::system(command.c_str()), 0);
}

TEST(Api, tells_what_it_is) {
    Running running;
    Client page = running.page();
    const Answer api = page.get("/api/openapi.json");
    EXPECT_EQ(api.body["openapi"], "3.1.0");
    EXPECT_EQ(api.text, [] {
        std::ifstream in(std::string(SPILE_SOURCE_DIR) + "/docs/openapi.json", std::ios::binary);
        return std::string(std::istreambuf_iterator<char>(in), {});
    }());
}

}  // namespace
}  // namespace spile
