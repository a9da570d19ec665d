// Who is let in: foreign names and pages, no session, pairing, bodies and addresses made to harm.
#include <gtest/gtest.h>

#include <atomic>

#include "tests/server/running.h"

namespace spile {
namespace {

using namespace spile::testing;

TEST(Door, other_names_of_this_machine_are_refused) {
    Running running;
    Client page = running.page();
    const std::string port = ":" + std::to_string(running.port());
    // A page of another name that resolves to 127.0.0.1 sends its own name.
    for (const std::string& host :
         {std::string("evil.example") + port, std::string("127.0.0.1"), std::string("127.0.0.1:1"),
          std::string("localhost.evil.example") + port, std::string("127.0.0.1") + port + ".evil.example",
          std::string("[::1]") + port})
        EXPECT_EQ(page.get("/api/jobs", {{"Host", host}}).code(), "other-host") << host;
    EXPECT_EQ(page.get("/", {{"Host", "evil.example"}}).status, 421) << "not even the page";
    EXPECT_EQ(page.get("/api/jobs", {{"Host", "LOCALHOST" + port}}).status, 200);
}

TEST(Door, all_of_many_that_come_at_once_are_let_in) {
    Running running;
    const int many = 200;
    std::atomic<int> ready{0}, answered{0};
    std::vector<std::thread> clients;
    for (int i = 0; i < many; ++i) {
        clients.emplace_back([&] {
            httplib::Client client("127.0.0.1", running.port());
            client.set_connection_timeout(60);
            client.set_read_timeout(60);
            for (++ready; ready < many;) std::this_thread::yield();
            const auto page = client.Get("/");
            if (page && page->status == 200) ++answered;
        });
    }
    for (std::thread& client : clients) client.join();
    EXPECT_EQ(answered, many);
}

TEST(Door, other_pages_are_refused_whatever_they_do) {
    Running running;
    Client page = running.page();
    const std::string own = "http://127.0.0.1:" + std::to_string(running.port());
    const json body = {{"text", example_text()}};
    for (const std::string& origin :
         {std::string("http://evil.example"), std::string("null"), std::string("https://127.0.0.1"),
          own + "1", own + "/", std::string("http://127.0.0.1:1")}) {
        EXPECT_EQ(page.send("POST", "/api/jobs", body, {{"Origin", origin}}).code(), "other-origin")
            << origin;
        EXPECT_EQ(page.get("/api/jobs", {{"Origin", origin}}).code(), "other-origin") << origin;
    }
    for (const char* site : {"cross-site", "same-site"})
        EXPECT_EQ(page.get("/api/jobs", {{"Sec-Fetch-Site", site}}).status, 403) << site;
    EXPECT_EQ(
        page.send("POST", "/api/jobs", body, {{"Origin", own}, {"Sec-Fetch-Site", "same-origin"}}).status,
        201);
    EXPECT_EQ(page.get("/api/jobs").headers.count("Access-Control-Allow-Origin"), 0u);
}

TEST(Door, a_plain_form_cannot_send_a_body) {
    Running running;
    Client page = running.page();
    const std::string body = json{{"text", example_text()}}.dump();
    for (const char* type :
         {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""})
        EXPECT_NE(page.raw("POST", "/api/jobs", body, type).status / 100, 2) << type;
    EXPECT_EQ(page.raw("POST", "/api/jobs", body, "text/plain").code(), "not-json");
    EXPECT_EQ(page.get("/api/jobs").body["count"], 0);
    EXPECT_EQ(page.raw("POST", "/api/jobs", body, "application/json; charset=utf-8").status, 201);
}

/// Packed by the library, the page's script took more than a second on its way to the same machine.
TEST(Door, answers_go_out_as_they_are) {
    Running running;
    Client page = running.page();
    const Answer answer = page.get("/api/openapi.json", {{"Accept-Encoding", "gzip, deflate, br"}});
    EXPECT_EQ(answer.status, 200);
    EXPECT_EQ(answer.headers.count("Content-Encoding"), 0u);
    EXPECT_EQ(answer.headers.find("Content-Length")->second, std::to_string(answer.text.size()));
}

TEST(Door, nothing_is_had_without_a_session) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    Client stranger(running.port());
    const std::string job = "/api/jobs/" + std::to_string(id);
    for (const std::string& path :
         {std::string("/api/jobs"), job, job + "/papers", job + "/events", job + "/layout",
          std::string("/api/sessions"), std::string("/api/pairing"), std::string("/api/nothing")})
        EXPECT_EQ(stranger.get(path).status, 401) << path;
    EXPECT_EQ(stranger.send("POST", "/api/ask", {{"do", "open"}}).status, 401);
    EXPECT_EQ(stranger.send("POST", job + "/edits", json::object()).status, 401);
    for (const std::string& cookie :
         {std::string("spile_local="), std::string("spile_local=") + std::string(64, 'a'),
          "other=" + page.cookie(), page.cookie() + "0", std::string(5000, ';')})
        EXPECT_EQ(stranger.get("/api/jobs", {{"Cookie", cookie}}).status, 401) << cookie.substr(0, 80);
    EXPECT_EQ(stranger.get("/api/session").body["known"], false);
}

TEST(Door, a_revoked_session_is_over_at_once) {
    Running running;
    Client page = running.page(), other = running.page();
    std::string id;
    const json sessions = other.get("/api/sessions").body["sessions"];
    for (const json& s : sessions) {
        if (s["this"]) id = s["id"];
    }
    EXPECT_EQ(page.send("DELETE", "/api/sessions/" + id, nullptr).status, 200);
    EXPECT_EQ(other.get("/api/jobs").status, 401);
    EXPECT_EQ(page.get("/api/jobs").status, 200);
    EXPECT_EQ(page.send("DELETE", "/api/sessions/" + id, nullptr).status, 404);
}

TEST(Door, addresses_made_to_climb_find_nothing) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const std::string job = "/api/jobs/" + std::to_string(id);
    for (const std::string& path :
         {std::string("/../../etc/passwd"), std::string("/..%2f..%2fetc/passwd"),
          std::string("/assets/../../shop.spile"), std::string("/%2e%2e/%2e%2e/etc/passwd"),
          std::string("/shop.spile"), std::string("//etc/passwd"), job + "/papers/..%2f..%2fshop.spile",
          job + "/papers/%2e%2e", job + "/papers/ticket.pdf%00.html", job + "/papers/..\\..\\x",
          std::string("/api/jobs/1%27%20OR%201=1"), std::string("/api/jobs/-1"), std::string("/api/jobs/1e3"),
          std::string("/api/jobs/99999999999999999999"), std::string("/api/jobs//papers")}) {
        const Answer answer = page.get(path);
        EXPECT_TRUE(answer.status == 404 || answer.status == 400) << path << " " << answer.status;
        EXPECT_EQ(answer.text.find("root:"), std::string::npos) << path;
    }
    EXPECT_EQ(page.get("/" + std::string(1000, 'a')).status, 414);
    EXPECT_EQ(page.get("/api/jobs?text=" + std::string(1000, 'a')).status, 414);
    EXPECT_EQ(page.send("PUT", job, json::object()).status, 405);
    EXPECT_EQ(page.send("DELETE", job, nullptr).status, 405);
    EXPECT_EQ(page.send("POST", "/", json::object()).status, 405);
}

TEST(Door, bodies_made_to_harm_are_refused_in_words) {
    Running running;
    Client page = running.page();
    const std::int64_t id = page.add(example_text());
    const std::string edits = "/api/jobs/" + std::to_string(id) + "/edits";
    std::string deep(100'000, '[');
    const std::string bad_utf8 = "{\"text\": \"\xff\xfe\"}";
    for (const std::string& body : {std::string("{"), std::string("nonsense"), deep, bad_utf8,
                                    std::string("[]"), std::string("5"), std::string("{\"a\": NaN}")}) {
        const Answer answer = page.raw("POST", edits, body);
        EXPECT_EQ(answer.status, 400) << body.substr(0, 40) << answer.text;
        EXPECT_NE(answer.code(), "") << body.substr(0, 40);
    }
    const json good = {{"op_id", "x"}, {"base_rev", 1}, {"edits", json::array()}};
    for (const auto& [key, value] :
         std::vector<std::pair<std::string, json>>{{"op_id", ""},
                                                   {"op_id", std::string(500, 'x')},
                                                   {"op_id", 5},
                                                   {"base_rev", 0},
                                                   {"base_rev", -3},
                                                   {"base_rev", 1.5},
                                                   {"base_rev", 1e300},
                                                   {"base_rev", "1"},
                                                   {"edits", "all"},
                                                   {"edits", json::array({1, 2})},
                                                   {"more", 1}}) {
        json body = good;
        body[key] = value;
        const Answer answer = page.send("POST", edits, body);
        EXPECT_EQ(answer.status, 422) << body.dump().substr(0, 100) << answer.text;
    }
    EXPECT_EQ(page.send("POST", "/api/jobs", {{"text", "not a job"}}).status, 422);
    EXPECT_EQ(page.send("POST", "/api/jobs", {{"text", "{\"spile\": 99}"}}).code(), "newer-version");
    EXPECT_EQ(page.job(id).second, 1);
}

TEST(Door, packed_bodies_are_not_unpacked) {
    Running running;
    Client page = running.page();
    EXPECT_EQ(page.raw("POST", "/api/ask", "x", "application/json", {{"Content-Encoding", "gzip"}}).status,
              415);
    EXPECT_EQ(page.get("/api/jobs").status, 200);
}

TEST(Door, too_much_is_refused_and_the_server_lives_on) {
    Running running;
    Client page = running.page();
    const Answer answer = page.raw("POST", "/api/ask", std::string(server::kLargestBody_bytes + 1, ' '));
    EXPECT_TRUE(answer.status == 413 || answer.status == 0)
        << answer.status;  // it may hang up while still being sent to
    EXPECT_EQ(page.send("POST", "/api/jobs", {{"text", std::string(5'000'000, ' ')}}).status, 413);
    EXPECT_EQ(page.get("/api/jobs").status, 200);
}

TEST(Door, says_to_browsers_what_a_page_may_do) {
    Running running;
    Client page = running.page();
    const Answer home = page.get("/");
    const std::string policy = home.headers.find("Content-Security-Policy")->second;
    EXPECT_NE(policy.find("default-src 'self'"), std::string::npos);
    EXPECT_NE(policy.find("frame-ancestors 'none'"), std::string::npos);
    EXPECT_EQ(policy.find("script-src 'self' 'unsafe-inline'"), std::string::npos);
    EXPECT_EQ(home.headers.find("X-Content-Type-Options")->second, "nosniff");
    Client fresh(running.port());
    const std::string cookie = fresh.get("/").headers.find("Set-Cookie")->second;
    for (const char* part : {"HttpOnly", "SameSite=Strict", "Path=/"})
        EXPECT_NE(cookie.find(part), std::string::npos) << cookie;
}

}  // namespace
}  // namespace spile
