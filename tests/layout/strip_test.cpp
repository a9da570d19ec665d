#include "core/layout/solve/strip.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

#include "bench/strip_check.h"
#include "bench/strip_json.h"

namespace spile {
namespace {

using testing::IsEmpty;

StripItem item(int id, int demand, std::vector<Vec2> polygon, std::vector<int> turns = {0}) {
    return {id, demand, std::move(turns), std::move(polygon)};
}

const std::vector<Vec2> kSquare{{0, 0}, {1, 0}, {1, 1}, {0, 1}};

StripResult packed(const StripInstance& instance, int rounds, int threads = 1) {
    StripOptions options;
    options.rounds = rounds;
    options.threads = threads;
    const auto result = solve_strip(instance, options, RunContext{});
    EXPECT_TRUE(result);
    EXPECT_THAT(faults_of_strip(instance, *result, strip_tolerance(instance.width, result->length)),
                IsEmpty());
    EXPECT_GE(result->length, result->bound * (1 - 1e-7));
    return *result;
}

TEST(Strip, SquaresFillItAndTheSearchEndsAtTheBound) {
    const StripInstance squares{"squares", 3, {item(0, 9, kSquare)}};
    const StripResult result = packed(squares, 1000);
    EXPECT_NEAR(result.length, 3, 1e-6);
    EXPECT_NEAR(result.density, 100, 1e-4);
    EXPECT_LT(result.rounds, 1000);
}

TEST(Strip, ATurnIsTakenWhereOnlyItFits) {
    // 3 long and 1 wide in a strip 2 wide, allowed only upright or lying.
    const StripInstance one{"one", 2, {item(4, 2, {{0, 0}, {1, 0}, {1, 3}, {0, 3}}, {0, 1})}};
    const StripResult result = packed(one, 50);
    EXPECT_NEAR(result.length, 3, 1e-6);
    for (const StripPlacement& p : result.placements) EXPECT_EQ(p.quarter_turns, 1);
}

// Eight right triangles close to four squares when half turns are allowed.
TEST(Strip, TrianglesPairUp) {
    const StripInstance triangles{"triangles", 2, {item(0, 8, {{0, 0}, {1, 0}, {0, 1}}, {0, 2})}};
    EXPECT_NEAR(packed(triangles, 400).length, 2, 2e-3);
}

TEST(Strip, ThreadsDoNotChangeTheResult) {
    StripInstance mixed{"mixed",
                        5,
                        {item(0, 6, {{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}}, {0, 2}),
                         item(1, 5, {{0, 0}, {2, 0}, {1, 1.5}}, {0, 2}), item(2, 4, kSquare)}};
    const StripResult one = packed(mixed, 12, 1), two = packed(mixed, 12, 2), three = packed(mixed, 12, 3);
    for (const StripResult* other : {&two, &three}) {
        ASSERT_EQ(one.placements.size(), other->placements.size());
        EXPECT_EQ(one.length, other->length);
        for (std::size_t i = 0; i < one.placements.size(); ++i) {
            EXPECT_EQ(one.placements[i].at, other->placements[i].at);
            EXPECT_EQ(one.placements[i].quarter_turns, other->placements[i].quarter_turns);
        }
    }
}

TEST(Strip, BadItemsAreAllNamed) {
    const StripInstance bad{"bad",
                            2,
                            {item(0, 1, {{0, 0}, {0, 1}, {1, 0}}), item(1, 0, kSquare),
                             item(2, 1, {{0, 0}, {1, 0}}), item(3, 1, {{0, 0}, {1, 0}, {1, 3}, {0, 3}})}};
    const auto result = solve_strip(bad, {}, {});
    EXPECT_FALSE(result);
    std::vector<std::string> codes;
    for (const Finding& f : result.findings) codes.push_back(f.code);
    EXPECT_THAT(codes,
                testing::ElementsAre("strip-no-area", "strip-demand", "strip-no-area", "strip-too-wide"));
}

/// The published instances lie beside the source tree on the machines that develop Spile; they are not part of it.
std::filesystem::path data_folder() {
    return std::filesystem::path(SPILE_SOURCE_DIR).parent_path() / "shared" / "data" / "nesting";
}

class Published : public testing::TestWithParam<std::string> {};

TEST_P(Published, ShortRunGivesALegalPacking) {
    const auto path = data_folder() / (GetParam() + ".json");
    if (!std::filesystem::exists(path)) GTEST_SKIP() << "no published instances beside the source tree";
    const StripInstance instance = read_strip_instance(path.string());
    const StripResult result = packed(instance, 1);
    double area = 0;
    for (const StripItem& i : instance.items)
        for (std::size_t k = 0; k < i.polygon.size(); ++k)
            area += i.demand * cross(i.polygon[k], i.polygon[(k + 1) % i.polygon.size()]) / 2;
    EXPECT_NEAR(result.density, 100 * area / (instance.width * result.length), 1e-4);
    EXPECT_GT(result.density, 50);
}

INSTANTIATE_TEST_SUITE_P(Instances, Published,
                         testing::Values("albano", "blaz1", "dagli", "jakobs1", "shapes0", "shirts", "swim",
                                         "trousers", "dighe1", "poly2b", "poly4b"),
                         [](const auto& instance) { return instance.param; });

TEST(StripCheck, SeesPlantedFaults) {
    const StripInstance squares{"squares", 3, {item(0, 2, kSquare)}};
    StripResult result;
    result.length = 2;
    const auto faults = [&] { return faults_of_strip(squares, result, 1e-6); };
    result.placements = {{0, 0, {0, 0}}, {0, 0, {1, 0}}};
    EXPECT_THAT(faults(), IsEmpty());
    result.placements[1].at.x = 1 - 1e-5;
    EXPECT_EQ(faults().size(), 2u);  // overlap and the length
    result.placements[1] = {0, 0, {1, 2.1}};
    EXPECT_FALSE(faults().empty());
    result.placements[1] = {0, 1, {2, 0}};
    EXPECT_EQ(faults(), std::vector<std::string>{"item 0 in a turn it may not take"});
    result.placements.pop_back();
    EXPECT_FALSE(faults().empty());
}

}  // namespace
}  // namespace spile
