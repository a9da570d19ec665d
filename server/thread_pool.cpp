#include "server/thread_pool.h"

#include <chrono>

namespace spile::server {
namespace {

constexpr auto idle_for = std::chrono::seconds(20);

}  // namespace

void GrowingPool::enqueue(std::function<void()> work) {
    const std::lock_guard lock(mutex_);
    waiting_.push_back(std::move(work));
    if (idle_ >= waiting_.size() || threads_ >= most_) {
        wake_.notify_one();
        return;
    }
    ++threads_;
    std::thread([this] { serve(); }).detach();
}

void GrowingPool::serve() {
    std::unique_lock lock(mutex_);
    for (;;) {
        ++idle_;
        wake_.wait_for(lock, idle_for, [this] { return ended_ || !waiting_.empty(); });
        --idle_;
        if (waiting_.empty()) break;  // ended, or idle for long enough
        const std::function<void()> work = std::move(waiting_.front());
        waiting_.pop_front();
        lock.unlock();
        work();
        lock.lock();
    }
    --threads_;
    all_gone_.notify_all();
}

void GrowingPool::shutdown() {
    std::unique_lock lock(mutex_);
    ended_ = true;
    wake_.notify_all();
    all_gone_.wait(lock, [this] { return threads_ == 0; });
}

}  // namespace spile::server
