// A backup in the place of the running book: asked for while the book is in use, done before anybody opens it again.
#pragma once

#include <string>

#include "shop/store.h"

namespace spile::shop {

/// Writes down beside `book` that `backup` shall take its place; the book itself then goes to `aside`. Nothing else is done
/// yet. Requires: the backup has been proved (restore_backup, check_book); another wish that waits is replaced.
/// On bad input: "file-there" when something is at `aside`; "shop-not-there"; "shop-read-only".
Result<Done> ask_to_put_back(const std::string& book, const std::string& backup, const std::string& aside);

/// Carries the wish out, if there is one; an end at any moment is gone on from by the next call. Devices keep the sessions
/// they have now, and the machine its certificate: a session that was revoked since the backup does not come back.
/// Requires: nobody has the book open. Value: what was done, in words; empty: nothing was asked.
/// Guarantees: at `book` there is always the old one, the new one, or neither while one of them still waits beside it
/// under its other name.
/// On bad input: what Store::open says of the backup; the wish is gone and the book is as it was.
Result<std::string> put_back_as_asked(const std::string& book);

/// Which life of the book this is: another after each backup that was put back, so that a page that still shows the life
/// before is found out. Empty until the first.
Result<std::string> life_of(Store& store);

}  // namespace spile::shop
