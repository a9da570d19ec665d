#include "cli/book_place.h"

#include <cstdlib>

namespace spile::cli {

std::filesystem::path usual_folder() {
    const char* data = std::getenv("XDG_DATA_HOME");
    if (data && data[0] == '/') return std::filesystem::path(data) / "spile";
    const char* home = std::getenv("HOME");
    return std::filesystem::path(home && home[0] == '/' ? home : ".") / ".local/share/spile";
}

std::filesystem::path book_in(const std::string& folder) {
    return (folder.empty() ? usual_folder() : std::filesystem::path(folder)) / "shop.spile";
}

}  // namespace spile::cli
