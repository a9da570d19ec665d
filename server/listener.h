// One port: who is let in, which route answers, and the limits of a connection. The only file that knows the HTTP library is
// listener.cpp. Inside of server/.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "server/certificate.h"
#include "server/reply.h"
#include "server/sessions.h"

namespace spile::server {

/// Requests are let in by these rules, in this order:
/// 1. the path is short and the Host header is one of ours (a page of another name that resolves to this machine is
///    refused: DNS rebinding);
/// 2. an Origin or Sec-Fetch-Site that is not our own is refused, whatever the method;
/// 3. a body is JSON by its Content-Type, so that no plain form of another page can send one;
/// 4. everything but the page, the session and pairing needs a session. On the local port the page itself begins one; on
///    the shop's network pairing does, and without one nothing is served but the pairing page.
class Listener {
  public:
    struct Setting {
        bool local = true;
        int port = 0;                    ///< 0: any
        std::vector<std::string> hosts;  ///< names and addresses it answers to, without the port
        const Certificate* certificate = nullptr;
    };
    Listener(Setting setting, const std::vector<Route>& routes, Sessions& sessions);
    ~Listener();

    bool bind();  ///< false: the port is taken
    int port() const;
    void run();  ///< until stop(), also one that came first
    void stop();

  private:
    struct Http;
    std::unique_ptr<Http> http_;
};

}  // namespace spile::server
