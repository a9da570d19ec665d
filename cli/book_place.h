// Where a shop's book is kept.
#pragma once

#include <filesystem>

namespace spile::cli {

/// The folder of the book when nobody says another: $XDG_DATA_HOME/spile, else ~/.local/share/spile (XDG Base Directory
/// Specification 0.8).
std::filesystem::path usual_folder();

/// The book in a folder; an empty name is the usual folder.
std::filesystem::path book_in(const std::string& folder);

}  // namespace spile::cli
