#include "server/sessions.h"

#include <openssl/crypto.h>
#include <openssl/evp.h>
#include <openssl/rand.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "core/base/check.h"

namespace spile::server {
namespace {

constexpr int wrong_codes = 5;
constexpr auto code_lasts = std::chrono::minutes(10);
constexpr auto between_tries = std::chrono::seconds(1);

std::string hex(const unsigned char* bytes, std::size_t count) {
    std::string text;
    for (std::size_t i = 0; i < count; ++i) {
        text += "0123456789abcdef"[bytes[i] >> 4];
        text += "0123456789abcdef"[bytes[i] & 15];
    }
    return text;
}

std::int64_t now_s() {
    return std::chrono::duration_cast<std::chrono::seconds>(
               std::chrono::system_clock::now().time_since_epoch())
        .count();
}

}  // namespace

std::string random_hex(std::size_t bytes) {
    std::vector<unsigned char> raw(bytes);
    SPILE_CHECK(RAND_bytes(raw.data(), static_cast<int>(bytes)) == 1);
    return hex(raw.data(), bytes);
}

std::string sha256_hex(const std::string& text) {
    unsigned char digest[EVP_MAX_MD_SIZE];
    unsigned int size = 0;
    SPILE_CHECK(EVP_Digest(text.data(), text.size(), digest, &size, EVP_sha256(), nullptr) == 1);
    return hex(digest, size);
}

bool same_secret(const std::string& a, const std::string& b) {
    return a.size() == b.size() && CRYPTO_memcmp(a.data(), b.data(), a.size()) == 0;
}

Sessions::Sessions(const std::string& kept, Keep keep) : keep_(std::move(keep)) {
    const nlohmann::json list = nlohmann::json::parse(kept, nullptr, false);
    if (!list.is_array()) return;
    for (const auto& item : list) {
        if (!item.is_object()) continue;
        Session s;
        s.id = item.value("id", "");
        s.name = item.value("name", "");
        s.since = item.value("since", std::int64_t{0});
        by_hash_[item.value("hash", "")] = s;
    }
}

std::string Sessions::begin(const std::string& name, bool local) {
    const std::string secret = random_hex(32);
    Session s;
    s.id = random_hex(6);
    s.name = name;
    s.local = local;
    s.since = now_s();
    const std::lock_guard lock(mutex_);
    // A browser that forgets its cookies, or a script, must not fill the memory.
    constexpr std::size_t most = 2000;
    if (by_hash_.size() >= most) {
        for (auto it = by_hash_.begin(); it != by_hash_.end();)
            it = it->second.local ? by_hash_.erase(it) : std::next(it);
    }
    by_hash_[sha256_hex(secret)] = s;
    if (!local) keep();
    return secret;
}

std::optional<Session> Sessions::find(const std::string& secret) const {
    if (secret.size() != 64) return std::nullopt;
    // Found by its hash, so the time taken tells nothing about the secret.
    const std::string hash = sha256_hex(secret);
    const std::lock_guard lock(mutex_);
    const auto at = by_hash_.find(hash);
    if (at == by_hash_.end()) return std::nullopt;
    return at->second;
}

bool Sessions::still(const std::string& id) const {
    const std::lock_guard lock(mutex_);
    return std::any_of(by_hash_.begin(), by_hash_.end(), [&id](const auto& s) { return s.second.id == id; });
}

std::vector<Session> Sessions::all() const {
    const std::lock_guard lock(mutex_);
    std::vector<Session> list;
    for (const auto& [hash, session] : by_hash_) list.push_back(session);
    std::sort(list.begin(), list.end(), [](const Session& a, const Session& b) {
        return a.since != b.since ? a.since < b.since : a.id < b.id;
    });
    return list;
}

bool Sessions::revoke(const std::string& id) {
    const std::lock_guard lock(mutex_);
    for (auto it = by_hash_.begin(); it != by_hash_.end(); ++it) {
        if (it->second.id != id) continue;
        by_hash_.erase(it);
        keep();
        return true;
    }
    return false;
}

void Sessions::keep() const {
    nlohmann::json list = nlohmann::json::array();
    for (const auto& [hash, s] : by_hash_) {
        if (!s.local) list.push_back({{"hash", hash}, {"id", s.id}, {"name", s.name}, {"since", s.since}});
    }
    if (keep_) keep_(list.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
}

Pairing::Pairing(std::function<void(const std::string&)> tell) : tell_(std::move(tell)) {
    const std::lock_guard lock(mutex_);
    renew(Clock::now());
}

void Pairing::renew(Clock::time_point now) {
    code_.clear();
    for (const char c : sha256_hex(random_hex(32))) {
        if (code_.size() < 8 && c >= '0' && c <= '9') code_ += c;
    }
    if (code_.size() < 8) return renew(now);
    wrong_ = 0;
    made_ = now;
    if (tell_) tell_(code_);
}

std::string Pairing::code() {
    const std::lock_guard lock(mutex_);
    if (Clock::now() - made_ > code_lasts) renew(Clock::now());
    return code_;
}

Pairing::Answer Pairing::attempt(const std::string& code) {
    const std::lock_guard lock(mutex_);
    const auto now = Clock::now();
    if (now - last_try_ < between_tries) return Answer::wait;
    last_try_ = now;
    if (now - made_ > code_lasts) renew(now);
    if (same_secret(code, code_)) {
        renew(now);
        return Answer::right;
    }
    if (++wrong_ >= wrong_codes) renew(now);
    return Answer::wrong;
}

}  // namespace spile::server
