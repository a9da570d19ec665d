#include <sqlite3.h>

#include "shop/book_file.h"
#include "shop/database.h"
#include "shop/safe.h"

namespace spile::shop {
namespace {

constexpr int kTries = 500, kWait_ms = 10;  // for a writer to finish

/// The copy is what was looked at; the fault is that of the file it was made from.
Refusal about(const std::string& path, const std::string& copy, Finding finding) {
    for (std::size_t at = 0; (at = finding.says.find(copy, at)) != std::string::npos; at += path.size())
        finding.says.replace(at, copy.size(), path);
    return {std::move(finding)};
}

std::string copy_to(Database& from, const std::string& to) {
    need_nothing(to);
    const Apart apart(to);
    std::string says;
    {
        Database copy(apart.name, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, {});
        sqlite3_backup* backup = sqlite3_backup_init(copy.handle(), "main", from.handle(), "main");
        if (!backup) copy.fail(sqlite3_extended_errcode(copy.handle()));
        int code = SQLITE_OK;
        for (int tries = 0; tries < kTries; ++tries) {
            code = sqlite3_backup_step(backup, -1);
            if (code != SQLITE_BUSY && code != SQLITE_LOCKED) break;
            sqlite3_sleep(kWait_ms);
        }
        sqlite3_backup_finish(backup);
        if (code != SQLITE_DONE) copy.fail(code);
        copy.run("PRAGMA journal_mode=DELETE");
    }
    {
        OpenOptions options;
        Result<Store> opened = Store::open(apart.name, options);
        if (!opened) throw about(from.path(), apart.name, opened.findings.front());
        Result<std::string> checked = check_book(*opened);
        if (!checked) throw about(from.path(), apart.name, checked.findings.front());
        says = *checked;
        opened->database().run("PRAGMA journal_mode=DELETE");
    }
    apart.take_name(to);
    return says;
}

}  // namespace

Result<std::string> back_up(Store& store, const std::string& to) {
    try {
        return Result<std::string>::ok(copy_to(store.database(), to));
    } catch (Refusal& refusal) {
        return Result<std::string>::refuse(std::move(refusal.finding));
    }
}

Result<std::string> restore_backup(const std::string& backup, const std::string& to) {
    try {
        need_nothing(to);
        if (!look_at_file(backup, false))
            refuse("shop-not-there", "There is no backup at " + backup + ".", "Name the backup.");
        Database from(backup, SQLITE_OPEN_READONLY, {});
        return Result<std::string>::ok(copy_to(from, to));
    } catch (Refusal& refusal) {
        return Result<std::string>::refuse(std::move(refusal.finding));
    }
}

}  // namespace spile::shop
