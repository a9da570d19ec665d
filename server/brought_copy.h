// A copy of the book that was carried here from elsewhere. It comes in parts, since a request holds no more than
// kLargestBody_bytes. Inside of server/.
#pragma once

#include <cstdint>
#include <filesystem>
#include <mutex>
#include <string>
#include <string_view>

#include "core/base/result.h"

namespace spile::server {

/// Photographs of many years; more is no copy of a shop's book.
inline constexpr std::int64_t kLargestCopy_bytes = 2'000'000'000;

/// Safe for many threads; one copy comes at a time.
class BroughtCopy {
  public:
    /// What an earlier run of the program left half brought is taken away.
    explicit BroughtCopy(const std::filesystem::path& folder);

    /// Puts down the bytes of a copy of `of` bytes that begin at `from`; 0 begins a copy anew. Value: how many are there now.
    /// On bad input: "file-too-large", "no-room", "copy-part" (it is not the part that comes next; what is there stays).
    Result<std::int64_t> take(std::int64_t from, std::int64_t of, std::string_view bytes);

    /// Once all of it is there. Proves that it is the whole book of a shop and of a version that is known, and gives it the
    /// name `to` among the copies; else it is taken away. Value: what was proved, in words. Nothing of the book itself is touched.
    /// On bad input: "copy-part" (not all of it is there, or another copy has begun), "file-there", what Store::open and
    /// check_book say.
    Result<std::string> prove(std::int64_t of, const std::filesystem::path& to);

  private:
    std::mutex mutex_;
    std::filesystem::path coming_;
    std::int64_t of_ = 0, there_ = 0;
};

/// Puts the copy back beside itself, reads every page and reference of what came of it, and takes it away again.
Result<std::string> proved_copy(const std::filesystem::path& copy);

}  // namespace spile::server
