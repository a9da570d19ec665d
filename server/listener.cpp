#include "server/listener.h"

#include <httplib.h>
#include <openssl/pem.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <optional>
#include <thread>

#include "server/pages.h"
#include "server/server.h"
#include "server/thread_pool.h"

namespace spile::server {
namespace {

constexpr const char* kBodyTypes = "application/json";
constexpr int kWaiting = 512;  ///< connections that may wait to be taken

std::vector<std::string> segments_of(const std::string& path) {
    std::vector<std::string> segments;
    for (std::size_t i = 1; i <= path.size();) {
        const std::size_t end = std::min(path.find('/', i), path.size());
        segments.push_back(path.substr(i, end - i));
        i = end + 1;
    }
    return segments;
}

/// Whether the path is of this form; its {parts} are then filled in.
bool matches(const char* form, const std::vector<std::string>& segments,
             std::map<std::string, std::string>& parts) {
    const std::vector<std::string> wanted = segments_of(form);
    if (wanted.size() != segments.size()) return false;
    parts.clear();
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        const std::string& w = wanted[i];
        if (w.size() > 2 && w.front() == '{') {
            if (segments[i].empty()) return false;
            parts[w.substr(1, w.size() - 2)] = segments[i];
        } else if (w != segments[i]) {
            return false;
        }
    }
    return true;
}

std::string cookie_of(const httplib::Request& request, const std::string& name) {
    const std::string all = request.get_header_value("Cookie");
    for (std::size_t i = 0; i < all.size();) {
        while (i < all.size() && (all[i] == ' ' || all[i] == ';')) ++i;
        const std::size_t end = std::min(all.find(';', i), all.size());
        const std::size_t equals = all.find('=', i);
        if (equals < end && all.compare(i, equals - i, name) == 0)
            return all.substr(equals + 1, end - equals - 1);
        i = end;
    }
    return "";
}

std::string lower(std::string text) {
    for (char& c : text) {
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
    }
    return text;
}

constexpr const char* content_policy =
    "default-src 'self'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src "
    "'self' data: blob:; "
    "worker-src 'self' blob:; connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; "
    "frame-ancestors 'none'";

constexpr const char* pairing_script =
    R"(document.getElementById("pair").addEventListener("submit", async (event) => {
  event.preventDefault();
  const form = new FormData(event.target);
  const answer = await fetch("/api/pair", { method: "POST", headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ code: form.get("code"), name: form.get("name") }) }).then((r) => r.json());
  if (answer.ok) location.reload();
  else document.getElementById("says").textContent = answer.findings[0].says + " " + answer.findings[0].to_do;
});
)";

}  // namespace

struct Listener::Http {
    Setting setting;
    const std::vector<Route>& routes;
    Sessions& sessions;
    std::unique_ptr<httplib::Server> server;
    std::atomic<bool> begun{false}, ended{false}, stopped{false};
    int port = 0;
    std::string cookie;
    std::vector<std::string> allowed_hosts, allowed_origins;
    socket_t socket = INVALID_SOCKET;  ///< that listens

    Http(Setting s, const std::vector<Route>& r, Sessions& known)
        : setting(std::move(s)),
          routes(r),
          sessions(known),
          cookie(setting.local ? "spile_local" : "spile_shop") {}

    void make();
    void name_hosts();
    void put(const Reply& reply, httplib::Response& response) const;
    static std::optional<Reply> refused_unread(const httplib::Request& request);
    std::optional<Reply> refused_at_the_door(const httplib::Request& request) const;
    void answer(const httplib::Request& request, httplib::Response& response);
    Reply answer_api(const httplib::Request& request, const std::optional<Session>& session);
    void answer_page(const httplib::Request& request, httplib::Response& response,
                     const std::optional<Session>& session);
};

void Listener::Http::make() {
    if (setting.certificate) {
        server = std::make_unique<httplib::SSLServer>([this](SSL_CTX& context) {
            const Certificate& c = *setting.certificate;
            BIO* bio = BIO_new_mem_buf(c.certificate_pem.data(), static_cast<int>(c.certificate_pem.size()));
            X509* x = PEM_read_bio_X509(bio, nullptr, nullptr, nullptr);
            BIO_free(bio);
            bio = BIO_new_mem_buf(c.key_pem.data(), static_cast<int>(c.key_pem.size()));
            EVP_PKEY* key = PEM_read_bio_PrivateKey(bio, nullptr, nullptr, nullptr);
            BIO_free(bio);
            const bool good = x && key && SSL_CTX_set_min_proto_version(&context, TLS1_2_VERSION) == 1 &&
                              SSL_CTX_use_certificate(&context, x) == 1 &&
                              SSL_CTX_use_PrivateKey(&context, key) == 1;
            X509_free(x);
            EVP_PKEY_free(key);
            return good;
        });
    } else {
        server = std::make_unique<httplib::Server>();
    }
    server->new_task_queue = [] { return new GrowingPool(kMostThreads); };
    server->set_payload_max_length(kLargestBody_bytes);
    server->set_read_timeout(kReadTimeout_s);
    server->set_write_timeout(kReadTimeout_s);
    server->set_keep_alive_timeout(20);
    server->set_keep_alive_max_count(100'000);
    server->set_tcp_nodelay(true);
    // Refused before the library reads a body or matches a hostile path. It then takes the body, if there is one, for the next
    // request; that has no session, so everything else is refused only after its body has been read.
    server->set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
        const std::optional<Reply> refused = refused_unread(request);
        if (!refused) return httplib::Server::HandlerResponse::Unhandled;
        put(*refused, response);
        return httplib::Server::HandlerResponse::Handled;
    });
    const auto handler = [this](const httplib::Request& request, httplib::Response& response) {
        answer(request, response);
    };
    server->Get("/.*", handler);
    server->Post("/.*", handler);
    server->Put("/.*", handler);
    server->Patch("/.*", handler);
    server->Delete("/.*", handler);
    server->set_exception_handler(
        [this](const httplib::Request&, httplib::Response& response, std::exception_ptr) {
            put(refusal(500, "fault", "Spile made a fault of its own; nothing was changed by this request.",
                        "Repeat it; if it fails again, tell whoever looks after Spile."),
                response);
        });
    server->set_error_handler([this](const httplib::Request&, httplib::Response& response) {
        if (!response.body.empty() || response.status < 400) return;
        const int status = response.status;
        put(refusal(status, status == 413 ? "file-too-large" : "bad-request",
                    status == 413
                        ? "That is more than " + std::to_string(kLargestBody_bytes / 1'000'000) + " MB."
                        : "That is no request that can be answered.",
                    ""),
            response);
    });
}

void Listener::Http::name_hosts() {
    const std::string scheme = setting.certificate ? "https://" : "http://";
    const int usual = setting.certificate ? 443 : 80;
    for (const std::string& host : setting.hosts) {
        std::vector<std::string> forms{lower(host) + ":" + std::to_string(port)};
        if (port == usual) forms.push_back(lower(host));
        for (const std::string& form : forms) {
            allowed_hosts.push_back(form);
            allowed_origins.push_back(scheme + form);
        }
    }
}

void Listener::Http::put(const Reply& reply, httplib::Response& response) const {
    response.status = reply.status;
    response.set_header("X-Content-Type-Options", "nosniff");
    response.set_header("Referrer-Policy", "no-referrer");
    response.set_header("Cross-Origin-Resource-Policy", "same-origin");
    response.set_header("Cross-Origin-Opener-Policy", "same-origin");
    if (reply.headers.count("Content-Security-Policy") == 0)
        response.set_header("Content-Security-Policy", content_policy);
    if (reply.headers.count("Cache-Control") == 0) response.set_header("Cache-Control", "no-store");
    for (const auto& [name, value] : reply.headers) response.set_header(name, value);
    if (!reply.stream) {
        response.set_content(reply.body, reply.type);
        return;
    }
    response.set_chunked_content_provider(
        reply.type,
        [stream = reply.stream](std::size_t, httplib::DataSink& sink) mutable {
            const auto write = [&sink](std::string_view bytes) {
                return sink.write(bytes.data(), bytes.size());
            };
            if (stream(write)) return true;
            sink.done();
            return false;
        },
        [done = reply.stream_done](bool) {
            if (done) done();
        });
}

std::optional<Reply> Listener::Http::refused_unread(const httplib::Request& request) {
    if (request.path.size() > kLongestPath || request.target.size() > 2 * kLongestPath)
        return refusal(414, "path-too-long", "The address is too long.", "");
    // The library would unpack it whatever it grows to.
    if (request.has_header("Content-Encoding"))
        return refusal(415, "not-json", "Spile takes no packed bodies.", "Send it as it is.");
    return std::nullopt;
}

std::optional<Reply> Listener::Http::refused_at_the_door(const httplib::Request& request) const {
    const auto known = [](const std::vector<std::string>& list, const std::string& value) {
        return std::find(list.begin(), list.end(), lower(value)) != list.end();
    };
    if (request.get_header_value_count("Host") != 1 ||
        !known(allowed_hosts, request.get_header_value("Host")))
        return refusal(421, "other-host", "Spile does not answer to that name.",
                       "Use the address that it printed when it started.");
    for (std::size_t i = 0; i < request.get_header_value_count("Origin"); ++i) {
        if (!known(allowed_origins, request.get_header_value("Origin", i)))
            return refusal(403, "other-origin", "Another page asked; only Spile's own may.", "");
    }
    const std::string site = request.get_header_value("Sec-Fetch-Site");
    const bool page = request.method == "GET" && request.path.rfind("/api/", 0) != 0;
    if (!site.empty() && site != "same-origin" && site != "none" && !page)
        return refusal(403, "other-origin", "Another page asked; only Spile's own may.", "");
    const std::string type = lower(request.get_header_value("Content-Type"));
    const bool has_body = request.method != "GET" && request.method != "HEAD" && request.method != "DELETE";
    if (has_body && type.substr(0, type.find(';')) != kBodyTypes)
        return refusal(415, "not-json", "Spile takes JSON alone.", "Send Content-Type: application/json.");
    return std::nullopt;
}

void Listener::Http::answer(const httplib::Request& request, httplib::Response& response) {
    // The library would pack every answer as small as it can, which took the page's script a second; the way is short. It has no
    // switch for that, and its request is no constant.
    const_cast<httplib::Request&>(request).headers.erase("Accept-Encoding");
    if (const std::optional<Reply> refused = refused_at_the_door(request)) return put(*refused, response);
    const std::optional<Session> session = sessions.find(cookie_of(request, cookie));
    if (request.path.rfind("/api/", 0) == 0) return put(answer_api(request, session), response);
    if (request.method != "GET" && request.method != "HEAD")
        return put(refusal(405, "method", "That cannot be done here.", ""), response);
    answer_page(request, response, session);
}

Reply Listener::Http::answer_api(const httplib::Request& request, const std::optional<Session>& session) {
    Asked asked;
    asked.local = setting.local;
    asked.secure_cookie = cookie;
    if (session) {
        asked.session = session->id;
        asked.who = session->name;
    }
    const std::vector<std::string> segments = segments_of(request.path);
    const Route* found = nullptr;
    bool other_method = false;
    const std::string method = request.method == "HEAD" ? "GET" : request.method;
    for (const Route& route : routes) {
        std::map<std::string, std::string> parts;
        if (!matches(route.path, segments, parts)) continue;
        if (method != route.method) {
            other_method = true;
            continue;
        }
        found = &route;
        asked.path = std::move(parts);
        break;
    }
    if ((!found || found->who != Route::Who::anyone) && !session)
        return refusal(
            401, "no-session", "This device has no session with Spile.",
            setting.local ? "Open the page first." : "Pair it with the code that the shop computer shows.");
    if (!found && other_method) return refusal(405, "method", "That cannot be done here.", "");
    if (!found) return refusal(404, "not-there", "There is nothing at that address.", "");
    if (found->who == Route::Who::local && !setting.local)
        return refusal(403, "not-here", "That is for the shop computer alone.", "");
    for (const auto& [name, value] : request.params) asked.query.emplace(name, value);
    asked.raw = request.body;
    asked.body = JsonValue::object();
    if (!request.body.empty()) {
        Result<JsonValue> body = parse_json(request.body, {kLargestBody_bytes, 400'000, 24});
        if (!body) {
            Reply reply = refusal(body.findings);
            reply.status = 400;
            return reply;
        }
        if (!body->is(JsonValue::Kind::object))
            return refusal(400, "question", "A question is a group in braces.", "Send { ... }.");
        asked.body = std::move(*body);
    }
    return found->answer(asked);
}

void Listener::Http::answer_page(const httplib::Request& request, httplib::Response& response,
                                 const std::optional<Session>& session) {
    Reply reply;
    reply.type = "text/html; charset=utf-8";
    const bool home = request.path == "/" || request.path == "/index.html";
    if (!session && !setting.local) {
        if (request.path == "/pair.js") {
            reply.type = "text/javascript; charset=utf-8";
            reply.body = pairing_script;
            return put(reply, response);
        }
        reply.body = pairing_page;
        reply.status = home ? 200 : 401;
        return put(reply, response);
    }
    if (!session && home)
        reply.headers["Set-Cookie"] =
            cookie + "=" + sessions.begin("this computer", true) + "; Path=/; HttpOnly; SameSite=Strict";
    const PageFile* file = page_file(request.path);
    if (!file && home) {
        reply.body = no_screens_page;
        return put(reply, response);
    }
    if (!file) return put(refusal(404, "not-there", "There is nothing at that address.", ""), response);
    reply.type = file->type;
    reply.headers["ETag"] = std::string("\"") + file->mark + "\"";
    // Names in /assets/ change with their content.
    const bool lasting = request.path.rfind("/assets/", 0) == 0;
    reply.headers["Cache-Control"] = lasting ? "private, max-age=31536000, immutable" : "no-cache";
    if (request.get_header_value("If-None-Match") == reply.headers["ETag"]) {
        reply.status = 304;
        return put(reply, response);
    }
    reply.body = std::string(file->bytes());
    put(reply, response);
}

Listener::Listener(Setting setting, const std::vector<Route>& routes, Sessions& sessions)
    : http_(std::make_unique<Http>(std::move(setting), routes, sessions)) {
    http_->make();
}

Listener::~Listener() = default;

bool Listener::bind() {
    Http& h = *http_;
    const std::string on = h.setting.local ? "127.0.0.1" : "0.0.0.0";
    if (!h.server->is_valid()) return false;
    // The port may be taken again at once after an end, but never shared with another program.
    h.server->set_socket_options([&h](socket_t socket) {
        int yes = 1;
        setsockopt(socket, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof yes);
        h.socket = socket;
    });
    if (h.setting.port == 0) {
        h.port = h.server->bind_to_any_port(on);
        if (h.port <= 0) return false;
    } else {
        if (!h.server->bind_to_port(on, h.setting.port)) return false;
        h.port = h.setting.port;
    }
    // The library lets five connections wait to be taken; of many that come at once the others would lose what they asked.
    if (::listen(h.socket, kWaiting) != 0) return false;
    h.name_hosts();
    return true;
}

int Listener::port() const {
    return http_->port;
}

void Listener::run() {
    http_->begun = true;
    if (!http_->stopped) http_->server->listen_after_bind();
    http_->ended = true;
}

// The library forgets a stop that comes before it listens.
void Listener::stop() {
    http_->stopped = true;
    while (http_->begun && !http_->ended) {
        if (http_->server->is_running()) {
            http_->server->stop();
            return;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
}

}  // namespace spile::server
