// Who may ask: sessions, and the code by which another device of the shop gets one. Inside of server/.
#pragma once

#include <chrono>
#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace spile::server {

/// `bytes` of the operating system's randomness, as hexadecimal figures.
std::string random_hex(std::size_t bytes);
/// SHA-256 (FIPS 180-4) as hexadecimal figures.
std::string sha256_hex(const std::string& text);
/// Compares in a time that does not tell where they differ.
bool same_secret(const std::string& a, const std::string& b);

struct Session {
    std::string id;  ///< what it is revoked by; not the secret
    std::string name;
    bool local = false;
    std::int64_t since = 0;  ///< seconds since 1970
};

/// Safe for many threads.
class Sessions {
  public:
    using Keep = std::function<void(const std::string& json)>;

    /// `kept`: what `keep` was last given. Local sessions are not kept: they last as long as the program.
    Sessions(const std::string& kept, Keep keep);

    /// The secret for the cookie.
    std::string begin(const std::string& name, bool local);
    std::optional<Session> find(const std::string& secret) const;
    bool still(const std::string& id) const;  ///< it has not been revoked
    std::vector<Session> all() const;
    bool revoke(const std::string& id);

  private:
    void keep() const;

    mutable std::mutex mutex_;
    std::map<std::string, Session> by_hash_;
    Keep keep_;
};

/// A code of eight figures that works once. Five wrong ones, or ten minutes, and there is a new one.
class Pairing {
  public:
    enum class Answer { right, wrong, wait };
    explicit Pairing(std::function<void(const std::string&)> tell);

    std::string code();
    /// At most one try a second, from whomever.
    Answer attempt(const std::string& code);

  private:
    using Clock = std::chrono::steady_clock;
    void renew(Clock::time_point now);

    std::mutex mutex_;
    std::function<void(const std::string&)> tell_;
    std::string code_;
    int wrong_ = 0;
    Clock::time_point made_, last_try_;
};

}  // namespace spile::server
