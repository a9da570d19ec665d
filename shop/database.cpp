#include "shop/database.h"

#include <sqlite3.h>

#include <chrono>

#include "core/base/check.h"
#include "core/base/stop.h"

namespace spile::shop {

Finding stop(std::string code, std::string says, std::string to_do, Subject subject,
             std::vector<Quantity> numbers) {
    return stop_finding(std::move(code), std::move(says), std::move(to_do), std::move(subject),
                        std::move(numbers));
}

void refuse(std::string code, std::string says, std::string to_do, Subject subject,
            std::vector<Quantity> numbers) {
    throw Refusal{
        stop(std::move(code), std::move(says), std::move(to_do), std::move(subject), std::move(numbers))};
}

Finding sqlite_finding(int code, const char* says, const std::string& path) {
    // Of what was read and found wrong without a call failing, only the code is known.
    const bool told = std::string_view(says) != sqlite3_errstr(SQLITE_OK);
    const std::string detail = std::string(" (") + (told ? says : sqlite3_errstr(code)) + ").";
    switch (code & 0xFF) {
        case SQLITE_FULL:
            return stop("shop-full", "The disk that holds " + path + " is full; nothing was changed" + detail,
                        "Make room on the disk, then do it again.");
        case SQLITE_READONLY:
        case SQLITE_PERM:
            return stop("shop-read-only", path + " cannot be written; nothing was changed" + detail,
                        "Let this person write the file and its folder, or move the book.");
        case SQLITE_CANTOPEN:
            return stop("shop-read-only", path + " or the files beside it cannot be opened" + detail,
                        "Let this person read and write the file and its folder.");
        case SQLITE_CORRUPT:
        case SQLITE_NOTADB:
            return stop("shop-damaged", path + " is damaged; nothing was changed" + detail,
                        "Keep the file as it is and restore the newest backup to another name.");
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return stop("shop-busy", path + " is being written by another program" + detail,
                        "Try again when it is done.");
        case SQLITE_CONSTRAINT:
            if (code == SQLITE_CONSTRAINT_FOREIGNKEY)
                return stop("refers-to-it", "Something else in the book refers to it" + detail,
                            "Change or remove that first.");
            return stop("book-rule", "The book does not allow it" + detail, "Look at what was entered.");
        case SQLITE_TOOBIG:
            return stop("text-refused", "That is too large for the book" + detail, "Write less.");
        default:
            return stop("shop-disk-fault",
                        path + " could not be read or written; nothing was changed" + detail,
                        "Look at the disk, then do it again.");
    }
}

Database::Database(std::string path, int flags, const OpenOptions& options)
    : path_(std::move(path)), now_(options.now) {
    if (!now_)
        now_ = [] {
            return std::chrono::duration_cast<std::chrono::seconds>(
                       std::chrono::system_clock::now().time_since_epoch())
                .count();
        };
    const char* disk = options.disk.empty() ? nullptr : options.disk.c_str();
    const int code = sqlite3_open_v2(path_.c_str(), &handle_, flags | SQLITE_OPEN_EXRESCODE, disk);
    if (code != SQLITE_OK) {
        const Finding finding =
            sqlite_finding(code, handle_ ? sqlite3_errmsg(handle_) : sqlite3_errstr(code), path_);
        sqlite3_close_v2(handle_);
        throw Refusal{finding};
    }
    sqlite3_busy_timeout(handle_, options.wait_ms);
}

Database::~Database() {
    sqlite3_close_v2(handle_);
}

void Database::fail(int code) {
    throw Refusal{sqlite_finding(code, sqlite3_errmsg(handle_), path_)};
}

void Database::run(const char* sql) {
    const int code = sqlite3_exec(handle_, sql, nullptr, nullptr, nullptr);
    if (code != SQLITE_OK) fail(code);
}

std::int64_t Database::whole(const char* sql) {
    Statement statement(*this, sql);
    return statement.next() ? statement.whole(0) : 0;
}

std::string Database::text(const char* sql) {
    Statement statement(*this, sql);
    return statement.next() ? statement.text(0) : "";
}

Id Database::last_id() const {
    return sqlite3_last_insert_rowid(handle_);
}

int Database::changes() const {
    return sqlite3_changes(handle_);
}

Statement::Statement(Database& database, const char* sql) : database_(database) {
    const int code = sqlite3_prepare_v2(database.handle(), sql, -1, &statement_, nullptr);
    if (code != SQLITE_OK) {
        // A statement of ours that the book's own tables do not fit is a fault of ours.
        SPILE_CHECK(code != SQLITE_ERROR);
        database.fail(code);
    }
}

Statement::~Statement() {
    sqlite3_finalize(statement_);
}

bool Statement::next() {
    const int code = sqlite3_step(statement_);
    if (code == SQLITE_ROW) return true;
    if (code != SQLITE_DONE) database_.fail(code);
    return false;
}

void Statement::run() {
    while (next()) {
    }
}

void Statement::again() {
    sqlite3_reset(statement_);
}

Statement::Kind Statement::kind(int column) const {
    switch (sqlite3_column_type(statement_, column)) {
        case SQLITE_INTEGER:
            return Kind::whole;
        case SQLITE_FLOAT:
            return Kind::number;
        case SQLITE_TEXT:
            return Kind::text;
        case SQLITE_BLOB:
            return Kind::bytes;
        default:
            return Kind::null;
    }
}

std::int64_t Statement::whole(int column) const {
    return sqlite3_column_int64(statement_, column);
}

double Statement::number(int column) const {
    return sqlite3_column_double(statement_, column);
}

std::string Statement::text(int column) const {
    const void* bytes = sqlite3_column_blob(statement_, column);
    const int size = sqlite3_column_bytes(statement_, column);
    return bytes ? std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(size)) : "";
}

bool Statement::null(int column) const {
    return sqlite3_column_type(statement_, column) == SQLITE_NULL;
}

void Statement::bind(int index, double value) {
    SPILE_CHECK(sqlite3_bind_double(statement_, index, value) == SQLITE_OK);
}

void Statement::bind(int index, std::string_view value) {
    const char* data = value.data() ? value.data() : "";
    const int code =
        sqlite3_bind_text64(statement_, index, data, value.size(), SQLITE_TRANSIENT, SQLITE_UTF8);
    if (code != SQLITE_OK) database_.fail(code);
}

void Statement::bind(int index, Bytes value) {
    const char* data = value.bytes.data() ? value.bytes.data() : "";
    const int code = sqlite3_bind_blob64(statement_, index, data, value.bytes.size(), SQLITE_TRANSIENT);
    if (code != SQLITE_OK) database_.fail(code);
}

void Statement::bind_whole(int index, std::int64_t value) {
    SPILE_CHECK(sqlite3_bind_int64(statement_, index, value) == SQLITE_OK);
}

void Statement::bind_null(int index) {
    SPILE_CHECK(sqlite3_bind_null(statement_, index) == SQLITE_OK);
}

Transaction::Transaction(Database& database, bool writes) : database_(database) {
    database.run(writes ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
    // SQLite may have rolled back by itself (a full disk); then there is nothing to undo.
    if (open_ && !sqlite3_get_autocommit(database_.handle()))
        sqlite3_exec(database_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
}

void Transaction::commit() {
    database_.run("COMMIT");
    open_ = false;
}

}  // namespace spile::shop
