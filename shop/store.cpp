#include "shop/store.h"

#include <sqlite3.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include "core/base/check.h"
#include "shop/database.h"
#include "shop/schema.h"

namespace spile::shop {
namespace {

namespace fs = std::filesystem;

/// SQLite's own header (sqlite.org, "Database File Format", section 1.3): magic, then big-endian words.
constexpr char kMagic[16] = {'S', 'Q', 'L', 'i', 't', 'e', ' ', 'f', 'o', 'r', 'm', 'a', 't', ' ', '3', '\0'};
constexpr std::size_t kHeader_bytes = 100, kUserVersionAt = 60, kApplicationAt = 68;

std::int64_t word_at(const char* header, std::size_t at) {
    std::int64_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(header[at + i]);
    return value;
}

[[noreturn]] void refuse_newer(const std::string& path, std::int64_t version) {
    refuse(
        "shop-newer",
        path + " was written by a newer Spile: its book has version " + std::to_string(version) +
            ", this program knows " + std::to_string(book_version()) + ".",
        "Use the newer program; the file has not been touched.", {"shop", ""},
        {{"version", static_cast<double>(version), ""}, {"known", static_cast<double>(book_version()), ""}});
}

[[noreturn]] void refuse_foreign(const std::string& path, const std::string& why) {
    refuse("shop-not-a-book", path + " is no shop's book: " + why + ".",
           "Name the book, or a new file for a new one; this one has not been touched.");
}

/// Looks at the bytes alone, so that a strange file is not even opened as a database. False: there is nothing yet.
bool look_at_file(const std::string& path) {
    std::error_code error;
    if (!fs::exists(path, error)) return false;
    if (!fs::is_regular_file(path, error)) refuse_foreign(path, "it is no file");
    if (access(path.c_str(), R_OK) != 0)
        refuse("shop-read-only", path + " cannot be read by this person.", "Let this person read it.");
    std::ifstream in(path, std::ios::binary);
    char header[kHeader_bytes] = {};
    in.read(header, sizeof header);
    if (in.gcount() == 0 && !in.bad()) return false;  // left by an end in the middle of making it
    if (in.gcount() < static_cast<std::streamsize>(sizeof header) ||
        std::memcmp(header, kMagic, sizeof kMagic) != 0)
        refuse_foreign(path, "it does not begin like a database");
    const std::int64_t mark = word_at(header, kApplicationAt), version = word_at(header, kUserVersionAt);
    if (mark != kBookMark) refuse_foreign(path, "it is the database of another program");
    if (version > book_version()) refuse_newer(path, version);
    if (access(path.c_str(), W_OK) != 0 || access(fs::absolute(path).parent_path().c_str(), W_OK | X_OK) != 0)
        refuse("shop-read-only", path + " or its folder cannot be written by this person.",
               "Let this person write both, or copy the book to where they may.");
    return true;
}

/// Version by the database itself (its log may be ahead of the file), and every page once when asked.
std::int64_t look_inside(const std::string& path, const OpenOptions& options) {
    Database database(path, SQLITE_OPEN_READONLY, options);
    const std::int64_t version = database.whole("PRAGMA user_version");
    if (version > book_version()) refuse_newer(path, version);
    if (version < 1) refuse_foreign(path, "its version is " + std::to_string(version));
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
    const std::string apart = path + ".new-" + std::to_string(getpid());
    std::error_code error;
    fs::remove(apart, error);
    try {
        {
            Database database(apart, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, options);
            database.run("PRAGMA synchronous=FULL");
            bring_up_to_date(database, 0);
        }
        // A link does not replace a book that somebody else has just made; an empty file may be replaced.
        const bool empty = fs::exists(path, error) && fs::file_size(path, error) == 0;
        if (empty)
            fs::rename(apart, path);
        else if (link(apart.c_str(), path.c_str()) != 0 && errno != EEXIST)
            fs::rename(apart, path);
    } catch (const fs::filesystem_error& failed) {
        fs::remove(apart, error);
        refuse("shop-read-only", "The book cannot be put at " + path + " (" + failed.code().message() + ").",
               "Let this person write the folder.");
    } catch (Refusal&) {
        fs::remove(apart, error);
        throw;
    }
    fs::remove(apart, error);
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
        if (!look_at_file(path)) {
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
