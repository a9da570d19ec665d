// The workbench on the shop's own machine: the page, and an API over the shop's book.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "core/base/result.h"

namespace spile::server {

struct ServeOptions {
    std::string book;      ///< path of the shop's book, made when there is none
    int port = 8642;       ///< on 127.0.0.1; 0: any free one
    bool lan = false;      ///< also on every address of the machine, with TLS and pairing
    int lan_port = 8643;   ///< 0: any free one
    std::string open_job;  ///< text of a job that the book shall hold; empty: none
    /// What a person at the terminal is told: the pairing code, and a new one after each use.
    std::function<void(const std::string&)> tell;
};

/// Limits that keep one client from starving the others. docs/design/server.md says how they were chosen.
inline constexpr std::size_t kMostThreads = 320;     ///< one for each open connection
inline constexpr std::size_t kMostStreams = 48;      ///< server-sent events at once, all clients together
inline constexpr std::size_t kMostStreamsOfOne = 8;  ///< of one session
inline constexpr std::size_t kLargestBody_bytes = 16'000'000;
inline constexpr std::size_t kLongestPath = 300;
inline constexpr int kReadTimeout_s = 10;

class Server {
  public:
    /// Puts a backup in the place of the book where that was asked for, opens the book and binds the ports.
    /// On bad input: the stops of the book (shop/store.h); "port-taken"; those of the job to open.
    static Result<std::unique_ptr<Server>> start(const ServeOptions& options);
    ~Server();

    int port() const;
    int lan_port() const;                            ///< 0 without --lan
    std::string address() const;                     ///< "http://127.0.0.1:8642/"
    std::vector<std::string> lan_addresses() const;  ///< "https://192.168.0.20:8643/"
    std::string fingerprint() const;                 ///< of the certificate; empty without --lan
    std::string pairing_code() const;                ///< empty without --lan

    /// Serves until stop() is called from another thread.
    void run();
    /// Ends streams and searches, lets answers in the making go out.
    void stop();
    /// It ended so that a backup can take the place of the book: who runs it starts it again.
    bool wants_to_start_again() const;

    struct Inside;

  private:
    explicit Server(std::unique_ptr<Inside> inside);
    std::unique_ptr<Inside> inside_;
};

}  // namespace spile::server
