// Threads for connections: made when they are needed, ended when they have been idle. Inside of server/.
#pragma once

#include <httplib.h>

#include <condition_variable>
#include <deque>
#include <functional>
#include <list>
#include <mutex>
#include <thread>

namespace spile::server {

/// A connection holds a thread for as long as it is open, so there must be one for each client that may come; a pool of
/// fixed size would keep them all from the start. Beyond `most` connections wait their turn. Every thread is joined: one that is
/// still ending while the program's libraries are taken down crashes it.
class GrowingPool : public httplib::TaskQueue {
  public:
    explicit GrowingPool(std::size_t most) : most_(most) {}
    ~GrowingPool() override { shutdown(); }

    void enqueue(std::function<void()> work) override;
    void shutdown() override;

  private:
    using Threads = std::list<std::thread>;
    void serve(Threads::iterator self);

    std::mutex mutex_;
    std::condition_variable wake_, all_gone_;
    std::deque<std::function<void()>> waiting_;
    Threads threads_, gone_;  ///< those that serve; those that have only to be joined
    std::size_t most_, idle_ = 0;
    bool ended_ = false;
};

}  // namespace spile::server
