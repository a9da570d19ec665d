#include "server/news.h"

#include <algorithm>
#include <chrono>

namespace spile::server {
namespace {

constexpr std::size_t remembered = 1000;

}  // namespace

void News::tell(NewsItem item) {
    {
        const std::lock_guard lock(mutex_);
        item.number = ++newest_;
        items_.push_back(std::move(item));
        if (items_.size() > remembered) items_.pop_front();
    }
    fresh_.notify_all();
}

std::uint64_t News::newest() const {
    const std::lock_guard lock(mutex_);
    return newest_;
}

std::vector<NewsItem> News::follow(std::int64_t job, std::uint64_t& seen, int wait_ms, bool& missed) {
    std::unique_lock lock(mutex_);
    const auto deadline = std::chrono::steady_clock::now() + std::chrono::milliseconds(wait_ms);
    std::vector<NewsItem> found;
    missed = false;
    while (found.empty() && !missed && !ended_) {
        missed = !items_.empty() && items_.front().number > seen + 1 && seen > 0;
        for (const NewsItem& item : items_) {
            if (item.number > seen && item.job == job) found.push_back(item);
        }
        seen = newest_;
        if (found.empty() && !missed && fresh_.wait_until(lock, deadline) == std::cv_status::timeout) break;
    }
    return found;
}

void News::end() {
    {
        const std::lock_guard lock(mutex_);
        ended_ = true;
    }
    fresh_.notify_all();
}

bool News::ended() const {
    const std::lock_guard lock(mutex_);
    return ended_;
}

bool StreamCount::enter(const std::string& session) {
    const std::lock_guard lock(mutex_);
    std::size_t& of_this = of_session_[session];
    if (open_ >= most_ || of_this >= most_of_one_) return false;
    ++open_;
    ++of_this;
    return true;
}

void StreamCount::leave(const std::string& session) {
    const std::lock_guard lock(mutex_);
    --open_;
    if (--of_session_[session] == 0) of_session_.erase(session);
}

}  // namespace spile::server
