// Every way of taking a shape by tape, in small spaces whose places are known.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/measure/lines.h"

namespace spile {
namespace {

using testing::HasSubstr;

/// 3000 x 2000 with both diagonals.
const std::vector<std::string> kSound = {"A B 3000", "B C 2000",   "C D 3000",
                                         "D A 2000", "A C 3605.5", "B D 3605.5"};

Result<Survey> measured(std::vector<std::string> lines, const std::vector<std::string>& more = {}) {
    lines.insert(lines.end(), more.begin(), more.end());
    return measure(space_of({"A", "B", "C", "D"}, {"A", "B"}, lines), RunContext{});
}

Vec2 place(const Result<Survey>& s, const char* name) {
    EXPECT_TRUE(s && s->points.count(name)) << name << ' ' << codes(s.findings);
    return s && s->points.count(name) ? s->points.at(name).boat_mm : Vec2{};
}

void expect_at(const Result<Survey>& s, const char* name, double x, double y, double within_mm = 1) {
    const Vec2 p = place(s, name);
    EXPECT_NEAR(p.x, x, within_mm) << name;
    EXPECT_NEAR(p.y, y, within_mm) << name;
}

TEST(Kinds, RunningSizesReadFromOneZero) {
    const Result<Survey> s = measured(kSound, {"A B running P 500, Q 1250, R 2900"});
    expect_at(s, "P", 500, 0);
    expect_at(s, "Q", 1250, 0);
    expect_at(s, "R", 2900, 0);
    // The end of the line itself may be among them: a tie.
    EXPECT_EQ(measured(kSound, {"A B running P 500, B 3000"})->spare, 2);
}

TEST(Kinds, InLine) {
    // W on A-B and 1000 from A: one tie and the line hold it.
    const Result<Survey> s = measured(kSound, {"W on A B", "W A 1000"});
    ASSERT_TRUE(s);
    EXPECT_TRUE(s->fixed) << codes(s.findings);
    EXPECT_NEAR(std::fabs(place(s, "W").y), 0, 1);
}

TEST(Kinds, RightAnglesFixAShape) {
    const Result<Survey> s = measured({"A B 3000", "B C 2000", "C D 3000", "D A 2000", "B square A C"});
    ASSERT_TRUE(s);
    EXPECT_TRUE(s->fixed) << codes(s.findings);
    expect_at(s, "C", 3000, 2000, 2);
    // A 3-4-5 is surer than a square: the diagonal is then known to 2.2 mrad times 3000 * 2000 / 3605.6 instead of 8.7.
    const auto diagonal_sd = [](const Result<Survey>& of) {
        const SurveyPoint& c = of->points.at("C");
        return std::sqrt(c.cov_mm2.xx + c.cov_mm2.yy);
    };
    const Result<Survey> surer =
        measured({"A B 3000", "B C 2000", "C D 3000", "D A 2000", "B square A C by 3-4-5"});
    EXPECT_LT(diagonal_sd(surer), diagonal_sd(s) / 2);
    // Square arms alone, each with its own tape.
    const Result<Survey> chain =
        measured({"A B 3000", "B C 2000", "B square A C", "C D 3000", "C square B D"});
    EXPECT_TRUE(chain && chain->fixed) << codes(chain.findings);
    // Where the square is off, it is the square that is named when the tapes say so.
    const Result<Survey> off =
        measured({"A B 3000", "B C 2000", "C D 3000", "D A 2000", "A C 3700", "B D 3508", "M A 1801",
                  "M B 1802", "M C 1900", "M D 1690", "B square A C"});
    EXPECT_TRUE(off);
}

TEST(Kinds, RoundThingsByTheirSides) {
    // A post of 100 mm about K at (1000, 800): from A near side, from B far side, from D to the middle.
    const double a = std::hypot(1000, 800), b = std::hypot(2000, 800), d = std::hypot(1000, 1200);
    const Result<Survey> s =
        measured(kSound, {"K diameter 100", "A K " + std::to_string(a - 50) + " near",
                          "B K " + std::to_string(b + 50) + " far", "D K " + std::to_string(d)});
    expect_at(s, "K", 1000, 800);
    ASSERT_EQ(s->round_things.size(), 1u);
    EXPECT_EQ(s->round_things[0].diameter_mm, 100);
    for (const TieReport& t : s->ties) {
        if (t.points[0] == "A" && t.points[1] == "K") {
            EXPECT_NEAR(t.reads_mm, a - 50, 1e-5);  // as read, not to the middle
        }
    }
    const Result<Survey> lacking = measured(kSound, {"A K 1200 near", "B K 2000", "D K 1500"});
    EXPECT_NE(finding(lacking.findings, "diameter-missing"), nullptr);
}

TEST(Kinds, RoundThingsByThreePointsOfTheRim) {
    // A circle of radius 200 about (1500, 900); P, Q, R on it by ties from A and B.
    std::vector<std::string> lines;
    const Vec2 at[] = {{1700, 900}, {1500, 1100}, {1300, 900}};
    const char* names[] = {"P", "Q", "R"};
    for (int i = 0; i < 3; ++i) {
        for (const auto& [corner, c] :
             {std::pair<const char*, Vec2>{"A", {0, 0}}, {"B", {3000, 0}}, {"D", {0, 2000}}})
            lines.push_back(std::string(names[i]) + " " + corner + " " + std::to_string(distance(at[i], c)));
    }
    lines.push_back("K rim P Q R");
    const Result<Survey> s = measured(kSound, lines);
    expect_at(s, "K", 1500, 900, 2);
    ASSERT_EQ(s->round_things.size(), 1u);
    EXPECT_NEAR(s->round_things[0].diameter_mm, 400, 3);
    // With its diameter known, two points of the rim and the walk hold it.
    lines.back() = "K rim P Q R";
    lines.push_back("K diameter 400");
    expect_at(measured(kSound, lines), "K", 1500, 900, 2);
}

TEST(Kinds, RoundedCorners) {
    const Result<Survey> s =
        measured(kSound, {"B round 60", "A B running T 2900", "U on B C at 100", "C round to V U2",
                          "V on C D at 150", "U2 on C B at 150", "S height 12.5", "S A 500", "S B 2600"});
    ASSERT_TRUE(s);
    ASSERT_EQ(s->rounded_corners.size(), 2u) << codes(s.findings);
    EXPECT_EQ(s->rounded_corners[0].at, "B");
    EXPECT_EQ(s->rounded_corners[0].radius_mm, 60);
    EXPECT_NEAR(s->rounded_corners[1].radius_mm, 150, 1);  // a right angle: the tangent length itself
    EXPECT_EQ(s->heights_mm.at("S"), 12.5);
    const Result<Survey> uneven =
        measured(kSound, {"C round to V U2", "V on C D at 150", "U2 on C B at 190"});
    EXPECT_NE(finding(uneven.findings, "tangents-differ"), nullptr);
}

TEST(Kinds, PointsNobodyPlacedAreNamed) {
    const Result<Survey> s = measured(kSound, {"X diameter 50", "Y height 10", "Z round 20"});
    int unknown = 0;
    for (const Finding& f : s.findings) unknown += f.code == "point-unknown";
    EXPECT_EQ(unknown, 3);
}

TEST(Kinds, LinesAreRefusedWithTheLineThatWouldBeRight) {
    for (const char* line :
         {"A B running", "A B running P", "A B running P 12 Q 24", "B square A", "B square A C twice",
          "K rim", "K diameter", "E round to T", "E round", "P height", "near A 12", "A square 48"}) {
        const Result<Reading> r = parse_reading_line(line, Unit::mm);
        EXPECT_FALSE(r) << line;
        ASSERT_FALSE(r.findings.empty()) << line;
        EXPECT_FALSE(r.findings[0].to_do.empty()) << line;
    }
}

// Advice: what it promises comes true when the tie is taken.
TEST(Kinds, AdviceNamesTheTieThatChecksMost) {
    const std::vector<std::string> lines = {"A B 3000",   "B C 2000",   "C D 3000", "D A 2000",
                                            "A C 3605.5", "B D 3605.5", "E A 1800", "E B 1900"};
    const Result<Survey> s = measured(lines);
    ASSERT_TRUE(s && s->fixed);
    ASSERT_FALSE(s->advice.empty());
    EXPECT_THAT(s->advice[0], HasSubstr("Nothing checks E; one more tie from E to "));
    const std::string to(1, s->advice[0][std::string("Nothing checks E; one more tie from E to ").size()]);
    EXPECT_TRUE(to == "C" || to == "D") << s->advice[0];
    const Vec2 e = place(s, "E"), q = place(s, to.c_str());
    const Result<Survey> after = measured(lines, {"E " + to + " " + std::to_string(distance(e, q))});
    const auto slip = [](const Survey& of, const char* from) -> std::optional<double> {
        for (const TieReport& t : of.ties)
            if (t.points[0] == "E" && t.points[1] == from) return t.smallest_slip_mm;
        return std::nullopt;
    };
    EXPECT_FALSE(slip(*s, "A"));
    ASSERT_TRUE(slip(*after, "A"));
    // As promised for the tie it was chosen for, within the half millimetre it is said to.
    const std::size_t down = s->advice[0].find("down to ") + 8;
    const double promised = std::stod(s->advice[0].substr(down));
    EXPECT_TRUE(std::fabs(*slip(*after, "A") - promised) < 0.6 ||
                std::fabs(*slip(*after, "B") - promised) < 0.6)
        << promised << " " << *slip(*after, "A") << " " << *slip(*after, "B");
}

TEST(Kinds, WhatKeepsAPersonFromLeaving) {
    const Result<Survey> s = measured({"A B 3000", "B C 2000", "C D 3000", "D A 2000", "A C 3605.5"});
    ASSERT_TRUE(s);
    const auto has = [](const Survey& of, const char* begins) {
        for (const std::string& line : of.missing)
            if (line.rfind(begins, 0) == 0) return true;
        return false;
    };
    EXPECT_TRUE(has(*s, "check A B:"));
    EXPECT_TRUE(has(*s, "diagonals:"));
    EXPECT_TRUE(measured(kSound)->missing.empty());
    EXPECT_TRUE(has(*measured(kSound, {"F A 1200"}), "shape: F can still swing"));
}

}  // namespace
}  // namespace spile
