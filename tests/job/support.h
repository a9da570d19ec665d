// What the tests of core/job share: files, and the expectations written into the corpus of bad jobs.
#pragma once

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "core/base/text.h"
#include "core/job/document.h"
#include "core/layout/solve/solve.h"

namespace spile::testing {

inline std::string read_file(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::stringstream text;
    text << in.rdbuf();
    return text.str();
}

inline std::vector<std::filesystem::path> jobs_in(const std::string& folder) {
    std::vector<std::filesystem::path> paths;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(SPILE_SOURCE_DIR) + "/" + folder)) {
        if (entry.path().extension() == ".json") paths.push_back(entry.path());
    }
    std::sort(paths.begin(), paths.end());
    return paths;
}

/// Every job that has no fault: the examples and the ones written to use every key.
inline std::vector<std::filesystem::path> good_jobs() {
    std::vector<std::filesystem::path> paths = jobs_in("examples");
    for (const auto& path : jobs_in("tests/job/good")) paths.push_back(path);
    return paths;
}

/// The solver that people run, for so many rounds.
inline auto solver_of(int rounds) {
    return [rounds](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& run) {
        SolveOptions options;
        options.rounds = rounds;
        return solve_layout(pieces, goods, options, run);
    };
}

struct Expected {
    std::string code, place, words;
};

/// The lines "// KIND: code | place | words" of a file.
inline std::vector<Expected> expected_of(const std::string& text, const std::string& kind) {
    std::vector<Expected> all;
    std::istringstream lines(text);
    const std::string start = "// " + kind + ": ";
    for (std::string line; std::getline(lines, line);) {
        if (line.compare(0, start.size(), start) != 0) continue;
        std::vector<std::string> parts(3);
        std::istringstream rest(line.substr(start.size()));
        for (std::size_t i = 0; i < 3 && std::getline(rest, parts[i], '|'); ++i)
            parts[i] = std::string(trimmed(parts[i]));
        all.push_back({parts[0], parts[1], parts[2]});
    }
    return all;
}

inline bool has_words(const Finding& f, const std::string& words) {
    return (f.says + "\n" + f.to_do).find(words) != std::string::npos;
}

inline std::string shown(const std::vector<Finding>& findings) {
    std::string text;
    for (const Finding& f : findings)
        text += std::string(severity_name(f.severity)) + " " + f.code + " | " + f.where + " | " +
                f.subject.kind + " " + f.subject.id + " | " + f.says + " " + f.to_do + "\n";
    return text;
}

inline const Finding* find_code(const std::vector<Finding>& findings, const std::string& code) {
    for (const Finding& f : findings) {
        if (f.code == code) return &f;
    }
    return nullptr;
}

/// The content of a document without regard to the order of keys, which writing is free to change.
inline std::string content_of(const JsonValue& v) {
    std::string text = std::string(kind_word(v.kind)) + ":" + v.text + (v.flag ? "true" : "");
    std::vector<std::string> parts;
    for (std::size_t i = 0; i < v.items.size(); ++i)
        parts.push_back((v.keys.empty() ? "" : v.keys[i] + "=") + content_of(v.items[i]));
    if (v.is(JsonValue::Kind::object)) std::sort(parts.begin(), parts.end());
    for (const std::string& part : parts) text += "(" + part + ")";
    return text;
}

/// A job of one four-sided space and one panel, `middle` put between its head and its spaces.
inline std::string small_job(const std::string& middle = "",
                             const std::string& panel = R"("corners": ["A", "B", "C", "D"])") {
    return R"({ "spile": 1, "units": "in", "mark_on": "back", )" + middle + R"(
  "spaces": [{ "id": "cockpit", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
    "ties": ["A B 96 1/4", "B C 71 7/8", "C D 96 1/4", "D A 71 7/8", "A C 120 1/8", "B D 120 1/8"] }],
  "panels": [{ "id": "1", )" +
           panel + R"( }] })";
}

}  // namespace spile::testing
