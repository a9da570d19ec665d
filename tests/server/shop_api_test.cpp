// The shop's book over the wire: what is wrong, huge or made to harm is refused in words and changes nothing.
#include <gtest/gtest.h>

#include <fstream>
#include <tuple>

#include "tests/server/shop_day.h"

namespace spile {
namespace {

using namespace spile::testing;

const char* kWhole = R"({"width": 72})";

TEST(ShopApi, a_layout_is_cut_once_and_comes_back) {
    Running running;
    Client page = running.page();
    const std::int64_t id = kept_example(page);
    const std::string job = "/api/jobs/" + std::to_string(id);
    page.send("POST", "/api/goods",
              {{"name", "woven vinyl, sand, foam back"}, {"goods", json::parse(kWhole)}});
    page.send("POST", "/api/goods", {{"name", "carpet"}, {"goods", json::parse(kWhole)}});
    page.send("POST", "/api/rolls", {{"goods", 1}, {"lot", "L1"}, {"length_mm", 5000}});
    page.send("POST", "/api/rolls", {{"goods", 2}, {"lot", "L1"}, {"length_mm", 5000}});
    EXPECT_EQ(page.send("POST", job + "/cut", {{"roll", 2}}).code(), "goods-differ");
    EXPECT_EQ(page.send("POST", job + "/cut", {{"roll", 9}}).status, 404);
    EXPECT_EQ(page.send("POST", job + "/cut", json::object()).code(), "stock-missing");
    EXPECT_EQ(page.job(id).second, 2) << "nothing was written";
    const Answer cut = page.send("POST", job + "/cut", {{"roll", 1}});
    ASSERT_EQ(cut.status, 201) << cut.text;
    EXPECT_EQ(page.job(id).second, 3);
    EXPECT_EQ(page.send("POST", job + "/cut", {{"roll", 1}}).status, 409);
    const json layout = page.get(job + "/cut").body["layouts"][0];
    EXPECT_NEAR(page.get("/api/rolls/1").body["roll"]["left_mm"].get<double>(),
                5000 - layout["used_mm"].get<double>(), 1e-6);
    const std::string name = layout["id"];
    EXPECT_EQ(page.send("DELETE", "/api/cut/" + name, nullptr).status, 200);
    EXPECT_EQ(page.send("DELETE", "/api/cut/" + name, nullptr).status, 404);
    EXPECT_EQ(page.get("/api/rolls/1").body["roll"]["left_mm"], 5000.0);
    // The job keeps no layout any more; nothing is looked for while others wait.
    EXPECT_EQ(page.send("POST", job + "/cut", {{"roll", 1}}).code(), "layout-missing");
}

TEST(ShopApi, a_paper_once_sent_stays_as_it_was) {
    Running running;
    Client page = running.page();
    const std::string job = "/api/jobs/" + std::to_string(kept_example(page));
    EXPECT_EQ(page.send("POST", job + "/sent", {{"kind", "quote"}}).code(), "prices-missing");
    EXPECT_EQ(page.send("POST", job + "/sent", {{"kind", "invoice"}}).code(), "quote-missing");
    std::ifstream in(std::string(SPILE_SOURCE_DIR) + "/examples/shop/prices.json");
    page.send("POST", "/api/prices", {{"text", std::string(std::istreambuf_iterator<char>(in), {})}});
    const json look = page.send("POST", job + "/cost", json::object()).body;
    EXPECT_TRUE(page.get(job + "/sent").body["papers"].empty()) << "a look sends nothing";
    const json sent = page.send("POST", job + "/sent", {{"kind", "quote"}}).body;
    EXPECT_EQ(sent["paper"]["total"], look["priced"][0]["total"]);
    const Answer first = page.get("/api/sent/Q-0001");
    EXPECT_EQ(first.text.substr(0, 5), "%PDF-");
    EXPECT_EQ(first.headers.find("Content-Security-Policy")->second.substr(0, 18), "default-src 'none'");
    page.edit(1, 2, "t", set_title("Cockpit sole", "Changed"));
    EXPECT_EQ(page.get("/api/sent/Q-0001").text, first.text);
    for (const char* method : {"PUT", "DELETE", "PATCH"})
        EXPECT_GE(page.send(method, "/api/sent/Q-0001", json::object()).status, 400) << method;
}

TEST(ShopApi, wrong_huge_and_hostile_bodies_change_nothing) {
    Running running;
    Client page = running.page();
    page.send("POST", "/api/goods", {{"name", "vinyl"}, {"goods", json::parse(kWhole)}});
    const std::vector<std::pair<const char*, json>> wrong = {
        {"/api/goods", {{"name", "x"}}},
        {"/api/goods", {{"name", "x"}, {"goods", "wide"}}},
        {"/api/goods", {{"name", "vinyl"}, {"goods", json::parse(kWhole)}}},
        {"/api/goods", {{"name", 7}, {"goods", json::parse(kWhole)}}},
        {"/api/goods", {{"name", std::string(5000, 'x')}, {"goods", json::parse(kWhole)}}},
        {"/api/goods", {{"name", "a\u0001b"}, {"goods", json::parse(kWhole)}}},
        {"/api/goods", {{"name", "x"}, {"goods", json::parse(kWhole)}, {"price", 1}}},
        {"/api/rolls", {{"goods", 1}, {"lot", "L"}, {"length_mm", -5}}},
        {"/api/rolls", {{"goods", 1}, {"lot", "L"}, {"length_mm", 1e300}}},
        {"/api/rolls", {{"goods", 1}, {"lot", "L"}, {"length_mm", "ten"}}},
        {"/api/rolls", {{"goods", 1.5}, {"lot", "L"}, {"length_mm", 10}}},
        {"/api/rolls", {{"goods", 99}, {"lot", "L"}, {"length_mm", 10}}},
        {"/api/customers", {{"name", ""}}},
        {"/api/customers", {{"name", json::array()}}},
        {"/api/boats", {{"model", "x"}, {"year", 1500}}},
        {"/api/boats", {{"model", "x"}, {"customer", 5}}},
        {"/api/prices", {{"text", "{}"}}},
        {"/api/prices", {{"text", R"({"prices": 1})"}}},
        {"/api/prices", {{"text", R"({"prices": 1, "since": "2026-01-01", "snap": "-1"})"}}},
        {"/api/jobs/1/cost", {{"instead", "vinyl"}}},
        {"/api/jobs/1/cost", {{"instead", json::array({1, 2})}}},
        {"/api/jobs/1/cost", {{"instead", std::vector<std::string>(500, "vinyl")}}},
        {"/api/jobs/1/cost", json::object()},
        {"/api/jobs/1/cut", {{"roll", -1}}},
        {"/api/jobs/1/payments", {{"amount", "1e9"}}},
        {"/api/jobs/1/check-sizes", {{"lines", 5}}},
        {"/api/jobs/1/check-sizes", {{"lines", std::vector<std::string>(500, "A B 12")}}},
        {"/api/jobs/1/repeat", json::object()},
        {"/api/jobs/0/repeat", json::object()},
        {"/api/jobs/99999999999999999999/repeat", json::object()}};
    for (const auto& [path, body] : wrong) {
        const Answer answer = page.send("POST", path, body);
        EXPECT_GE(answer.status, 400) << path << body.dump().substr(0, 100);
        EXPECT_LT(answer.status, 500) << path << answer.text.substr(0, 300);
        EXPECT_NE(answer.code(), "") << path;
    }
    EXPECT_EQ(page.get("/api/goods").body["goods"].size(), 1u);
    EXPECT_TRUE(page.get("/api/rolls").body["rolls"].empty());
    EXPECT_TRUE(page.get("/api/customers").body["customers"].empty());
    EXPECT_TRUE(page.get("/api/boats").body["boats"].empty());
    EXPECT_TRUE(page.get("/api/prices").body["prices"].empty());
    EXPECT_EQ(page.send("PUT", "/api/settings/certificate", {{"key", "mine"}}).status, 404);
    EXPECT_EQ(page.send("PUT", "/api/settings/shop", {{"name", std::string(200'000, 'x')}}).status, 422);
    EXPECT_EQ(page.send("PUT", "/api/settings/shop", json::array()).status, 400) << "no group";
    // Words of a search are words, whatever they look like.
    EXPECT_TRUE(page.get("/api/goods?text=%27%20OR%201%3D1%20--").body["goods"].empty());
    EXPECT_EQ(page.get("/api/goods?text=%25").body["goods"].size(), 0u);
    EXPECT_EQ(page.get("/api/offcuts?lot=%27%3B%20DROP%20TABLE%20offcut").status, 200);
    EXPECT_EQ(page.get("/api/sent/..%2F..%2Fshop.spile").status, 404);
    EXPECT_EQ(page.get("/api/prices/yesterday").status, 422);
    EXPECT_EQ(page.get("/api/book").status, 200);
}

TEST(ShopApi, notes_files_minutes_and_totals) {
    Running running;
    Client page = running.page();
    const std::string job = "/api/jobs/" + std::to_string(page.add(example_text()));
    ASSERT_EQ(page.send("POST", job + "/notes", {{"text", "Lid lifts aft.\n\u00e9t\u00e9"}}).status, 201);
    EXPECT_EQ(page.get(job + "/notes").body["notes"][0]["text"], "Lid lifts aft.\n\u00e9t\u00e9");
    // Every byte, the nothing among them, comes back; what could run in the page is only ever saved.
    const json picture = {{"name", "port.svg"}, {"media", "image/svg+xml"}, {"base64", "AP8+Pz4="}};
    const Answer kept = page.send("POST", job + "/files", picture);
    ASSERT_EQ(kept.status, 201) << kept.text;
    EXPECT_EQ(kept.body["file"]["bytes"], 5);
    const Answer got = page.get(job + "/files/1");
    EXPECT_EQ(got.text, std::string("\0\xff>?>", 5));
    EXPECT_EQ(got.headers.find("Content-Type")->second, "application/octet-stream");
    EXPECT_EQ(got.headers.find("Content-Disposition")->second, "attachment");
    // Of that job alone.
    const std::string other = "/api/jobs/" + std::to_string(page.add(example_text()));
    EXPECT_EQ(page.get(other + "/files/1").status, 404);
    EXPECT_EQ(page.send("DELETE", other + "/files/1", nullptr).status, 404);
    EXPECT_EQ(page.send("DELETE", job + "/files/1", nullptr).status, 200);
    EXPECT_TRUE(page.get(job + "/files").body["files"].empty());
    const Answer ticket = page.send("PUT", job + "/ticket", {{"minutes", 400}, {"visits", 3}});
    ASSERT_EQ(ticket.status, 200) << ticket.text;
    EXPECT_EQ(ticket.body["ticket"]["counts"]["visit"], 3.0);
    page.send("PUT", job + "/ticket", {{"minutes", 430}});
    EXPECT_EQ(page.get("/api/tickets").body["tickets"].size(), 1u) << "the second replaces the first";
    EXPECT_EQ(page.get("/api/totals?from=2020-01-01").body["totals"]["minutes"], 430.0);
}

TEST(ShopApi, wrong_huge_and_hostile_records_change_nothing) {
    Running running;
    Client page = running.page();
    const std::string job = "/api/jobs/" + std::to_string(page.add(example_text()));
    const auto file = [](const std::string& name, const std::string& base64) {
        return json{{"name", name}, {"media", "image/png"}, {"base64", base64}};
    };
    const std::vector<std::tuple<const char*, std::string, json>> wrong = {
        {"POST", job + "/notes", json::object()},
        {"POST", job + "/notes", {{"text", ""}}},
        {"POST", job + "/notes", {{"text", 7}}},
        {"POST", job + "/notes", {{"text", "a\u0001b"}}},
        {"POST", job + "/notes", {{"text", std::string(30'000, 'x')}}},
        {"POST", job + "/notes", {{"text", "x"}, {"by", "somebody else"}}},
        {"POST", "/api/jobs/99/notes", {{"text", "x"}}},
        {"POST", job + "/files", json::object()},
        {"POST", job + "/files", file("", "AAAA")},
        {"POST", job + "/files", file("../../etc/passwd", "AAAA")},
        {"POST", job + "/files", file("a\r\nSet-Cookie: x", "AAAA")},
        {"POST", job + "/files", file("a", "")},
        {"POST", job + "/files", file("a", "AAA")},
        {"POST", job + "/files", file("a", "A===")},
        {"POST", job + "/files", file("a", "AA AA A=")},
        {"POST", job + "/files", file(std::string(5000, 'x'), "AAAA")},
        {"POST", "/api/jobs/99/files", file("a", "AAAA")},
        {"PUT", job + "/ticket", json::object()},
        {"PUT", job + "/ticket", {{"minutes", 0}}},
        {"PUT", job + "/ticket", {{"minutes", -3}}},
        {"PUT", job + "/ticket", {{"minutes", 1e300}}},
        {"PUT", job + "/ticket", {{"minutes", "ten"}}},
        {"PUT", job + "/ticket", {{"minutes", 10}, {"visits", -1}}},
        {"PUT", "/api/jobs/99/ticket", {{"minutes", 10}}}};
    for (const auto& [method, path, body] : wrong) {
        const Answer answer = page.send(method, path, body);
        EXPECT_GE(answer.status, 400) << path << body.dump().substr(0, 100);
        EXPECT_LT(answer.status, 500) << path << answer.text.substr(0, 300);
        EXPECT_NE(answer.code(), "") << path;
    }
    EXPECT_EQ(page.send("POST", job + "/files", file("a", std::string(17'000'000, 'A'))).status, 413);
    EXPECT_TRUE(page.get(job + "/notes").body["notes"].empty());
    EXPECT_TRUE(page.get(job + "/files").body["files"].empty());
    EXPECT_TRUE(page.get("/api/tickets").body["tickets"].empty());
    for (const char* days : {"", "?from=yesterday", "?from=2026-02-30", "?from=2026-02-01&to=2026-01-01"})
        EXPECT_EQ(page.get("/api/totals" + std::string(days)).status, 422) << days;
    EXPECT_EQ(page.get(job + "/files/-1").status, 404);
    EXPECT_EQ(page.get(job + "/files/..%2F1").status, 404);
    EXPECT_EQ(page.get("/api/jobs/99/files").status, 404);
}

TEST(ShopApi, a_backup_is_made_beside_the_book) {
    Running running;
    Client page = running.page();
    const Answer made = page.send("POST", "/api/backups", json::object());
    ASSERT_EQ(made.status, 201) << made.text;
    const std::filesystem::path file = running.folder() / "backups" / made.body["name"].get<std::string>();
    EXPECT_TRUE(std::filesystem::exists(file)) << file;
    EXPECT_EQ(page.send("POST", "/api/backups", {{"to", "/etc/passwd"}}).status, 422);
}

std::string in_address(std::string name) {
    for (std::size_t at = name.find(' '); at != std::string::npos; at = name.find(' '))
        name.replace(at, 1, "%20");
    return name;
}

TEST(ShopApi, a_backup_is_listed_carried_away_and_proved_and_a_damaged_one_is_not) {
    Running running;
    Client page = running.page();
    EXPECT_TRUE(page.get("/api/backups").body["backups"].empty());
    page.send("POST", "/api/goods", {{"name", "vinyl"}, {"goods", json::parse(kWhole)}});
    const std::string name =
        page.send("POST", "/api/backups", json::object()).body["name"].get<std::string>();
    EXPECT_EQ(page.get("/api/backups").body["backups"][0]["name"], name);
    const std::string at = "/api/backups/" + in_address(name);
    EXPECT_EQ(page.get(at).text.substr(0, 15), "SQLite format 3");
    EXPECT_EQ(page.send("POST", at + "/try", json::object()).status, 200);
    const std::filesystem::path folder = running.folder() / "backups";
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1) << "no trial is left";
    EXPECT_EQ(page.get("/api/backups/..%2Fshop.spile").status, 404);
    EXPECT_EQ(page.get("/api/backups/none.spile").status, 404);
    std::filesystem::resize_file(folder / name, 5000);
    EXPECT_GE(page.send("POST", at + "/try", json::object()).status, 400);
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1);
}

TEST(ShopApi, a_copy_from_elsewhere_is_brought_in_parts_and_stands_among_the_copies) {
    Running elsewhere;
    Client there = elsewhere.page();
    there.send("POST", "/api/goods", {{"name", "vinyl from elsewhere"}, {"goods", json::parse(kWhole)}});
    const std::string made = there.send("POST", "/api/backups", json::object()).body["name"];
    const std::string copy = there.get("/api/backups/" + in_address(made)).text;

    Running running;
    Client page = running.page();
    const Answer brought = page.bring(copy, 10'000);
    ASSERT_EQ(brought.status, 201) << brought.text;
    EXPECT_EQ(brought.body["name"].get<std::string>().rfind("brought ", 0), 0u);
    const std::filesystem::path folder = running.folder() / "backups";
    EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1)
        << "nothing half brought is left";
    EXPECT_EQ(page.get("/api/backups").body["backups"][0]["name"], brought.body["name"]);
    EXPECT_EQ(page.get("/api/backups/" + in_address(brought.body["name"])).text, copy);
    EXPECT_EQ(page.get("/api/goods").body["goods"].size(), 0u) << "the book itself is as it was";
    EXPECT_EQ(page.bring(copy, 1'000'000).status, 201) << "the same again gets a name of its own";
    EXPECT_EQ(page.get("/api/backups").body["backups"].size(), 2u);
}

/// Changes the bytes of a book that was closed.
std::string with_bytes(std::string book, std::size_t at, std::string_view bytes) {
    return book.replace(at, bytes.size(), bytes);
}

TEST(ShopApi, what_is_no_whole_book_of_a_known_version_is_not_taken) {
    Running running;
    Client page = running.page();
    const std::string made = page.send("POST", "/api/backups", json::object()).body["name"];
    const std::string copy = page.get("/api/backups/" + in_address(made)).text;
    const std::filesystem::path folder = running.folder() / "backups";
    const auto refused = [&](const std::string& bytes, int status, const char* code) {
        const Answer answer = page.bring(bytes, 50'000);
        EXPECT_EQ(answer.status, status) << code << ": " << answer.text;
        EXPECT_EQ(answer.body["findings"][0]["code"], code) << answer.text;
        EXPECT_EQ(answer.text.find(folder.string()), std::string::npos) << "no path of the machine";
        EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder), {}), 1)
            << code << ": something is left";
    };
    // SQLite, "Database File Format", section 1.3: user version at 60, application id at 68.
    const std::string newer{0, 0, 0, 99};
    refused("x", 422, "shop-not-a-book");
    refused(std::string(3'000'000, '\0'), 422, "shop-not-a-book");
    refused("PK\3\4" + std::string(2000, 'z'), 422, "shop-not-a-book");
    refused(with_bytes(copy, 68, "Note"), 422, "shop-not-a-book");
    refused(with_bytes(copy, 60, newer), 422, "shop-newer");
    refused(copy.substr(0, copy.size() / 2), 422, "shop-damaged");
    std::string torn = copy;
    for (std::size_t at = 6000; at < torn.size(); at += 4096)
        torn.replace(at, std::min<std::size_t>(900, torn.size() - at),
                     std::min<std::size_t>(900, torn.size() - at), '\xff');
    refused(torn, 422, "shop-damaged");
    // The mark of a book, and a table of it called by another name.
    std::string other = copy;
    for (std::size_t at = 0; (at = other.find("reservation", at)) != std::string::npos; at += 11)
        other.replace(at, 11, "reservatioz");
    ASSERT_NE(other, copy);
    refused(other, 422, "shop-not-a-book");
    EXPECT_EQ(page.get("/api/book").status, 200);
}

TEST(ShopApi, parts_of_a_copy_that_do_not_fit_together_are_refused) {
    Running running;
    Client page = running.page();
    const auto part = [&](const json& body) {
        return page.send("POST", "/api/backups/brought", body).status;
    };
    EXPECT_EQ(part(json::object()), 422);
    EXPECT_EQ(part({{"from", 0}, {"of", 0}, {"base64", ""}}), 422);
    EXPECT_EQ(part({{"from", -1}, {"of", 9}, {"base64", "AA=="}}), 422);
    EXPECT_EQ(part({{"from", 0}, {"of", 9}, {"base64", "no base64 !"}}), 422);
    EXPECT_EQ(part({{"from", 0}, {"of", 9}, {"base64", "AA=="}, {"to", "/etc/passwd"}}), 422);
    EXPECT_EQ(part({{"from", 0}, {"of", 2'000'000'001}, {"base64", "AA=="}}), 413);
    EXPECT_EQ(part({{"from", 0}, {"of", 9}, {"base64", ""}}), 409) << "a part of nothing";
    EXPECT_EQ(part({{"from", 3}, {"of", 9}, {"base64", "AA=="}}), 409) << "nothing has begun";
    EXPECT_EQ(part({{"from", 0}, {"of", 9}, {"base64", "AAAA"}}), 200);
    EXPECT_EQ(part({{"from", 2}, {"of", 9}, {"base64", "AAAA"}}), 409) << "not the next";
    EXPECT_EQ(part({{"from", 3}, {"of", 8}, {"base64", "AAAA"}}), 409) << "of another copy";
    EXPECT_EQ(part({{"from", 3}, {"of", 9}, {"base64", "AAAAAAAAAAAA"}}), 409) << "more than it has";
    EXPECT_EQ(part({{"from", 3}, {"of", 9}, {"base64", "AAAA"}}), 200) << "and goes on where it was";
    EXPECT_EQ(part({{"from", 6}, {"of", 9}, {"base64", "AAAA"}}), 422) << "nine bytes are no book";
    EXPECT_TRUE(page.get("/api/backups").body["backups"].empty());
    EXPECT_EQ(page.get("/api/book").status, 200);
}

TEST(ShopApi, a_roll_says_who_holds_it) {
    Running running;
    Client page = running.page();
    const std::int64_t mat = page.add(example_text());
    page.send("POST", "/api/goods", {{"name", "mat"}, {"goods", json::parse(kWhole)}});
    page.send("POST", "/api/rolls", {{"goods", 1}, {"lot", "L1"}, {"length_mm", 5000}});
    page.send("POST", "/api/rolls/1/reserve", {{"job", mat}, {"length_mm", 1000}});
    const json held = page.get("/api/rolls/1").body["reserved_for"];
    ASSERT_EQ(held.size(), 1u);
    EXPECT_EQ(held[0]["job"], mat);
    EXPECT_EQ(held[0]["length_mm"], 1000.0);
}

}  // namespace
}  // namespace spile
