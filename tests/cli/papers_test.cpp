// spile make: the same bytes anywhere, all or nothing, nothing to cut from while something stops.
#include <gtest/gtest.h>

#include <chrono>
#include <thread>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

namespace fs = std::filesystem;

bool is_for_cutting(const std::string& name) {
    return name.rfind("cut-", 0) == 0 || name.rfind("marking-", 0) == 0 ||
           name.find("full-size") != std::string::npos;
}

std::size_t cutting_files(const fs::path& folder) {
    std::size_t n = 0;
    for (const auto& [name, bytes] : files_in(folder)) n += is_for_cutting(name);
    return n;
}

TEST(Make, TheSameBytesInAnotherFolderZoneAndTongue) {
    const Scratch one, other;
    fs::create_directories(other / "another/folder");
    const std::string locale =
        "localedef -c -i de_DE -f UTF-8 " + (other / "de_DE.UTF-8").string() + " 2>/dev/null";
    ASSERT_LE(WEXITSTATUS(std::system(locale.c_str())), 1)
        << "is the package `locales` missing?";  // 1: warnings
    // Under the sanitizers: p11-kit, loaded behind qpdf, keeps a locale for life, and glibc's newlocale loses its copy of
    // LOCPATH on the way. Nothing of ours calls argz_add_sep.
    const std::string known = other.file("known-leaks", "leak:argz_add_sep\n");
    const Outcome first = run_spile({"make", example("cockpit.json"), "--out", "papers"}, one.path(),
                                    {{"TZ", "UTC"}, {"LC_ALL", "C"}});
    ASSERT_EQ(first.exit, 0) << first.out << first.err;
    std::this_thread::sleep_for(std::chrono::milliseconds(1100));  // a stamp of the second would show
    const Outcome second =
        run_spile({"make", example("cockpit.json"), "--out", "elsewhere"}, other / "another/folder",
                  {{"TZ", "Asia/Kathmandu"},
                   {"LOCPATH", other.path().string()},
                   {"LSAN_OPTIONS", "suppressions=" + known + ":print_suppressions=0"},
                   {"LC_ALL", "de_DE.UTF-8"},
                   {"LANG", "de_DE.UTF-8"},
                   {"HOME", other.path().string()}});
    ASSERT_EQ(second.exit, 0) << second.out << second.err;
    const auto a = files_in(one / "papers"), b = files_in(other / "another/folder/elsewhere");
    ASSERT_GT(a.size(), 20u);
    ASSERT_EQ(a.size(), b.size());
    for (const auto& [name, bytes] : a) {
        ASSERT_TRUE(b.count(name)) << name;
        EXPECT_TRUE(bytes == b.at(name)) << name << " differs";
        EXPECT_FALSE(bytes.empty()) << name;
    }
}

TEST(Make, TheIndexAndTheListNameEveryFile) {
    const Scratch scratch;
    const Outcome made = run_spile(
        {"make", scratch.file("mat.json", mat_job("24 x 36, turned")), "--out", "out"}, scratch.path());
    ASSERT_EQ(made.exit, 0) << made.out << made.err;
    const auto files = files_in(scratch / "out");
    ASSERT_TRUE(files.count("index.html"));
    for (const auto& [name, bytes] : files) {
        EXPECT_NE(made.out.find("  " + name + " "), std::string::npos) << name;
        if (name != "index.html") {
            EXPECT_NE(files.at("index.html").find("href=\"" + name + "\""), std::string::npos) << name;
        }
    }
    EXPECT_GT(cutting_files(scratch / "out"), 0u);
}

TEST(Make, NothingToCutFromWhileSomethingStops) {
    const Scratch scratch;
    const std::string out = (scratch / "out").string();
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    ASSERT_EQ(run_spile({"make", job, "--out", out}, scratch.path()).exit, 0);
    ASSERT_GT(cutting_files(out), 0u);
    scratch.file("mat.json", mat_job("90 x 80, turned"));  // 80 in and its turns do not fit across 71 1/2 in
    const Outcome stopped = run_spile({"make", job, "--out", out}, scratch.path());
    EXPECT_EQ(stopped.exit, 1);
    EXPECT_NE(stopped.out.find("STOP"), std::string::npos) << stopped.out;
    EXPECT_EQ(cutting_files(out), 0u) << "papers of the run before are still there";
    const auto files = files_in(out);
    ASSERT_TRUE(files.count("index.html"));
    EXPECT_NE(files.at("index.html").find("Stopped"), std::string::npos);
}

TEST(Make, NothingIsLeftBesideTheFolder) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    for (int i = 0; i < 2; ++i)
        ASSERT_EQ(run_spile({"make", job, "--out", "a/b/out"}, scratch.path()).exit, 0);
    std::size_t entries = 0;
    for ([[maybe_unused]] const auto& entry : fs::directory_iterator(scratch / "a/b")) ++entries;
    EXPECT_EQ(entries, 1u);
}

TEST(Make, LeavesAloneWhatItDidNotWrite) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    fs::create_directories(scratch / "photos");
    scratch.file("photos/boat.jpg", "not a paper");
    for (int i = 0; i < 2; ++i) {
        const Outcome refused = run_spile({"make", job, "--out", "photos"}, scratch.path());
        EXPECT_EQ(refused.exit, 2);
        EXPECT_NE(refused.err.find("boat.jpg"), std::string::npos) << refused.err;
        EXPECT_EQ(files_in(scratch / "photos").size(), i == 0 ? 1u : 2u);
        scratch.file("photos/index.html", "<!doctype html>somebody's own page <a href=\"boat.jpg\">");
    }
    ASSERT_EQ(run_spile({"make", job, "--out", "out"}, scratch.path()).exit, 0);
    scratch.file("out/notes.txt", "mine");
    EXPECT_EQ(run_spile({"make", job, "--out", "out"}, scratch.path()).exit, 2);
    EXPECT_EQ(files_in(scratch / "out").at("notes.txt"), "mine");
}

TEST(Make, PlacesThatCannotBeWritten) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    scratch.file("taken", "a file");
    for (const char* out : {"taken", "taken/below", ".", "/", "", "/proc/spile-papers"}) {
        const Outcome refused = run_spile({"make", job, "--out", out}, scratch.path());
        EXPECT_EQ(refused.exit, 2) << out;
        EXPECT_FALSE(refused.err.empty()) << out;
        EXPECT_EQ(refused.out, "") << out;
    }
    EXPECT_EQ(files_in(scratch.path()).size(), 2u);
}

TEST(Make, AJobThatCannotBeReadTouchesNothing) {
    const Scratch scratch;
    const std::string job = scratch.file("mat.json", mat_job("24 x 36, turned"));
    ASSERT_EQ(run_spile({"make", job, "--out", "out"}, scratch.path()).exit, 0);
    const auto before = files_in(scratch / "out");
    scratch.file("mat.json", "{ broken");
    EXPECT_EQ(run_spile({"make", job, "--out", "out"}, scratch.path()).exit, 2);
    EXPECT_EQ(files_in(scratch / "out"), before);
}

}  // namespace
}  // namespace spile::cli_test
