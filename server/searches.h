// Layouts looked for in the background, one search for each job, each a little longer than the one before. Inside of
// server/.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "core/job/run_job.h"
#include "server/news.h"

namespace spile::server {

struct SearchState {
    std::string state = "waits";  ///< "waits", "runs", "done", "stopped", "failed"
    int rev = 0;                  ///< the revision it is for
    std::string fingerprint;      ///< of what is laid out, core/job/fingerprint.h: a bound holds for these pieces alone
    int rounds = 0;               ///< asked for
    double done = 0;              ///< share of the rounds, 0 to 1
    std::optional<Layout> best;
    std::vector<Finding> findings;  ///< why there is none
};

/// Safe for many threads. Two workers, each with half of the machine.
class Searches {
  public:
    explicit Searches(News& news);
    ~Searches();

    /// A search that runs for this job is called off first. Pieces that are pinned stay where they are; a pin of a piece
    /// that the job does not have is passed over. False: too many wait already.
    bool start(std::int64_t job, int rev, Job document, int rounds, std::vector<Placement> pins = {});
    void stop(std::int64_t job);
    std::optional<SearchState> state(std::int64_t job) const;
    void end();

  private:
    struct Search {
        std::int64_t job = 0;
        Job document;
        std::vector<Placement> pins;
        std::atomic<bool> cancel{false};
        SearchState state;
    };
    void work();
    void run(Search& search);
    bool took(Search& search, Derived derived, double share);
    void report(Search& search);

    News& news_;
    mutable std::mutex mutex_;
    std::condition_variable wake_;
    std::map<std::int64_t, std::shared_ptr<Search>> of_job_;
    std::deque<std::shared_ptr<Search>> waiting_;
    bool ended_ = false;
    std::vector<std::thread> workers_;
};

}  // namespace spile::server
