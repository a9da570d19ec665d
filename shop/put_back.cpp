#include "shop/put_back.h"

#include <fcntl.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>

#include "shop/book_file.h"
#include "shop/database.h"
#include "shop/safe.h"
#include "shop/settings.h"

namespace spile::shop {
namespace {

namespace fs = std::filesystem;

std::string wish_of(const std::string& book) {
    return book + ".put-back";
}
/// The backup restored, before it has the name of the book.
std::string fresh_of(const std::string& book) {
    return book + ".put-back-book";
}

/// What SQLite keeps beside a book.
constexpr const char* kBeside[] = {"-wal", "-shm", "-journal"};

void remove_book(const std::string& path) {
    std::error_code ignored;
    fs::remove(path, ignored);
    for (const char* end : kBeside) fs::remove(path + end, ignored);
}

void rename_now(const std::string& from, const std::string& to) {
    std::error_code error;
    fs::rename(from, to, error);
    if (error)
        refuse("shop-read-only", from + " cannot be named " + to + " (" + error.message() + ").",
               "Let this person write the folder, and start again.");
    const int home = open(fs::absolute(to).parent_path().c_str(), O_RDONLY | O_DIRECTORY);
    if (home < 0) return;
    fsync(home);
    close(home);
}

bool is_there(const std::string& path) {
    std::error_code ignored;
    return fs::exists(path, ignored);
}

/// Settings of this machine and of now, not of the moment of the backup.
void carry_over(const std::string& book, const std::string& fresh, const std::string& life) {
    OpenOptions open;
    open.check = false;
    Result<Store> to = Store::open(fresh, open);
    if (!to) throw Refusal{to.findings.front()};
    Result<Store> from = Store::open(book, open);  // opening brings its log into it
    for (const char* name : {"sessions", "certificate"}) {
        std::string now = "{}";
        if (from) {
            const auto kept = read_setting(*from, name);
            if (kept && *kept) now = **kept;
        }
        const auto done = write_setting(*to, name, now);
        if (!done) throw Refusal{done.findings.front()};
    }
    const auto done = write_setting(*to, "life", nlohmann::json(life).dump());
    if (!done) throw Refusal{done.findings.front()};
}

std::string carried_out(const std::string& book, const std::string& backup, const std::string& aside) {
    const std::string fresh = fresh_of(book);
    if (!is_there(aside)) {
        remove_book(fresh);  // of a try that was broken off
        const Result<std::string> restored = restore_backup(backup, fresh);
        if (!restored) throw Refusal{restored.findings.front()};
        carry_over(book, fresh, fs::path(aside).filename().string());
        if (is_there(book)) rename_now(book, aside);
    }
    if (is_there(fresh)) {
        // The log of the old book must not be taken for that of the new one.
        for (const char* end : kBeside)
            if (is_there(book + end)) rename_now(book + end, aside + end);
        rename_now(fresh, book);
    }
    return fs::path(backup).filename().string() + " is the book now. The one before it lies at " + aside + ".";
}

}  // namespace

Result<Done> ask_to_put_back(const std::string& book, const std::string& backup, const std::string& aside) {
    try {
        need_nothing(aside);
        if (!look_at_file(backup, false))
            refuse("shop-not-there", "There is no backup at " + backup + ".", "Name the backup.");
        std::error_code ignored;
        fs::remove(wish_of(book), ignored);
        const Apart apart(wish_of(book));
        std::ofstream(apart.name, std::ios::binary)
            << fs::absolute(backup).string() << '\n'
            << fs::absolute(aside).string() << '\n';
        apart.take_name(wish_of(book));
        return Result<Done>::ok({});
    } catch (Refusal& refusal) {
        return Result<Done>::refuse(std::move(refusal.finding));
    }
}

Result<std::string> put_back_as_asked(const std::string& book) {
    std::string backup, aside;
    {
        std::ifstream wish(wish_of(book), std::ios::binary);
        if (!wish) return Result<std::string>::ok("");
        std::getline(wish, backup);
        std::getline(wish, aside);
    }
    try {
        if (backup.empty() || aside.empty())
            refuse("shop-not-there", "The wish to put a backup back names none.", "Choose the backup again.");
        std::string says = carried_out(book, backup, aside);
        fs::remove(wish_of(book));
        return Result<std::string>::ok(std::move(says));
    } catch (Refusal& refusal) {
        std::error_code ignored;
        // Half done it is gone on from by the next start; not begun, it is given up.
        if (!is_there(aside)) {
            fs::remove(wish_of(book), ignored);
            remove_book(fresh_of(book));
        }
        return Result<std::string>::refuse(std::move(refusal.finding));
    }
}

Result<std::string> life_of(Store& store) {
    const auto kept = read_setting(store, "life");
    if (!kept) return {std::nullopt, kept.findings};
    const nlohmann::json life = *kept ? nlohmann::json::parse(**kept, nullptr, false) : nlohmann::json();
    return Result<std::string>::ok(life.is_string() ? life.get<std::string>() : "");
}

}  // namespace spile::shop
