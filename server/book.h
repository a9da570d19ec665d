// The jobs of the shop's book as the server edits them: one lock, merging, and the news that follows. Inside of server/.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "core/job/edit.h"
#include "server/news.h"
#include "shop/jobs.h"

namespace spile::server {

/// An action of a person: one step of undo, one revision.
struct Action {
    std::string op_id;  ///< made by the page, once; a repeated send is found by it
    int base_rev = 0;   ///< the revision that was on the screen
    std::string why;    ///< its name: "reading A B"
    std::vector<Edit> edits;
};

struct Edited {
    shop::JobHead head;
    int made = 0;            ///< the revision that this action made
    std::string document;    ///< the newest, in settled form
    bool again = false;      ///< it had been done before
    bool merged = false;     ///< others had changed the job meanwhile
    std::vector<Edit> more;  ///< from what the sender has (base and its edits) to the newest
};

/// Safe for many threads.
class Book {
  public:
    static Result<std::unique_ptr<Book>> open(const std::string& path, News& news);

    Result<shop::JobHead> add(const std::string& text, const std::string& who);
    Result<Edited> edit(shop::Id job, const Action& action, const std::string& who);
    /// Takes back what revision `rev` did, whatever came after it.
    Result<Edited> undo(shop::Id job, int rev, const std::string& op_id, const std::string& who);

    /// `work(Store&)` while nobody else uses the book.
    template <class Work>
    auto with(Work&& work) {
        const std::lock_guard lock(mutex_);
        return work(store_);
    }

  private:
    Book(shop::Store store, News& news) : store_(std::move(store)), news_(news) {}

    /// A revision's document, parsed. The newest of each job is kept at hand.
    Result<JsonValue> said_of(shop::Id job, int rev);
    Result<Edited> append(shop::Id job, const Action& action, const JsonValue& ours, bool merged,
                          const JsonValue& merged_said, int newest, const std::string& who);
    std::optional<Result<Edited>> done_before(shop::Id job, const std::string& op_id);

    std::mutex mutex_;
    shop::Store store_;
    News& news_;
    struct AtHand {
        int rev = 0;
        JsonValue said;
    };
    std::map<shop::Id, AtHand> at_hand_;
};

}  // namespace spile::server
