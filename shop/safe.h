// Safe keeping: backups, and everything as open files and back.
#pragma once

#include <string>

#include "shop/store.h"

namespace spile::shop {

/// Copies the whole book, as it is at one moment, to `to` while others go on working; the copy is checked, page by page and
/// reference by reference, before it takes its name.
/// On bad input: "file-there" (a backup is never overwritten), "shop-full", "shop-read-only", "shop-damaged".
Result<std::string> back_up(Store& store, const std::string& to);

/// Puts a checked copy of `backup` at `to`, where there must be nothing yet.
/// On bad input: "file-there" and what Store::open says of the backup, which is never written to.
Result<std::string> restore_backup(const std::string& backup, const std::string& to);

/// Everything as open files in a new folder: tables.json (every row of every table; bytes as base64) and, to read and to
/// count with, one CSV file for each table (RFC 4180), jobs/NUMBER.json (the newest document), papers/NUMBER and
/// attachments/NUMBER-NAME as they are.
/// The sessions of paired devices and the key of the certificate are left out: they are secrets of one machine.
/// Guarantees: import_book of it gives a book whose export is the same, byte for byte.
/// On bad input: "file-there", "shop-full", "shop-read-only".
Result<std::string> export_book(Store& store, const std::string& folder);

/// A new book from tables.json. On bad input: "file-there", "import-refused" with table and row.
Result<std::string> import_book(const std::string& folder, const std::string& to);

}  // namespace spile::shop
