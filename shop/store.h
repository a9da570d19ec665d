// The shop's book: one SQLite file with everything the shop keeps. This header opens it; jobs.h, people.h, attachments.h
// and the others of this folder read and write it.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "core/base/result.h"

namespace spile::shop {

class Database;

/// Seconds since 1970-01-01 00:00 UTC.
using Seconds = std::int64_t;
/// Row numbers of the book. 0 means none.
using Id = std::int64_t;

/// Nothing to hand back but that it is done.
struct Done {};

struct OpenOptions {
    bool create = false;  ///< make a new book where there is none
    /// Read every page once and refuse a damaged book. A program that opens several connections checks with the first.
    bool check = true;
    int wait_ms = 5000;            ///< for another writer to finish
    std::function<Seconds()> now;  ///< the clock that writes are stamped with; empty: the machine's
    std::string disk;  ///< name of the SQLite file layer; empty: the machine's own. For fault tests.
};

/// One connection to the book. Not for two threads at once: give each thread its own, or one a lock. Any number of
/// connections, also of several programs, may be open on one file; readers never wait for a writer.
///
/// Guarantees of every call of this folder that takes a Store:
/// (1) a write is one transaction: done and safe on the disk when it returns a value, else nothing has changed;
/// (2) write-ahead log, synchronous=FULL, foreign keys on: an end at any moment, also of the power, loses at most the
///     write that had not yet answered;
/// (3) what a person or the disk did wrong is a stop in Result::findings, never an exception: "shop-full",
///     "shop-read-only", "shop-damaged", "shop-busy", "shop-disk-fault", "not-there", "refers-to-it" and those named at
///     the call;
/// (4) texts must be UTF-8 without NUL and within the named limits, else "text-refused".
class Store {
  public:
    /// Opens the book, bringing an older one up to this version in one transaction.
    /// On bad input: no value and a stop, the file untouched (it has not been opened for writing):
    /// "shop-not-there", "shop-not-a-book" (empty of our mark, or another program's), "shop-newer", "shop-damaged",
    /// "shop-read-only", "shop-full", "shop-busy".
    static Result<Store> open(const std::string& path, const OpenOptions& options = {});

    Store(Store&&) noexcept;
    Store& operator=(Store&&) noexcept;
    ~Store();

    const std::string& path() const;
    Seconds now() const;

    /// For this folder only.
    Database& database();

  private:
    explicit Store(std::unique_ptr<Database> database);
    std::unique_ptr<Database> database_;
};

/// The version of the book that this program writes.
int book_version();

/// Every page, every index and every reference, by SQLite's own checks. Value: what was looked at, in words.
/// On bad input: "shop-damaged" with what SQLite says.
Result<std::string> check_book(Store& store);

/// "2026-03-01" of a moment, UTC, and "2026-03-01 14:05:09".
std::string date_of(Seconds at);
std::string date_time_of(Seconds at);
/// Midnight UTC of a date written "2026-03-01". On bad input: "date-refused", with what is wrong.
Result<Seconds> parse_date(const std::string& text);

}  // namespace spile::shop
