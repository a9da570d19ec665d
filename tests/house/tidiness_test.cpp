// The house is in order: files stay small, the guide is true, nothing points at one person's machine.
#include <gtest/gtest.h>

#include <algorithm>
#include <regex>
#include <set>

#include "tests/house/sources.h"

namespace spile::house {
namespace {

const std::vector<std::string> kCode = {".h",  ".cpp", ".ts",    ".css",
                                        ".py", ".sh",  ".cmake", "CMakeLists.txt"};
constexpr std::size_t kLongestFile = 500;  // lines

bool is_text(const Source& source) {
    return source.text.find('\0') == std::string::npos;
}

/// A table made by a program says so at its top and is not read by people.
bool is_generated(const Source& source) {
    return source.text.substr(0, 400).find("enerated by tools/") != std::string::npos;
}

TEST(House, FilesStaySmall) {
    for (const Source& source : kept_files()) {
        if (!has_suffix(source.path, kCode) || is_generated(source)) continue;
        EXPECT_LE(lines_of(source.text).size(), kLongestFile) << source.path;
    }
}

/// What a file says in its words about other files: paths that begin with one of our folders.
std::vector<std::string> paths_named_in(const std::string& text) {
    static const std::regex path(
        "(^|[^A-Za-z0-9_./"
        "-])((core|export|import|shop|server|cli|wasm|tests|fuzz|bench|examples|docs|tools|cmake|assets)"
        "/[A-Za-z0-9_.{},/*-]*)");
    std::vector<std::string> named;
    for (std::sregex_iterator it(text.begin(), text.end(), path), end; it != end; ++it) {
        std::string found = (*it)[2];
        if (found.find_first_of("{*") != std::string::npos) continue;  // a pattern, not a file
        while (!found.empty() && std::string(".,/-").find(found.back()) != std::string::npos)
            found.pop_back();
        named.push_back(found);
    }
    return named;
}

TEST(House, TheGuidesNameOnlyWhatExists) {
    std::set<std::string> there;
    for (const Source& source : kept_files()) {
        there.insert(source.path);
        for (std::string folder = folder_of(source.path); !folder.empty(); folder = folder_of(folder))
            there.insert(folder);
    }
    bool hacking = false;
    for (const Source& source : kept_files()) {
        const bool guide = source.path == "HACKING.md" || source.path == "README.md" ||
                           (source.path.rfind("docs/design/", 0) == 0 && has_suffix(source.path, {".md"}));
        if (!guide) continue;
        const std::vector<std::string> named = paths_named_in(source.text);
        for (const std::string& path : named)
            EXPECT_TRUE(there.count(path)) << source.path << " names " << path;
        if (source.path == "HACKING.md") hacking = named.size() > 20;
    }
    EXPECT_TRUE(hacking) << "HACKING.md follows a job through the code, file by file";
}

TEST(House, NamedPathsAreFound) {
    EXPECT_EQ(paths_named_in(
                  "See `core/base/text.h`, tests/house/, and core/geom/offset.h. Not /usr/core/x or *.h"),
              (std::vector<std::string>{"core/base/text.h", "tests/house", "core/geom/offset.h"}));
}

TEST(House, NothingPointsAtOnePersonsMachine) {
    // Put together here so that this file does not find itself.
    const std::vector<std::string> places = {std::string("/wo") + "rk/", std::string("/ho") + "me/",
                                             std::string("/ro") + "ot/", std::string("/Us") + "ers/"};
    for (const Source& source : kept_files()) {
        if (!is_text(source)) continue;
        for (const std::string& place : places) {
            const std::size_t at = source.text.find(place);
            if (at == std::string::npos) continue;
            const auto line =
                std::count(source.text.begin(), source.text.begin() + static_cast<std::ptrdiff_t>(at), '\n');
            ADD_FAILURE() << source.path << ":" << line + 1 << " names " << place;
        }
    }
}

TEST(House, NothingIsLeftForLater) {
    const std::vector<std::string> marks = {std::string("TO") + "DO", std::string("FIX") + "ME"};
    for (const Source& source : kept_files()) {
        if (!has_suffix(source.path, kCode)) continue;
        for (const std::string& mark : marks)
            EXPECT_EQ(source.text.find(mark), std::string::npos) << source.path << " says " << mark;
    }
}

TEST(House, EveryHeaderIsReadOnce) {
    for (const Source& source : kept_files()) {
        if (!has_suffix(source.path, {".h"})) continue;
        EXPECT_NE(source.text.find("#pragma once"), std::string::npos) << source.path;
    }
}

}  // namespace
}  // namespace spile::house
