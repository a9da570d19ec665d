// docs/gallery is what the program draws today.
#include <gtest/gtest.h>

#include <filesystem>

#include "tests/cli/program.h"

namespace spile::cli_test {
namespace {

TEST(Gallery, ItsPicturesAreTodays) {
    const Scratch scratch;
    const std::string drawn = (scratch / "drawn").string();
    const std::string command = "'" SPILE_SOURCE_DIR "/tools/make_gallery.sh' '" SPILE_BINARY_DIR
                                "/spile' '" +
                                drawn + "' >'" + (scratch / "log").string() + "' 2>&1";
    ASSERT_EQ(std::system(command.c_str()), 0);
    const auto today = files_in(drawn), kept = files_in(SPILE_SOURCE_DIR "/docs/gallery/papers");
    EXPECT_GE(today.size(), 15u);
    for (const auto& [name, bytes] : today) {
        const auto found = kept.find(name);
        ASSERT_NE(found, kept.end()) << name << " is new: run tools/make_gallery.sh";
        EXPECT_TRUE(found->second == bytes)
            << name << " has changed: run tools/make_gallery.sh and look at it";
    }
    for (const auto& [name, bytes] : kept)
        EXPECT_TRUE(today.count(name)) << name << " is no paper any more: run tools/make_gallery.sh";
}

TEST(Gallery, ItsConstructionsAreTodays) {
    // The build under the sanitizers makes no spile-bench.
    if (!std::filesystem::exists(SPILE_BINARY_DIR "/spile-bench"))
        GTEST_SKIP()
            << "spile-bench is not part of this build (SPILE_BENCH); ./check dev holds the constructions";
    const Scratch scratch;
    const std::string drawn = (scratch / "drawn").string();
    const std::string command =
        "mkdir '" + drawn + "' && '" SPILE_BINARY_DIR "/spile-bench' constructions '" + drawn + "'";
    ASSERT_EQ(std::system(command.c_str()), 0);
    const auto today = files_in(drawn), kept = files_in(SPILE_SOURCE_DIR "/docs/gallery/edging");
    EXPECT_GE(today.size(), 14u);
    EXPECT_EQ(today.size(), kept.size());
    for (const auto& [name, bytes] : today) {
        const auto found = kept.find(name);
        ASSERT_NE(found, kept.end()) << name << " is new: run tools/make_gallery.sh";
        EXPECT_TRUE(found->second == bytes)
            << name << " has changed: run tools/make_gallery.sh and look at it";
    }
}

}  // namespace
}  // namespace spile::cli_test
