// Neither the order of the readings nor the names of the points have a say: the same numbers to the last bit.
#include <gtest/gtest.h>

#include <map>

#include "tests/measure/invented.h"
#include "tests/measure/lines.h"

namespace spile {
namespace {

using namespace simulated;

void expect_same(const SpaceInput& in, const SpaceInput& mixed) {
    const Result<Survey> one = measure(in, RunContext{}), other = measure(mixed, RunContext{});
    ASSERT_TRUE(one && other);
    EXPECT_EQ(one->verdict, other->verdict);
    EXPECT_EQ(one->variance_factor, other->variance_factor);
    ASSERT_EQ(one->points.size(), other->points.size());
    for (const auto& [name, point] : one->points) {
        ASSERT_EQ(other->points.count(renamed(name)), 1u) << name;
        const SurveyPoint& there = other->points.at(renamed(name));
        EXPECT_EQ(point.boat_mm.x, there.boat_mm.x) << name;
        EXPECT_EQ(point.boat_mm.y, there.boat_mm.y) << name;
        EXPECT_EQ(point.cov_mm2.xx, there.cov_mm2.xx) << name;
        EXPECT_EQ(point.cov_mm2.xy, there.cov_mm2.xy) << name;
        EXPECT_EQ(point.cov_mm2.yy, there.cov_mm2.yy) << name;
    }
    ASSERT_EQ(one->suspects.size(), other->suspects.size());
    for (std::size_t i = 0; i < one->suspects.size(); ++i) {
        const Suspect &a = one->suspects[i], &b = other->suspects[i];
        EXPECT_EQ(a.id, b.id);
        EXPECT_EQ(a.slip_mm, b.slip_mm);
        ASSERT_EQ(a.alike.size(), b.alike.size());
        for (std::size_t k = 0; k < a.alike.size(); ++k) EXPECT_EQ(a.alike[k].id, b.alike[k].id);
    }
    EXPECT_EQ(one->advice.size(), other->advice.size());
    EXPECT_EQ(one->missing.size(), other->missing.size());
    EXPECT_EQ(one.findings.size(), other.findings.size());
}

TEST(Order, TiesInAnyOrderUnderAnyNames) {
    Random random(21);
    for (int round = 0; round < 60; ++round) {
        SCOPED_TRACE(round);
        Space s = round % 3 ? rough_space(random) : fair_space(random);
        tape_all(random, s);
        if (round % 2) s.reads_mm[0] += 25.4 * (1 + random.below(12));
        const SpaceInput in = input_of(s);
        expect_same(in, otherwise(random, in));
    }
}

// Half the corners are no longer on the walk: nothing but their ties tells which is which.
TEST(Order, PointsOffTheWalk) {
    Random random(22);
    for (int round = 0; round < 30; ++round) {
        SCOPED_TRACE(round);
        Space s = rough_space(random, 3);
        tape_all(random, s);
        SpaceInput in = input_of(s);
        in.walk.resize(3);
        expect_same(in, otherwise(random, in));
    }
}

// A figure that is its own image: which of two like points comes first changes no size.
TEST(Order, PointsThatNothingTellsApart) {
    const std::vector<std::string> lines = {"A B 2000", "P A 1500", "P B 1500",
                                            "Q A 1500", "Q B 1500", "P Q 2236"};
    SpaceInput in = space_of({}, {"A", "B"}, lines);
    SpaceInput mixed = in;
    std::reverse(mixed.readings.begin(), mixed.readings.end());
    const Result<Survey> one = measure(in, RunContext{}), other = measure(mixed, RunContext{});
    ASSERT_TRUE(one && other);
    for (const char* name : {"A", "B", "P", "Q"}) {
        EXPECT_EQ(one->points.at(name).boat_mm.x, other->points.at(name).boat_mm.x);
        EXPECT_EQ(std::fabs(one->points.at(name).boat_mm.y), std::fabs(other->points.at(name).boat_mm.y));
    }
}

TEST(Order, LinesOfEveryKind) {
    const std::vector<std::string> lines = {"A B 2000",
                                            "B C 1500",
                                            "A C 2500",
                                            "C D 2000",
                                            "D A 1500",
                                            "B D 2501",
                                            "P on A B at 700 off 300 left",
                                            "A B running U 500, V 1200",
                                            "W on C D",
                                            "W C 800",
                                            "W A 1920",
                                            "B square A C",
                                            "K diameter 100",
                                            "A K 900 near",
                                            "B K 1400 far",
                                            "K rim R S T",
                                            "R A 905",
                                            "S A 953"};
    const SpaceInput in = space_of({"A", "B", "C", "D"}, {"A", "B"}, lines);
    const Result<Survey> one = measure(in, RunContext{});
    ASSERT_TRUE(one);
    Random random(23);
    for (int round = 0; round < 10; ++round) {
        SpaceInput mixed = in;
        random.shuffle(mixed.readings);
        const Result<Survey> other = measure(mixed, RunContext{});
        ASSERT_TRUE(other);
        ASSERT_EQ(one->points.size(), other->points.size());
        for (const auto& [name, point] : one->points) {
            EXPECT_EQ(point.boat_mm.x, other->points.at(name).boat_mm.x) << name;
            EXPECT_EQ(point.boat_mm.y, other->points.at(name).boat_mm.y) << name;
        }
        // Reported as written, whatever the order inside.
        ASSERT_EQ(other->ties.size(), one->ties.size());
        std::map<std::string, double> residual;
        for (const TieReport& t : one->ties) residual[t.line + t.part + t.points[0]] = t.residual_mm;
        std::size_t line = 0;
        for (const TieReport& t : other->ties) {
            while (line < mixed.readings.size() && mixed.readings[line].line != t.line) ++line;
            EXPECT_LT(line, mixed.readings.size()) << t.line << " out of order";
            EXPECT_EQ(residual.at(t.line + t.part + t.points[0]), t.residual_mm) << t.line;
        }
    }
}

}  // namespace
}  // namespace spile
