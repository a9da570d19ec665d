// Threads for connections: made when they are needed, ended when they have been idle. Inside of server/.
#pragma once

#include <httplib.h>

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace spile::server {

/// A connection holds a thread for as long as it is open, so there must be one for each client that may come; a pool of
/// fixed size would keep them all from the start. Beyond `most` connections wait their turn.
class GrowingPool : public httplib::TaskQueue {
  public:
    explicit GrowingPool(std::size_t most) : most_(most) {}
    ~GrowingPool() override { shutdown(); }

    void enqueue(std::function<void()> work) override;
    void shutdown() override;

  private:
    void serve();

    std::mutex mutex_;
    std::condition_variable wake_, all_gone_;
    std::deque<std::function<void()>> waiting_;
    std::size_t most_, threads_ = 0, idle_ = 0;
    bool ended_ = false;
};

}  // namespace spile::server
