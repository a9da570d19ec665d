#include "tests/server/running.h"

#include <gtest/gtest.h>
#include <stdlib.h>

#include <fstream>
#include <mutex>
#include <sstream>

#include "shop/base64.h"

namespace spile::testing {

std::string example_text(const char* name) {
    std::ifstream in(std::string(SPILE_SOURCE_DIR) + "/examples/" + name + ".json", std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

std::vector<Exchange>& exchanges() {
    static std::vector<Exchange> all;
    return all;
}

std::string Answer::code() const {
    if (!body.is_object() || !body.contains("findings") || body["findings"].empty()) return "";
    return body["findings"][0].value("code", "");
}

Running::Running(server::ServeOptions options) {
    std::string name = (std::filesystem::temp_directory_path() / "spile-server-XXXXXX").string();
    folder_ = mkdtemp(name.data());
    options.book = (folder_ / "shop.spile").string();
    options.port = 0;
    options.lan_port = 0;
    auto started = server::Server::start(options);
    EXPECT_TRUE(started) << (started.findings.empty() ? "" : started.findings[0].says);
    server_ = std::move(*started);
    thread_ = std::thread([this] { server_->run(); });
}

Running::~Running() {
    server_->stop();
    thread_.join();
    server_.reset();
    std::filesystem::remove_all(folder_);
}

Client Running::page() {
    Client client(port());
    client.open();
    return client;
}

Client::Client(int port, std::string cookie)
    : port_(port), cookie_(std::move(cookie)), http_(std::make_unique<httplib::Client>("127.0.0.1", port)) {
    http_->set_read_timeout(60);
    // A connection kept open holds a thread of the server until it has been idle for long.
    http_->set_keep_alive(false);
}

void Client::open() {
    const Answer page = get("/");
    EXPECT_EQ(page.status, 200);
    const auto cookie = page.headers.find("Set-Cookie");
    ASSERT_NE(cookie, page.headers.end());
    cookie_ = cookie->second.substr(0, cookie->second.find(';'));
}

Answer Client::noted(const char* method, const std::string& path, httplib::Result result) {
    Answer answer;
    if (!result) return answer;
    answer.status = result->status;
    answer.text = result->body;
    answer.headers = result->headers;
    const std::string type = result->get_header_value("Content-Type");
    if (type == "application/json") answer.body = json::parse(result->body, nullptr, false);
    if (path.rfind("/api/", 0) == 0) {
        static std::mutex mutex;
        const std::lock_guard lock(mutex);
        exchanges().push_back({method, path, answer.status, type, answer.body.is_null() ? "" : answer.text});
    }
    return answer;
}

Answer Client::get(const std::string& path, httplib::Headers more) {
    if (!cookie_.empty()) more.emplace("Cookie", cookie_);
    return noted("GET", path, http_->Get(path, more));
}

Answer Client::send(const std::string& method, const std::string& path, const json& body,
                    httplib::Headers more) {
    return raw(method, path, body.is_null() ? "" : body.dump(), "application/json", std::move(more));
}

Answer Client::raw(const std::string& method, const std::string& path, const std::string& body,
                   const std::string& type, httplib::Headers more) {
    if (!cookie_.empty()) more.emplace("Cookie", cookie_);
    if (method == "POST") return noted("POST", path, http_->Post(path, more, body, type));
    if (method == "PATCH") return noted("PATCH", path, http_->Patch(path, more, body, type));
    if (method == "PUT") return noted("PUT", path, http_->Put(path, more, body, type));
    return noted("DELETE", path, http_->Delete(path, more));
}

std::int64_t Client::add(const std::string& text) {
    const Answer made = send("POST", "/api/jobs", {{"text", text}});
    EXPECT_EQ(made.status, 201) << made.text;
    return made.ok() ? made.body["head"]["id"].get<std::int64_t>() : 0;
}

std::pair<json, int> Client::job(std::int64_t id) {
    const Answer answer = get("/api/jobs/" + std::to_string(id));
    EXPECT_EQ(answer.status, 200) << answer.text;
    return {json::parse(answer.body["job"].get<std::string>()), answer.body["head"]["rev"].get<int>()};
}

Answer Client::edit(std::int64_t id, int base_rev, const std::string& op_id, const json& edits) {
    return send("POST", "/api/jobs/" + std::to_string(id) + "/edits",
                {{"op_id", op_id}, {"base_rev", base_rev}, {"why", "test"}, {"edits", edits}});
}

Answer Client::bring(const std::string& copy, std::size_t part_bytes) {
    Answer answer;
    for (std::size_t from = 0; from < copy.size(); from += part_bytes) {
        answer = send("POST", "/api/backups/brought",
                      {{"from", from},
                       {"of", copy.size()},
                       {"base64", shop::to_base64(copy.substr(from, part_bytes))}});
        if (!answer.ok()) break;
    }
    return answer;
}

json set_title(const json& old, const std::string& title) {
    json edit = {{"target", ""}, {"field", "title"}, {"new", title}};
    if (!old.is_null()) edit["old"] = old;
    return json::array({edit});
}

}  // namespace spile::testing
