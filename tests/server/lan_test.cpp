// The shop's network: TLS, pairing, and nothing without it.
#include <gtest/gtest.h>

#include <chrono>

#include "server/certificate.h"
#include "server/sessions.h"
#include "tests/server/running.h"

namespace spile {
namespace {

using namespace spile::testing;

class Tablet {
  public:
    explicit Tablet(int port) : http_("127.0.0.1", port) {
        http_.enable_server_certificate_verification(
            false);  // it signs itself; people compare the fingerprint
        http_.set_keep_alive(false);
        http_.set_read_timeout(30);
    }
    httplib::Result get(const std::string& path) { return http_.Get(path, headers()); }
    httplib::Result pair(const std::string& code) {
        httplib::Result r = http_.Post("/api/pair", headers(),
                                       json{{"code", code}, {"name", "tablet"}}.dump(), "application/json");
        if (r && r->has_header("Set-Cookie")) {
            set_cookie = r->get_header_value("Set-Cookie");
            cookie_ = set_cookie.substr(0, set_cookie.find(';'));
        }
        return r;
    }
    std::string set_cookie;

  private:
    httplib::Headers headers() const {
        return cookie_.empty() ? httplib::Headers{} : httplib::Headers{{"Cookie", cookie_}};
    }
    httplib::SSLClient http_;
    std::string cookie_;
};

server::ServeOptions shared() {
    server::ServeOptions options;
    options.lan = true;
    return options;
}

TEST(Lan, nothing_is_served_before_pairing) {
    Running running(shared());
    Tablet tablet(running.server().lan_port());
    const auto home = tablet.get("/");
    ASSERT_TRUE(home);
    EXPECT_NE(home->body.find("Pair this device"), std::string::npos);
    EXPECT_FALSE(home->has_header("Set-Cookie"));
    EXPECT_EQ(tablet.get("/assets/index.js")->status, 401);
    EXPECT_EQ(tablet.get("/api/jobs")->status, 401);
    EXPECT_EQ(tablet.get("/api/pairing")->status, 401);
}

TEST(Lan, the_code_pairs_one_device_once) {
    Running running(shared());
    Tablet tablet(running.server().lan_port()), thief(running.server().lan_port());
    const std::string code = running.server().pairing_code();
    ASSERT_EQ(code.size(), 8u);
    EXPECT_EQ(tablet.pair(code.substr(0, 4) + " " + code.substr(4))->status, 201);
    EXPECT_NE(tablet.set_cookie.find("; Secure"), std::string::npos) << tablet.set_cookie;
    EXPECT_EQ(tablet.get("/api/jobs")->status, 200);
    EXPECT_EQ(tablet.get("/api/pairing")->status, 403) << "for the shop computer alone";
    EXPECT_NE(running.server().pairing_code(), code);
    std::this_thread::sleep_for(std::chrono::milliseconds(1100));
    EXPECT_EQ(thief.pair(code)->status, 403);

    // And is shown out again from the shop computer.
    Client page = running.page();
    const json sessions = page.get("/api/sessions").body["sessions"];
    for (const json& s : sessions) {
        if (s["local"]) continue;
        EXPECT_EQ(page.send("DELETE", "/api/sessions/" + s["id"].get<std::string>(), nullptr).status, 200);
    }
    EXPECT_EQ(tablet.get("/api/jobs")->status, 401);
}

TEST(Lan, guessing_is_slow_and_changes_the_code) {
    server::Pairing pairing(nullptr);
    const std::string code = pairing.code();
    const std::string wrong = code == "00000000" ? "11111111" : "00000000";
    EXPECT_EQ(pairing.attempt(wrong), server::Pairing::Answer::wrong);
    EXPECT_EQ(pairing.attempt(code), server::Pairing::Answer::wait) << "even the right one, within a second";
    for (int i = 0; i < 4; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(1050));
        EXPECT_EQ(pairing.attempt(wrong), server::Pairing::Answer::wrong);
    }
    EXPECT_NE(pairing.code(), code);
}

TEST(Lan, sessions_outlive_the_program_as_hashes) {
    std::string kept;
    std::string secret;
    {
        server::Sessions sessions("", [&kept](const std::string& json) { kept = json; });
        secret = sessions.begin("tablet", false);
        sessions.begin("this computer", true);
    }
    EXPECT_EQ(kept.find(secret), std::string::npos);
    server::Sessions again(kept, nullptr);
    ASSERT_TRUE(again.find(secret));
    EXPECT_EQ(again.find(secret)->name, "tablet");
    EXPECT_EQ(again.all().size(), 1u);
    EXPECT_FALSE(again.find(secret.substr(1)));
    EXPECT_EQ(server::Sessions("nonsense", nullptr).all().size(), 0u);
}

TEST(Lan, hashes_are_those_of_the_standard) {
    // FIPS 180-4's example of one block: "abc" (NIST, Secure Hash Standard examples; value from memory).
    EXPECT_EQ(server::sha256_hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
}

TEST(Lan, the_certificate_is_for_the_names_it_was_made_for) {
    const auto made = server::make_certificate({"192.0.2.7", "shop"});
    ASSERT_TRUE(made);
    EXPECT_EQ(made->fingerprint.size(), 95u);
    const auto read = server::read_certificate(made->certificate_pem, made->key_pem, {"192.0.2.7", "shop"});
    ASSERT_TRUE(read);
    EXPECT_EQ(read->fingerprint, made->fingerprint);
    EXPECT_FALSE(server::read_certificate(made->certificate_pem, made->key_pem, {"192.0.2.8"}));
    EXPECT_FALSE(server::read_certificate("nonsense", made->key_pem, {}));
}

}  // namespace
}  // namespace spile
