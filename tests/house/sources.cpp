#include "tests/house/sources.h"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>

namespace spile::house {
namespace {

namespace fs = std::filesystem;

bool is_made(const std::string& name) {
    return name == ".git" || name == "out" || name == "build" || name.rfind("build-", 0) == 0 ||
           name == "node_modules" || name == "dist" || name == "__pycache__";
}

void collect(const fs::path& folder, const fs::path& root, std::vector<Source>& files) {
    for (const fs::directory_entry& entry : fs::directory_iterator(folder)) {
        if (is_made(entry.path().filename().string())) continue;
        if (entry.is_directory()) {
            collect(entry.path(), root, files);
        } else if (entry.is_regular_file()) {
            std::ifstream in(entry.path(), std::ios::binary);
            files.push_back({entry.path().lexically_relative(root).generic_string(),
                             std::string(std::istreambuf_iterator<char>(in), {})});
        }
    }
}

}  // namespace

const std::vector<Source>& kept_files() {
    static const std::vector<Source> files = [] {
        std::vector<Source> all;
        collect(SPILE_SOURCE_DIR, SPILE_SOURCE_DIR, all);
        std::sort(all.begin(), all.end(), [](const Source& a, const Source& b) { return a.path < b.path; });
        return all;
    }();
    return files;
}

bool has_suffix(const std::string& path, const std::vector<std::string>& suffixes) {
    return std::any_of(suffixes.begin(), suffixes.end(), [&](const std::string& s) {
        return path.size() >= s.size() && path.compare(path.size() - s.size(), s.size(), s) == 0;
    });
}

std::string folder_of(const std::string& path) {
    const std::size_t slash = path.rfind('/');
    return slash == std::string::npos ? "" : path.substr(0, slash);
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

}  // namespace spile::house
