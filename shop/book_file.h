// The file that a book is, looked at from outside. Inside of shop/.
#pragma once

#include <cstdint>
#include <string>

namespace spile::shop {

/// Looks at the bytes alone, so that a strange file is not even opened as a database. False: there is nothing yet.
/// Refuses with "shop-not-a-book", "shop-newer", "shop-read-only" (`to_write`: also when it cannot be written).
bool look_at_file(const std::string& path, bool to_write);

[[noreturn]] void refuse_newer(const std::string& path, std::int64_t version);

/// Refuses with "file-there".
void need_nothing(const std::string& path);

/// What a new file is made under until it is whole; whatever is left of it goes away at the end.
class Apart {
  public:
    explicit Apart(const std::string& to);
    ~Apart();
    Apart(const Apart&) = delete;
    Apart& operator=(const Apart&) = delete;

    /// On the disk first, and only then under its name. Refuses with "file-there" when somebody has just made another,
    /// except that an empty file is replaced; "shop-read-only" when the folder does not take it.
    void take_name(const std::string& to) const;

    const std::string name;

  private:
    void clear() const;
};

}  // namespace spile::shop
