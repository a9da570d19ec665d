// The papers of a revision, made once and kept while they are asked for one by one. Inside of server/.
#pragma once

#include <deque>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "core/job/run_job.h"
#include "export/papers/papers.h"

namespace spile::server {

struct Papers {
    std::vector<PaperFile> files;
    std::vector<Finding> findings;
    bool may_cut = false;
};

/// Safe for many threads; two that ask for the same papers at once wait for one making of them.
class PapersOf {
  public:
    /// `times`: of the shop, for the ticket; papers made with others are made anew.
    std::shared_ptr<const Papers> get(std::int64_t job, int rev, const std::string& document,
                                      const WorkTimes& times);

  private:
    struct Entry {
        std::int64_t job = 0;
        int rev = 0;
        WorkTimes times;
        std::mutex making;
        std::shared_ptr<const Papers> papers;
    };
    std::mutex mutex_;
    std::deque<std::shared_ptr<Entry>> entries_;  ///< newest last
};

}  // namespace spile::server
