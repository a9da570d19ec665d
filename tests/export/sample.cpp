#include "tests/export/sample.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <clocale>
#include <cstdio>
#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace spile::sample {
namespace {

/// A folder for this run, gone when the program ends.
struct Folder {
    const std::string path = testing::TempDir() + "spile-export-" + std::to_string(getpid());
    Folder() { std::filesystem::create_directories(path); }
    ~Folder() { std::filesystem::remove_all(path); }
};

const std::string& folder() {
    static const Folder made;
    return made.path;
}

Path slit(Vec2 centre, int index) {
    const double turn = 2 * M_PI * index / 8;
    const Vec2 out = {std::cos(turn), std::sin(turn)};
    return {{{centre + 12.7 * out, 0, 0}, {centre + 25.4 * out, 0, 0}}};
}

}  // namespace

Piece piece() {
    Piece p;
    p.id = "3";
    p.number = 3;
    p.name = "round the post";
    p.cut.face.outer = {
        {{{0, 0}, 0, 0}, {{800, 0}, 0.2, 1}, {{800, 500}, 0, 2}, {{300, 500}, 0, 3}, {{0, 350}, 0, 4}}};
    p.cut.backing.outer = {{{{25.4, 0}, 0, 0},
                            {{800, 0}, 0.2, 1},
                            {{800, 500}, 0, 2},
                            {{300, 500}, 0, 3},
                            {{25.4, 362.7}, 0, 4}}};
    const Vec2 post = {400, 250};
    p.cut.face.holes = {reversed(circle(post, 12.7))};
    p.cut.backing.holes = {reversed(circle(post, 31.75))};
    for (int i = 0; i < 8; ++i) p.slits.push_back(slit(post, i));
    Path round = {circle(post, 38.1).vertices};
    round.vertices.push_back(round.vertices.front());
    p.seams = {{"round the post", round, 2 * M_PI * 38.1, true},
               {"turned edge", {{{{31.75, 10}, 0, 0}, {{31.75, 350}, 0, 0}}}, 340, false}};
    p.studs = {{"S1", {60, 60}}, {"S2", {700, 430}}};
    return p;
}

Page page() {
    Page page;
    Shape rule;
    rule.stroke.width_mm = 0.2;
    rule.open = {{{{{5, 40}, 0, 0}, {{205, 40}, 0, 0}}}};
    page.items.emplace_back(rule);
    Shape rounded;
    rounded.closed = {{{{{20, 100}, 0, 0}, {{120, 100}, 0.3, 0}, {{120, 180}, 0, 0}, {{20, 180}, -0.9, 0}}},
                      circle({70, 140}, 10)};
    rounded.filled = true;
    rounded.fill.grey = 0.8;
    rounded.stroke.dash_mm = {4, 2};
    page.items.emplace_back(rounded);
    page.items.emplace_back(Text{{20, 60}, "48 1\u20444 by 120 15\u204416 in", 5, Weight::regular});
    page.items.emplace_back(Text{{190, 70}, "Łódź & Ærø <back, mirrored>", 4, Weight::semibold, Anchor::end});
    page.items.emplace_back(Text{{150, 140}, "turned 30", 4, Weight::regular, Anchor::middle, 30, {0.5}});
    page.items.emplace_back(
        Text{{180, 200}, "5\u2032 3 1\u20442\u2033", 6, Weight::semibold, Anchor::start, 90});
    return page;
}

std::string written(const std::string& name, const std::string& bytes) {
    const std::string path = folder() + "/" + name;
    std::ofstream(path, std::ios::binary) << bytes;
    return path;
}

std::string output_of(const std::string& command) {
    std::string out;
    FILE* pipe = popen(command.c_str(), "r");
    if (!pipe) {
        ADD_FAILURE() << "cannot run " << command;
        return out;
    }
    char block[4096];
    while (const std::size_t got = fread(block, 1, sizeof block, pipe)) out.append(block, got);
    EXPECT_EQ(pclose(pipe), 0) << command;
    return out;
}

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}

std::vector<std::string> script(const std::string& name, const std::string& arguments) {
    return lines_of(output_of(std::string("/usr/bin/python3 '") + SPILE_SOURCE_DIR + "/tests/export/" + name +
                              "' " + arguments));
}

Elsewhere::Elsewhere() {
    const std::string make = "localedef -c -i ps_AF -f UTF-8 " + folder() + "/ps_AF.UTF-8 2>/dev/null";
    const int made = std::system(make.c_str());
    EXPECT_TRUE(WIFEXITED(made) && WEXITSTATUS(made) <= 1) << "is the package `locales` missing?";
    setenv("LOCPATH", folder().c_str(), 1);
    EXPECT_TRUE(std::setlocale(LC_ALL, "ps_AF.UTF-8")) << "is the package `locales` missing?";
    setenv("TZ", "Pacific/Kiritimati", 1);
    tzset();
}

Elsewhere::~Elsewhere() {
    std::setlocale(LC_ALL, "C");
    unsetenv("LOCPATH");
    unsetenv("TZ");
    tzset();
}

}  // namespace spile::sample
