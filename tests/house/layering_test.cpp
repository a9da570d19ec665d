// The table of the house: who may include whom. A stage may know base, geom and the result headers of earlier
// stages, never their algorithms; only job knows them all; only the shell touches files, clock and threads.
#include <gtest/gtest.h>

#include <map>
#include <optional>
#include <regex>
#include <set>

#include "tests/house/sources.h"

namespace spile::house {
namespace {

using Names = std::set<std::string>;

const std::string kReadings = "core/measure/reading.h", kSurvey = "core/measure/survey.h",
                  kPanel = "core/shape/panel.h", kPiece = "core/edging/piece.h",
                  kLayout = "core/layout/layout.h", kTooLarge = "core/layout/too_large.h",
                  kCutsAcross = "core/layout/cuts_across.h", kTakeoff = "core/takeoff/takeoff.h",
                  kDisplayList = "core/paper/display_list.h", kTextLayout = "core/paper/text_layout.h";

/// May include: whole folders and single headers. A room may always include itself.
struct Room {
    Names folders;
    Names headers;
    Names libraries;  ///< beginnings of the names of third-party headers
};

const std::map<std::string, Room> kRooms = {
    {"core/base", {{}, {}, {}}},
    {"core/num", {{"core/base"}, {}, {"Eigen/"}}},
    {"core/geom", {{"core/base"}, {}, {}}},
    {"core/measure", {{"core/base", "core/num", "core/geom"}, {}, {"Eigen/"}}},
    {"core/shape", {{"core/base", "core/geom"}, {kReadings, kSurvey}, {}}},
    {"core/edging", {{"core/base", "core/geom"}, {kReadings, kSurvey, kPanel}, {}}},
    {"core/layout", {{"core/base", "core/geom"}, {kPiece}, {}}},
    {"core/layout/check", {{"core/base", "core/geom"}, {kPiece, kLayout}, {}}},
    {"core/layout/solve",
     {{"core/base", "core/geom"}, {kPiece, kLayout, kTooLarge}, {"polyclipping/", "boost/"}}},
    {"core/takeoff", {{"core/base", "core/geom"}, {kReadings, kSurvey, kPanel, kPiece, kLayout}, {}}},
    {"core/paper",
     {{"core/base", "core/geom"}, {kReadings, kSurvey, kPanel, kPiece, kLayout, kCutsAcross, kTakeoff}, {}}},
    {"core/job",
     {{"core/base", "core/geom", "core/measure", "core/shape", "core/edging", "core/layout",
       "core/layout/check", "core/takeoff", "core/paper"},
      {},
      {"nlohmann/"}}},
    {"export/qr", {{"core/base", "core/geom"}, {}, {"qrencode.h"}}},
    {"export/draw",
     {{"core/base", "core/geom", "export/qr"}, {kDisplayList, kTextLayout}, {"cairo", "ft2build.h"}}},
    {"export/pdf",
     {{"core/base", "core/geom", "export/draw"}, {kDisplayList, kTextLayout}, {"cairo", "qpdf"}}},
    {"export/png", {{"core/base", "core/geom", "export/draw"}, {kDisplayList, kTextLayout}, {"cairo"}}},
    {"export/lines", {{"core/base", "core/geom"}, {kDisplayList, kTextLayout, kPanel, kPiece, kLayout}, {}}},
    {"export/svg", {{"core/base", "core/geom", "export/lines"}, {kDisplayList, kTextLayout}, {}}},
    {"export/dxf", {{"core/base", "core/geom", "export/lines"}, {}, {}}},
    {"export/csv", {{"core/base", "core/geom", "export/lines"}, {}, {}}},
    {"export/hpgl", {{"core/base", "core/geom", "export/lines"}, {}, {}}},
    {"import/outlines", {{"core/base", "core/geom"}, {}, {}}},
    {"import/dxf", {{"core/base", "core/geom", "import/outlines"}, {}, {"dxflib/"}}},
    {"import/svg", {{"core/base", "core/geom", "import/outlines"}, {}, {"pugixml.hpp"}}},
    {"import/csv", {{"core/base", "core/geom", "import/outlines"}, {}, {}}},
    {"import/job",
     {{"core/base", "core/geom", "core/job", "import/outlines", "import/dxf", "import/svg", "import/csv"},
      {},
      {}}},
    {"export/papers",
     {{"core/base", "core/geom", "core/paper", "export/lines", "export/pdf", "export/svg", "export/dxf",
       "export/csv", "export/hpgl"},
      {kPiece, kLayout, kTakeoff},
      {}}},
};

/// The shell sees every room below it.
const Names kShell = {"cli", "server", "shop", "wasm", "bench", "fuzz"};

/// What only the shell may use: files, clock, threads, terminal, and what the compiler for the web does not
/// have.
const Names kShellOnly = {
    "fstream",  "filesystem", "iostream",   "cstdio",  "ctime",  "chrono",    "thread",
    "mutex",    "future",     "locale",     "clocale", "random", "regex",     "format",
    "expected", "ranges",     "stop_token", "barrier", "latch",  "semaphore", "condition_variable"};

const std::map<std::string, Names> kMayUse = {
    {"core/base/check.cpp", {"cstdio"}},  // says where the fault is, then ends the program
    {"core/base/text.cpp", {"cstdio"}},   // snprintf
    {"core/layout/solve", {"chrono", "thread", "mutex", "future", "random"}},  // native only
};

/// Why this include is not allowed; nothing when it is.
std::optional<std::string> fault(const std::string& file, const std::string& included) {
    const std::string home = folder_of(file);
    if (kShell.count(home)) return std::nullopt;
    const auto room = kRooms.find(home);
    if (room == kRooms.end()) return "the folder stands in no row of the table";
    const Room& may = room->second;
    const bool ours = included.rfind("core/", 0) == 0 || included.rfind("export/", 0) == 0 ||
                      included.rfind("import/", 0) == 0 || kShell.count(folder_of(included)) > 0;
    if (ours) {
        const std::string other = folder_of(included);
        if (other == home || may.folders.count(other) || may.headers.count(included)) return std::nullopt;
        return "this room may not know that one";
    }
    const bool in_core = home.rfind("core/", 0) == 0;
    if (in_core && kShellOnly.count(included)) {
        for (const std::string& key : {file, home}) {
            const auto granted = kMayUse.find(key);
            if (granted != kMayUse.end() && granted->second.count(included)) return std::nullopt;
        }
        return "only the shell may use it";
    }
    if (included.find_first_of("/.") == std::string::npos) return std::nullopt;  // the standard library
    for (const std::string& library : may.libraries)
        if (included.rfind(library, 0) == 0) {
            // A library stays inside the room: its headers would hand it on.
            if (in_core && has_suffix(file, {".h"})) return "a header hands the library on to others";
            return std::nullopt;
        }
    return "this library does not belong here";
}

std::vector<std::string> includes_of(const std::string& text) {
    static const std::regex include("^[ \t]*#[ \t]*include[ \t]*[<\"]([^>\"]+)[>\"]");
    std::vector<std::string> found;
    for (const std::string& line : lines_of(text)) {
        std::smatch match;
        if (std::regex_search(line, match, include)) found.push_back(match[1]);
    }
    return found;
}

bool in_rooms(const std::string& path) {
    return has_suffix(path, {".h", ".cpp"}) && path.rfind("tests/", 0) != 0;
}

TEST(Layering, EveryIncludeIsAllowed) {
    int seen = 0;
    for (const Source& source : kept_files()) {
        if (!in_rooms(source.path)) continue;
        for (const std::string& included : includes_of(source.text)) {
            ++seen;
            const std::optional<std::string> why = fault(source.path, included);
            EXPECT_FALSE(why) << source.path << " includes " << included << ": " << *why;
        }
    }
    EXPECT_GT(seen, 100) << "the sources were not found";
}

TEST(Layering, EveryIncludeOfOurOwnExists) {
    Names paths;
    for (const Source& source : kept_files()) paths.insert(source.path);
    for (const Source& source : kept_files()) {
        if (!has_suffix(source.path, {".h", ".cpp"})) continue;
        for (const std::string& included : includes_of(source.text)) {
            const std::string top = included.substr(0, included.find('/'));
            const bool ours = top == "core" || top == "export" || top == "import" || top == "cli" ||
                              top == "tests" || top == "bench";
            EXPECT_TRUE(!ours || paths.count(included)) << source.path << " includes " << included;
        }
    }
}

// The test itself: planted faults are seen.
TEST(Layering, RefusesPlantedFaults) {
    EXPECT_TRUE(fault("core/base/text.cpp", "core/geom/vec2.h"));
    EXPECT_TRUE(fault("core/geom/offset.cpp", "core/measure/survey.h"));
    EXPECT_TRUE(fault("core/shape/shape.cpp", "core/measure/adjust.h"));
    EXPECT_TRUE(fault("core/layout/check/check.cpp", "core/layout/solve/solve.h"));
    EXPECT_TRUE(fault("core/layout/solve/solve.cpp", "core/layout/check/check.h"));
    EXPECT_TRUE(fault("core/paper/ticket.cpp", "core/job/document.h"));
    EXPECT_TRUE(fault("core/job/run_job.cpp", "core/layout/solve/solve.h"));
    EXPECT_TRUE(fault("core/takeoff/takeoff.cpp", "core/shape/corners.h"));
    EXPECT_TRUE(fault("core/measure/measure.cpp", "fstream"));
    EXPECT_TRUE(fault("core/base/length_read.cpp", "cstdio"));
    EXPECT_TRUE(fault("core/geom/offset.cpp", "polyclipping/clipper.hpp"));
    EXPECT_TRUE(fault("core/num/solve.h", "Eigen/Dense"));
    EXPECT_TRUE(fault("core/paper/ticket.cpp", "cairo.h"));
    EXPECT_TRUE(fault("core/geom/offset.cpp", "sys/stat.h"));
    EXPECT_TRUE(fault("core/geom/offset.cpp", "cli/terminal.h"));
    EXPECT_TRUE(fault("export/svg/svg.cpp", "core/job/document.h"));
    EXPECT_TRUE(fault("core/other/thing.cpp", "vector"));
    EXPECT_FALSE(fault("core/shape/shape.cpp", "core/measure/survey.h"));
    EXPECT_FALSE(fault("core/num/solve.cpp", "Eigen/Dense"));
    EXPECT_FALSE(fault("core/layout/solve/solve.cpp", "thread"));
    EXPECT_FALSE(fault("cli/main.cpp", "filesystem"));
    EXPECT_EQ(includes_of("# include  <vector>\n//#include \"a.h\"\n  #include \"b.h\" // why\n"),
              (std::vector<std::string>{"vector", "b.h"}));
}

}  // namespace
}  // namespace spile::house
