#include "server/brought_copy.h"

#include <fstream>

#include "core/base/stop.h"
#include "shop/safe.h"

namespace spile::server {
namespace {

namespace fs = std::filesystem;

std::string megabytes(std::int64_t bytes) {
    return std::to_string((bytes + 999'999) / 1'000'000) + " MB";
}

template <class T>
Result<T> refuse(const char* code, std::string says, std::string to_do) {
    return Result<T>::refuse(stop_finding(code, std::move(says), std::move(to_do), {"shop", ""}));
}

/// A person does not know the file by the name it has while it comes.
std::vector<Finding> without_path(std::vector<Finding> findings, const fs::path& file) {
    const std::string path = file.string();
    for (Finding& f : findings)
        for (std::size_t at = 0; (at = f.says.find(path, at)) != std::string::npos;)
            f.says.replace(at, path.size(), "What was brought");
    return findings;
}

}  // namespace

BroughtCopy::BroughtCopy(const fs::path& folder) : coming_(folder / "coming.part") {
    std::error_code ignored;
    fs::remove(coming_, ignored);
}

Result<std::int64_t> BroughtCopy::take(std::int64_t from, std::int64_t of, std::string_view bytes) {
    const std::lock_guard lock(mutex_);
    if (of > kLargestCopy_bytes)
        return refuse<std::int64_t>("file-too-large",
                                    "The file has " + megabytes(of) + "; a copy of up to " +
                                        megabytes(kLargestCopy_bytes) + " is taken.",
                                    "Bring a copy that Spile made; they end in .spile.");
    const auto size = static_cast<std::int64_t>(bytes.size());
    std::error_code ignored;
    if (from == 0) {
        fs::create_directories(coming_.parent_path(), ignored);
        // The copy is put back beside itself once to prove it.
        const fs::space_info room = fs::space(coming_.parent_path(), ignored);
        if (!ignored && room.available < 2 * static_cast<std::uintmax_t>(of))
            return refuse<std::int64_t>(
                "no-room",
                "The disk has room for " + megabytes(static_cast<std::int64_t>(room.available)) +
                    "; to take a copy and prove it, " + megabytes(2 * of) + " are needed.",
                "Make room, then bring it again.");
        of_ = of;
        there_ = 0;
    } else if (from != there_ || of != of_) {
        return refuse<std::int64_t>(
            "copy-part",
            "Byte " + std::to_string(there_) + " of the copy comes next, not " + std::to_string(from) + ".",
            "Bring the copy again from its beginning.");
    }
    if (size == 0 || there_ + size > of_)
        return refuse<std::int64_t>("copy-part",
                                    std::to_string(size) + " bytes more than " + std::to_string(there_) +
                                        " are no part of a copy of " + std::to_string(of_) + ".",
                                    "Bring the copy again from its beginning.");
    std::ofstream file(coming_, std::ios::binary | (from == 0 ? std::ios::trunc : std::ios::app));
    file.write(bytes.data(), size);
    file.close();
    if (!file) {
        of_ = there_ = 0;
        fs::remove(coming_, ignored);
        return refuse<std::int64_t>("no-room", "The disk did not take the copy.",
                                    "Make room, then bring it again.");
    }
    there_ += size;
    return Result<std::int64_t>::ok(there_);
}

Result<std::string> BroughtCopy::prove(std::int64_t of, const fs::path& to) {
    const std::lock_guard lock(mutex_);
    if (of != of_ || there_ != of_ || of_ == 0)
        return refuse<std::string>("copy-part", "The copy is not all there any more.",
                                   "Bring it again from its beginning.");
    of_ = there_ = 0;
    std::error_code failed;
    Result<std::string> says = proved_copy(coming_);
    if (says && fs::exists(to, failed))
        says = refuse<std::string>("file-there", "There is a copy of this name already.", "Bring it again.");
    if (says) fs::rename(coming_, to, failed);
    if (says && failed)
        says = refuse<std::string>("no-room", "The disk did not take the copy.",
                                   "Make room, then bring it again.");
    if (says) return says;
    fs::remove(coming_, failed);
    return {std::nullopt, without_path(std::move(says.findings), coming_)};
}

Result<std::string> proved_copy(const fs::path& copy) {
    const fs::path trial = copy.string() + ".trial";
    std::error_code ignored;
    fs::remove(trial, ignored);  // of a trial that was broken off
    Result<std::string> says = shop::restore_backup(copy.string(), trial.string());
    if (says) {
        Result<shop::Store> store = shop::Store::open(trial.string());
        says = store ? shop::check_book(*store) : Result<std::string>{std::nullopt, store.findings};
    }
    for (const char* ending : {"", "-wal", "-shm"}) fs::remove(trial.string() + ending, ignored);
    return says;
}

}  // namespace spile::server
