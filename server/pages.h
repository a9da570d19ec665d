// The page and its files, copied into the program when it was built. Inside of server/.
#pragma once

#include <string>
#include <string_view>

namespace spile::server {

struct PageFile {
    const char* path;  ///< "/assets/index-5f3a.js"
    const char* type;
    const char* mark;  ///< of its content, for browsers that have it already
    const char* begin;
    const char* end;

    std::string_view bytes() const { return {begin, static_cast<std::size_t>(end - begin)}; }
};

/// Null when there is none. "/" is "/index.html".
const PageFile* page_file(std::string_view path);

/// The table that the build writes (server/copy_page.cmake); ends with a null path.
extern const PageFile page_files[];

/// What is shown where the screens are not built in: an honest page.
extern const char no_screens_page[];
/// What another device sees before it is paired.
extern const char pairing_page[];

}  // namespace spile::server
