// The tables of the book, as steps from one version to the next. A step once published is never changed: books made by
// it are kept in tests/shop/old and must open for ever.
#pragma once

#include <vector>

namespace spile::shop {

/// "Spil": SQLite's application id of a book.
inline constexpr int kBookMark = 0x5370696C;

/// steps()[v - 1] brings a book of version v - 1 to version v.
const std::vector<const char*>& schema_steps();

}  // namespace spile::shop
