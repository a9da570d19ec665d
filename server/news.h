// What has changed, for the pages that look at it. Inside of server/.
#pragma once

#include <condition_variable>
#include <cstdint>
#include <deque>
#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "wasm/show.h"

namespace spile::server {

struct NewsItem {
    std::int64_t job = 0;  ///< 0: the list of jobs, and what else the shop keeps
    std::string kind;      ///< "revision", "layout"; of no job: "job", "book"
    surface::Json says;
    std::uint64_t number = 0;
};

/// A short memory of news that any number of readers follow. Safe for many threads.
class News {
  public:
    void tell(NewsItem item);
    std::uint64_t newest() const;

    /// News of this job after `seen` (which is moved on), waiting up to `wait_ms` for some. `missed`: there was more than
    /// is remembered; the reader must look at the job itself.
    std::vector<NewsItem> follow(std::int64_t job, std::uint64_t& seen, int wait_ms, bool& missed);

    /// Wakes all readers for good.
    void end();
    bool ended() const;

  private:
    mutable std::mutex mutex_;
    std::condition_variable fresh_;
    std::deque<NewsItem> items_;
    std::uint64_t newest_ = 0;
    bool ended_ = false;
};

/// How many streams are open, all together and of each session.
class StreamCount {
  public:
    StreamCount(std::size_t most, std::size_t most_of_one) : most_(most), most_of_one_(most_of_one) {}
    bool enter(const std::string& session);
    void leave(const std::string& session);

  private:
    std::mutex mutex_;
    std::size_t most_, most_of_one_, open_ = 0;
    std::map<std::string, std::size_t> of_session_;
};

}  // namespace spile::server
