// Who is here, pairing, and the end of a session.
#include "server/inside.h"

namespace spile::server {
namespace {

constexpr std::size_t longest_name = 60;

std::string cookie_text(const std::string& name, const std::string& secret, bool secure) {
    return name + "=" + secret + "; Path=/; HttpOnly; SameSite=Strict; Max-Age=31536000" +
           (secure ? "; Secure" : "");
}

}  // namespace

void Server::Inside::session_routes() {
    routes.push_back(
        {"GET", "/api/session", Route::Who::anyone, [this](const Asked& a) {
             return ok(
                 {{"known", !a.session.empty()}, {"name", a.who}, {"local", a.local}, {"lan", options.lan}});
         }});
    routes.push_back({"POST", "/api/pair", Route::Who::anyone, [this](const Asked& a) {
                          Body body(a.body);
                          body.only({"code", "name"});
                          std::string code;
                          for (const char c : body.text("code")) {
                              if (c >= '0' && c <= '9') code += c;
                          }
                          const std::string name = body.text_or("name", "device").substr(0, longest_name);
                          if (!body.good()) return body.refusal();
                          if (!pairing)
                              return refusal(409, "not-shared", "This Spile serves this computer alone.",
                                             "Start it with --lan.");
                          switch (pairing->attempt(code)) {
                              case Pairing::Answer::wait:
                                  return refusal(429, "wait", "Somebody tried a code just now.",
                                                 "Wait a second and try again.");
                              case Pairing::Answer::wrong:
                                  return refusal(
                                      403, "wrong-code", "That is not the code.",
                                      "Look at the shop computer: after five wrong tries it shows another.");
                              case Pairing::Answer::right:
                                  break;
                          }
                          Reply reply = ok({{"name", name}}, 201);
                          reply.headers["Set-Cookie"] =
                              cookie_text(a.secure_cookie, sessions->begin(name, false), !a.local);
                          return reply;
                      }});
    routes.push_back({"GET", "/api/pairing", Route::Who::local, [this](const Asked&) {
                          if (!pairing)
                              return refusal(409, "not-shared", "This Spile serves this computer alone.",
                                             "Start it with --lan.");
                          Json addresses = Json::array();
                          for (const std::string& host : lan_hosts)
                              addresses.push_back("https://" + host + ":" + std::to_string(options.lan_port) +
                                                  "/");
                          return ok({{"code", pairing->code()},
                                     {"addresses", addresses},
                                     {"fingerprint", certificate->fingerprint}});
                      }});
    routes.push_back({"GET", "/api/sessions", Route::Who::session, [this](const Asked& a) {
                          return ok({{"sessions", surface::list_of(sessions->all(), [&a](const Session& s) {
                                          return Json{{"id", s.id},
                                                      {"name", s.name},
                                                      {"local", s.local},
                                                      {"since", s.since},
                                                      {"this", s.id == a.session}};
                                      })}});
                      }});
    routes.push_back({"DELETE", "/api/sessions/{session}", Route::Who::session, [this](const Asked& a) {
                          if (!sessions->revoke(a.part("session")))
                              return refusal(404, "not-there", "There is no such session.",
                                             "Ask for the list.");
                          return ok({});
                      }});
}

}  // namespace spile::server
