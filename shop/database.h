// One SQLite connection and what is done with it. Inside of shop/: no SQLite type leaves this folder, and neither does
// `Refusal`, which carries a finding from the middle of a transaction to its end.
#pragma once

#include <concepts>
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <utility>
#include <vector>

#include "shop/store.h"

struct sqlite3;
struct sqlite3_stmt;

namespace spile::shop {

/// Thrown inside this folder alone, caught by `reading` and `writing`.
struct Refusal {
    Finding finding;
};

Finding stop(std::string code, std::string says, std::string to_do, Subject subject = {"shop", ""},
             std::vector<Quantity> numbers = {});
[[noreturn]] void refuse(std::string code, std::string says, std::string to_do,
                         Subject subject = {"shop", ""}, std::vector<Quantity> numbers = {});

/// What SQLite's complaint means for a person. `code`: its (extended) result code.
Finding sqlite_finding(int code, const char* says, const std::string& path);

/// Bytes that are no text.
struct Bytes {
    std::string_view bytes;
};

/// A prepared statement; its parameters are given when it is made. Refuses when SQLite does.
class Statement {
  public:
    Statement(Database& database, const char* sql);
    ~Statement();
    Statement(const Statement&) = delete;
    Statement& operator=(const Statement&) = delete;

    template <class... Values>
    Statement& with(const Values&... values) {
        int index = 0;
        (bind(++index, values), ...);
        return *this;
    }

    /// From the first parameter on.
    Statement& with_list(const std::vector<std::string>& values) {
        int index = 0;
        for (const std::string& value : values) bind(++index, value);
        return *this;
    }
    /// Parameter `index`, counted from 1.
    template <class T>
    Statement& with_at(std::size_t index, const T& value) {
        bind(static_cast<int>(index), value);
        return *this;
    }

    bool next();   ///< to the next row; false when there is none
    void run();    ///< to the end
    void again();  ///< back to before the first row, for other values

    enum class Kind { whole, number, text, bytes, null };
    Kind kind(int column) const;
    std::int64_t whole(int column) const;
    double number(int column) const;
    std::string text(int column) const;  ///< of a text or of bytes; empty for null
    bool null(int column) const;

  private:
    template <std::integral T>
    void bind(int index, T value) {
        bind_whole(index, static_cast<std::int64_t>(value));
    }
    template <class T>
    void bind(int index, const std::optional<T>& value) {
        value ? bind(index, *value) : bind_null(index);
    }
    void bind(int index, double value);
    void bind(int index, std::string_view value);
    void bind(int index, const std::string& value) { bind(index, std::string_view(value)); }
    void bind(int index, const char* value) { bind(index, std::string_view(value)); }
    void bind(int index, Bytes value);
    void bind_whole(int index, std::int64_t value);
    void bind_null(int index);

    Database& database_;
    sqlite3_stmt* statement_ = nullptr;
};

class Database {
  public:
    /// Requires: the file has been looked at (see book_file.h).
    Database(std::string path, int flags, const OpenOptions& options);
    ~Database();
    Database(const Database&) = delete;
    Database& operator=(const Database&) = delete;

    void run(const char* sql);  ///< several statements without values
    std::int64_t whole(const char* sql);
    std::string text(const char* sql);
    Id last_id() const;
    int changes() const;
    [[noreturn]] void fail(int code);

    sqlite3* handle() { return handle_; }
    const std::string& path() const { return path_; }
    Seconds now() const { return now_(); }

  private:
    std::string path_;
    std::function<Seconds()> now_;
    sqlite3* handle_ = nullptr;
};

/// One transaction: whole or not at all.
class Transaction {
  public:
    explicit Transaction(Database& database, bool writes);
    ~Transaction();
    Transaction(const Transaction&) = delete;
    Transaction& operator=(const Transaction&) = delete;
    void commit();

  private:
    Database& database_;
    bool open_ = true;
};

template <class Work>
auto in_transaction(Store& store, bool writes, Work&& work) -> Result<std::invoke_result_t<Work, Database&>> {
    using T = std::invoke_result_t<Work, Database&>;
    try {
        Database& database = store.database();
        Transaction transaction(database, writes);
        T value = work(database);
        transaction.commit();
        return Result<T>::ok(std::move(value));
    } catch (Refusal& refusal) {
        return Result<T>::refuse(std::move(refusal.finding));
    }
}

/// `work(Database&)` within a transaction that sees one state of the book.
template <class Work>
auto reading(Store& store, Work&& work) {
    return in_transaction(store, false, std::forward<Work>(work));
}

/// `work(Database&)` within a transaction that is kept only when it returns.
template <class Work>
auto writing(Store& store, Work&& work) {
    return in_transaction(store, true, std::forward<Work>(work));
}

}  // namespace spile::shop
