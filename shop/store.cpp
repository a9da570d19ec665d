#include "shop/store.h"

#include <sqlite3.h>

#include <algorithm>

#include "core/base/check.h"
#include "shop/book_file.h"
#include "shop/database.h"
#include "shop/schema.h"

namespace spile::shop {
namespace {

/// Version by the database itself (its log may be ahead of the file), and every page once when asked.
std::int64_t look_inside(const std::string& path, const OpenOptions& options) {
    Database database(path, SQLITE_OPEN_READONLY, options);
    const std::int64_t version = database.whole("PRAGMA user_version");
    if (version > book_version()) refuse_newer(path, version);
    if (options.check) {
        const std::string found = database.text("PRAGMA quick_check(1)");
        if (found != "ok") database.fail(SQLITE_CORRUPT);
    }
    database.whole("SELECT count(*) FROM sqlite_schema");
    return version;
}

void bring_up_to_date(Database& database, std::int64_t from) {
    const auto& steps = schema_steps();
    Transaction transaction(database, true);
    // Somebody else may have done it since we looked.
    from = std::max(from, database.whole("PRAGMA user_version"));
    for (auto v = static_cast<std::size_t>(from); v < steps.size(); ++v) database.run(steps[v]);
    database.run(("PRAGMA user_version=" + std::to_string(steps.size())).c_str());
    if (from == 0) database.run(("PRAGMA application_id=" + std::to_string(kBookMark)).c_str());
    transaction.commit();
}

/// A new book comes into being under another name and is put in place whole, so that no end in the middle leaves a file
/// that is neither nothing nor a book.
void make_book(const std::string& path, const OpenOptions& options) {
    const Apart apart(path);
    {
        Database database(apart.name, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, options);
        database.run("PRAGMA synchronous=FULL");
        bring_up_to_date(database, 0);
    }
    try {
        apart.take_name(path);
    } catch (const Refusal& refusal) {
        // Somebody else has just made one: then that is the book.
        if (refusal.finding.code != "file-there") throw;
    }
}

/// What a book is made of: its tables with their columns, and whatever else stands in its schema.
std::vector<std::string> parts_of(Database& database) {
    std::vector<std::string> parts;
    Statement all(database,
                  "SELECT s.type || ' ' || s.name || coalesce(' ' || c.name, '') FROM sqlite_schema s "
                  "LEFT JOIN pragma_table_info(s.name) c ON s.type = 'table' "
                  "WHERE s.name NOT LIKE 'sqlite_%' ORDER BY 1");
    while (all.next()) parts.push_back(all.text(0));
    std::sort(parts.begin(), parts.end());
    return parts;
}

/// A database may bear the mark of a book and be none.
void need_parts(Database& database) {
    Database fresh(":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, {});
    bring_up_to_date(fresh, 0);
    const std::vector<std::string> there = parts_of(database), wanted = parts_of(fresh);
    const auto say = [&](const std::vector<std::string>& of, const std::vector<std::string>& in,
                         const char* what) {
        for (const std::string& part : of)
            if (!std::binary_search(in.begin(), in.end(), part))
                refuse("shop-not-a-book",
                       database.path() + " bears the mark of a shop's book and is none: " + what + " " +
                           "\"" + part + "\".",
                       "Name the book, or a copy of it that Spile made.");
    };
    say(wanted, there, "it has no");
    say(there, wanted, "no book has a");
}

}  // namespace

int book_version() {
    return static_cast<int>(schema_steps().size());
}

Store::Store(std::unique_ptr<Database> database) : database_(std::move(database)) {}
Store::Store(Store&&) noexcept = default;
Store& Store::operator=(Store&&) noexcept = default;
Store::~Store() = default;

Result<Store> Store::open(const std::string& path, const OpenOptions& options) {
    try {
        if (!look_at_file(path, true)) {
            if (!options.create)
                refuse("shop-not-there", "There is no shop's book at " + path + ".",
                       "Name the book, or make a new one.");
            make_book(path, options);
        }
        const std::int64_t version = look_inside(path, options);
        auto database = std::make_unique<Database>(path, SQLITE_OPEN_READWRITE, options);
        database->run(
            "PRAGMA foreign_keys=ON; PRAGMA synchronous=FULL; PRAGMA trusted_schema=OFF;"
            "PRAGMA cell_size_check=ON");
        if (version < book_version()) bring_up_to_date(*database, version);
        if (database->text("PRAGMA journal_mode=WAL") != "wal")
            refuse("shop-disk-fault", "The disk of " + path + " does not take a write-ahead log.",
                   "Keep the book on a disk of this machine, not on a network share.");
        return Result<Store>::ok(Store(std::move(database)));
    } catch (Refusal& refusal) {
        return Result<Store>::refuse(std::move(refusal.finding));
    }
}

const std::string& Store::path() const {
    return database_->path();
}

Seconds Store::now() const {
    return database_->now();
}

Database& Store::database() {
    SPILE_CHECK(database_ != nullptr);
    return *database_;
}

Result<std::string> check_book(Store& store) {
    return reading(store, [](Database& database) {
        const std::string whole = database.text("PRAGMA integrity_check(1)");
        if (whole != "ok")
            refuse("shop-damaged", database.path() + " is damaged: " + whole + ".",
                   "Keep the file as it is and restore the newest backup to another name.");
        need_parts(database);
        Statement loose(database, "PRAGMA foreign_key_check");
        if (loose.next())
            refuse("shop-damaged",
                   database.path() + ": row " + std::to_string(loose.whole(1)) + " of " + loose.text(0) +
                       " refers to a row of " + loose.text(2) + " that is not there.",
                   "Keep the file as it is and restore the newest backup to another name.");
        return std::to_string(database.whole("PRAGMA page_count")) +
               " pages, every index and every reference are whole; book version " +
               std::to_string(database.whole("PRAGMA user_version")) + ".";
    });
}

}  // namespace spile::shop
