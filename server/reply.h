// What a route sees of a request and gives back, so that no route knows the HTTP library. Inside of server/.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "wasm/show.h"

namespace spile::server {

using surface::Json;

/// A request that was let in.
struct Asked {
    std::map<std::string, std::string> path;  ///< {"id": "12"} of /api/jobs/{id}
    std::map<std::string, std::string> query;
    JsonValue body;             ///< an empty group without one
    std::string raw;            ///< the same as it came
    std::string session;        ///< whose it is
    std::string who;            ///< its name, for the history
    bool local = false;         ///< from this machine
    std::string secure_cookie;  ///< name of the cookie that this listener uses

    const std::string& part(const char* name) const { return path.at(name); }
    std::int64_t number(const char* name) const;  ///< of the path; 0 when it is none
    std::int64_t query_number(const char* name, std::int64_t otherwise) const;
    std::string query_text(const char* name) const;
};

struct Reply {
    int status = 200;
    std::string body;
    std::string type = "application/json";
    std::map<std::string, std::string> headers;
    /// Set: a stream of server-sent events. Called again and again; writes the next bytes, returns false at the end.
    std::function<bool(const std::function<bool(std::string_view)>& write)> stream;
    std::function<void()> stream_done;
};

Reply ok(Json json, int status = 200);                ///< adds "ok": true
Reply refusal(const std::vector<Finding>& findings);  ///< the status goes by the first finding's code
Reply refusal(int status, const char* code, std::string says, std::string to_do);
/// 404, 409, 413, 422, 503, ...
int status_of(const std::vector<Finding>& findings);

/// What a body must hold; every fault is kept, `good()` tells.
class Body {
  public:
    explicit Body(const JsonValue& body) : body_(body) {}
    bool good() const { return faults_.empty(); }
    Reply refusal() const;

    std::string text(const char* key);
    std::string text_or(const char* key, const std::string& otherwise);
    std::int64_t whole(const char* key, std::int64_t least, std::int64_t most);
    std::int64_t whole_or(const char* key, std::int64_t otherwise, std::int64_t least, std::int64_t most);
    double number(const char* key, double least, double most);
    bool flag_or(const char* key, bool otherwise);
    bool has(const char* key) const { return body_.find(key) != nullptr; }
    const JsonValue& value(const char* key) const;
    void fault(std::string says, std::string to_do);
    /// A fault for every key that is not one of these.
    void only(std::initializer_list<const char*> keys);

  private:
    const JsonValue& body_;
    std::vector<Finding> faults_;
};

struct Route {
    enum class Who { anyone, session, local };
    const char* method;
    const char* path;  ///< "/api/jobs/{id}/edits"
    Who who = Who::session;
    std::function<Reply(const Asked&)> answer;
};

}  // namespace spile::server
