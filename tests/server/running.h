// A server on a free port over a book of its own, and clients that note down every answer.
#pragma once

#include <httplib.h>

#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "server/server.h"

namespace spile::testing {

using nlohmann::json;

std::string example_text(const char* name = "cockpit");

/// What was asked and answered; api_test.cpp holds it to docs/openapi.json.
struct Exchange {
    std::string method, path;
    int status = 0;
    std::string type, body;
};
std::vector<Exchange>& exchanges();

struct Answer {
    int status = 0;  ///< 0: no answer came
    std::string text;
    json body;
    httplib::Headers headers;

    bool ok() const { return body.is_object() && body.value("ok", false); }
    std::string code() const;  ///< of the first finding
};

class Client;

class Running {
  public:
    explicit Running(server::ServeOptions options = {});
    ~Running();
    Running(const Running&) = delete;
    Running& operator=(const Running&) = delete;

    server::Server& server() { return *server_; }
    int port() const { return server_->port(); }
    const std::filesystem::path& folder() const { return folder_; }
    Client page();  ///< with a session, as the page has after it was opened

  private:
    std::filesystem::path folder_;
    std::unique_ptr<server::Server> server_;
    std::thread thread_;
};

class Client {
  public:
    explicit Client(int port, std::string cookie = "");
    /// Opens the page and keeps its cookie.
    void open();
    const std::string& cookie() const { return cookie_; }

    Answer get(const std::string& path, httplib::Headers more = {});
    Answer send(const std::string& method, const std::string& path, const json& body,
                httplib::Headers more = {});
    /// A body as it is.
    Answer raw(const std::string& method, const std::string& path, const std::string& body,
               const std::string& type = "application/json", httplib::Headers more = {});

    /// Adds a job, returns its id.
    std::int64_t add(const std::string& text);
    /// The document and the revision.
    std::pair<json, int> job(std::int64_t id);
    /// Brings a copy of a book in parts of so many bytes; the answer to the last one, or to the first that was refused.
    Answer bring(const std::string& copy, std::size_t part_bytes);
    Answer edit(std::int64_t id, int base_rev, const std::string& op_id, const json& edits);

  private:
    Answer noted(const char* method, const std::string& path, httplib::Result result);

    int port_;
    std::string cookie_;
    std::unique_ptr<httplib::Client> http_;
};

json set_title(const json& old, const std::string& title);

}  // namespace spile::testing
