// What the house tests look at: every file that is kept, by its path from the root.
#pragma once

#include <string>
#include <vector>

namespace spile::house {

struct Source {
    std::string path;  ///< "core/base/text.h"
    std::string text;
};

/// All files that people wrote, in the order of their paths: not what was built, made or fetched.
const std::vector<Source>& kept_files();

bool has_suffix(const std::string& path, const std::vector<std::string>& suffixes);

/// The folder of a path: "core/base" of "core/base/text.h".
std::string folder_of(const std::string& path);

std::vector<std::string> lines_of(const std::string& text);

}  // namespace spile::house
