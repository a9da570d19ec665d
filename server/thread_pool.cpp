#include "server/thread_pool.h"

#include <chrono>

namespace spile::server {
namespace {

constexpr auto idle_for = std::chrono::seconds(20);

}  // namespace

void GrowingPool::enqueue(std::function<void()> work) {
    const std::lock_guard lock(mutex_);
    for (std::thread& thread : gone_) thread.join();  // each has let go of the mutex and ends
    gone_.clear();
    waiting_.push_back(std::move(work));
    if (idle_ >= waiting_.size() || threads_.size() >= most_) {
        wake_.notify_one();
        return;
    }
    const auto self = threads_.emplace(threads_.end());
    *self = std::thread([this, self] { serve(self); });
}

void GrowingPool::serve(Threads::iterator self) {
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
    gone_.splice(gone_.end(), threads_, self);
    all_gone_.notify_all();
}

void GrowingPool::shutdown() {
    std::unique_lock lock(mutex_);
    ended_ = true;
    wake_.notify_all();
    all_gone_.wait(lock, [this] { return threads_.empty(); });
    Threads gone = std::move(gone_);
    gone_.clear();
    lock.unlock();
    for (std::thread& thread : gone) thread.join();
}

}  // namespace spile::server
