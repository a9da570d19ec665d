#include "shop/book_file.h"

#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include "shop/database.h"
#include "shop/schema.h"

namespace spile::shop {
namespace {

namespace fs = std::filesystem;

/// SQLite's own header (sqlite.org, "Database File Format", section 1.3): magic, then big-endian words.
constexpr char kMagic[16] = {'S', 'Q', 'L', 'i', 't', 'e', ' ', 'f', 'o', 'r', 'm', 'a', 't', ' ', '3', '\0'};
constexpr std::size_t kHeader_bytes = 100, kUserVersionAt = 60, kApplicationAt = 68;

std::int64_t word_at(const char* header, std::size_t at) {
    std::int64_t value = 0;
    for (std::size_t i = 0; i < 4; ++i) value = value * 256 + static_cast<unsigned char>(header[at + i]);
    return value;
}

[[noreturn]] void refuse_foreign(const std::string& path, const std::string& why) {
    refuse("shop-not-a-book", path + " is no shop's book: " + why + ".",
           "Name the book, or a new file for a new one; this one has not been touched.");
}

}  // namespace

void refuse_newer(const std::string& path, std::int64_t version) {
    refuse(
        "shop-newer",
        path + " was written by a newer Spile: its book has version " + std::to_string(version) +
            ", this program knows " + std::to_string(book_version()) + ".",
        "Use the newer program; the file has not been touched.", {"shop", ""},
        {{"version", static_cast<double>(version), ""}, {"known", static_cast<double>(book_version()), ""}});
}

bool look_at_file(const std::string& path, bool to_write) {
    std::error_code error;
    if (!fs::exists(path, error)) return false;
    if (!fs::is_regular_file(path, error)) refuse_foreign(path, "it is no file");
    if (access(path.c_str(), R_OK) != 0)
        refuse("shop-read-only", path + " cannot be read by this person.", "Let this person read it.");
    std::ifstream in(path, std::ios::binary);
    char header[kHeader_bytes] = {};
    in.read(header, sizeof header);
    if (in.gcount() == 0 && !in.bad()) return false;
    if (in.gcount() < static_cast<std::streamsize>(sizeof header) ||
        std::memcmp(header, kMagic, sizeof kMagic) != 0)
        refuse_foreign(path, "it does not begin like a database");
    if (word_at(header, kApplicationAt) != kBookMark)
        refuse_foreign(path, "it is the database of another program");
    const std::int64_t version = word_at(header, kUserVersionAt);
    if (version > book_version()) refuse_newer(path, version);
    if (version < 1) refuse_foreign(path, "its version is " + std::to_string(version));
    if (to_write && (access(path.c_str(), W_OK) != 0 ||
                     access(fs::absolute(path).parent_path().c_str(), W_OK | X_OK) != 0))
        refuse("shop-read-only", path + " or its folder cannot be written by this person.",
               "Let this person write both, or copy the book to where they may.");
    return true;
}

void need_nothing(const std::string& path) {
    std::error_code error;
    if (fs::exists(fs::symlink_status(path, error)))
        refuse("file-there", "There is something at " + path + " already; it is left as it is.",
               "Choose another name.");
}

Apart::Apart(const std::string& to) : name(to + ".new-" + std::to_string(getpid())) {
    clear();
}

Apart::~Apart() {
    clear();
}

void Apart::take_name(const std::string& to) const {
    const int file = open(name.c_str(), O_RDONLY);
    bool done = file >= 0 && fsync(file) == 0;
    if (file >= 0) close(file);
    std::error_code error;
    if (done && fs::exists(to, error) && fs::file_size(to, error) == 0)
        done = rename(name.c_str(), to.c_str()) == 0;
    else if (done && link(name.c_str(), to.c_str()) != 0) {
        if (errno == EEXIST) need_nothing(to);
        done = rename(name.c_str(), to.c_str()) == 0;  // a disk without links
    }
    if (!done)
        refuse("shop-read-only", to + " cannot be made (" + std::strerror(errno) + ").",
               "Let this person write the folder, or choose another.");
    const int home = open(fs::absolute(to).parent_path().c_str(), O_RDONLY | O_DIRECTORY);
    if (home < 0) return;
    fsync(home);  // so that the name is safe too
    close(home);
}

void Apart::clear() const {
    std::error_code ignored;
    for (const char* end : {"", "-wal", "-shm", "-journal"}) fs::remove(name + end, ignored);
}

}  // namespace spile::shop
