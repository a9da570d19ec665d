#include "core/measure/curves.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/fair.h"
#include "tests/measure/lines.h"

namespace spile {
namespace {

const std::vector<std::string> kSound = {"A B 3000", "B C 2000",    "C D 3000",
                                         "D A 2000", "A C 3605.55", "B D 3605.55"};

Result<Survey> measured(std::vector<std::string> more) {
    std::vector<std::string> lines = kSound;
    lines.insert(lines.end(), more.begin(), more.end());
    return measure(space_of({"A", "B", "C", "D"}, {"A", "B"}, lines), RunContext{});
}

// r = c^2 / 8h + h / 2 (closed form).
TEST(Curves, ChordAndRise) {
    const Result<Survey> s = measured({"A B rise 120 out", "D C rise 80 inward"});
    ASSERT_TRUE(s);
    ASSERT_EQ(s->curves.size(), 2u);
    const Edge& out = s->curves[0].edges[0];
    const double chord = distance(out.a, out.b);
    EXPECT_NEAR(radius_of(out), chord * chord / (8 * 120) + 60, 1e-6);
    EXPECT_NEAR(midpoint_of(out).y, -120,
                1e-9);  // away from the floor: A-B runs along the bow, the floor is to port
    const Edge& in = s->curves[1].edges[0];
    EXPECT_NEAR(midpoint_of(in).y, 2000 - 80, 1);  // written against the walk, into the floor
}

TEST(Curves, MoreThanHalfACircleIsSplitAndAsked) {
    const Result<Survey> s = measured({"A B rise 2000 out"});
    ASSERT_TRUE(s);
    ASSERT_EQ(s->curves.size(), 1u);
    ASSERT_EQ(s->curves[0].edges.size(), 2u);
    for (const Edge& e : s->curves[0].edges) EXPECT_LE(std::fabs(e.bulge), 1);
    const Edge& first = s->curves[0].edges[0];
    const double chord = distance(s->points.at("A").boat_mm, s->points.at("B").boat_mm);
    EXPECT_NEAR(radius_of(first), chord * chord / 16000 + 1000, 1e-6);
    EXPECT_NEAR(first.b.y, -2000, 1e-9);
    EXPECT_NE(finding(s.findings, "rise-large"), nullptr);
}

TEST(Curves, ThroughOnePointIsTheArc) {
    const Result<Survey> s = measured({"P on A B at 1000 off 90 right", "A B through P"});
    ASSERT_TRUE(s && s->curves.size() == 1) << codes(s.findings);
    const Edge& e = s->curves[0].edges[0];
    const Vec2 centre = centre_of(e);
    EXPECT_NEAR(distance(centre, s->points.at("P").boat_mm), radius_of(e), 1e-6);
    EXPECT_NEAR(distance(centre, e.a), radius_of(e), 1e-6);
    EXPECT_GT(e.bulge, 0);
}

TEST(Curves, ThroughSeveralPointsIsSmoothAndMeetsThem) {
    const Result<Survey> s = measured({"P on A B at 600 off 80 right", "Q on A B at 1500 off 130 right",
                                       "R on A B at 2500 off 60 right", "A B through P Q R"});
    ASSERT_TRUE(s && s->curves.size() == 1) << codes(s.findings);
    const std::vector<Edge>& edges = s->curves[0].edges;
    EXPECT_EQ(edges.front().a, s->points.at("A").boat_mm);
    EXPECT_EQ(edges.back().b, s->points.at("B").boat_mm);
    int met = 0;
    for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
        EXPECT_EQ(edges[i].b, edges[i + 1].a);
        EXPECT_NEAR(cross(direction_at(edges[i], 1), direction_at(edges[i + 1], 0)), 0, 1e-9);
        EXPECT_GT(dot(direction_at(edges[i], 1), direction_at(edges[i + 1], 0)), 0);
        for (const char* name : {"P", "Q", "R"}) met += edges[i].b == s->points.at(name).boat_mm;
    }
    EXPECT_EQ(met, 3);
}

TEST(Curves, AHumpIsNamedAndAnSIsNone) {
    const auto through = [](const char* p, const char* q, const char* r, const char* s, const char* t) {
        const auto on = [](const char* name, const char* at, const char* off) {
            return std::string(name) + " on A B at " + at + " off " + off + " right";
        };
        return measured({on("P", "500", p), on("Q", "1000", q), on("R", "1500", r), on("S", "2000", s),
                         on("T", "2500", t), "A B through P Q R S T"});
    };
    // A parabola of 130 on 3000, and the same with its middle 20 in.
    EXPECT_EQ(finding(through("72.2", "115.6", "130", "115.6", "72.2").findings, "curve-hump"), nullptr);
    const Result<Survey> dented = through("72.2", "115.6", "110", "115.6", "72.2");
    const Finding* f = finding(dented.findings, "curve-hump");
    ASSERT_NE(f, nullptr) << codes(dented.findings);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_NE(f->says.find("hump at R"), std::string::npos) << f->says;
    EXPECT_NE(f->says.find("between Q and S"), std::string::npos) << f->says;
    ASSERT_EQ(f->numbers.size(), 3u);
    EXPECT_EQ(f->numbers[1].value, 25.4 / 8);
    // The parabola is 130 there; a fair line through the others comes as near to it as 130 / 100.
    EXPECT_NEAR(f->numbers[0].value, 20, 1.3);
    // A line that bends back once is as it is, even where one point alone does it.
    EXPECT_EQ(finding(measured({"P on A B at 500 off 40 left", "Q on A B at 1000 off 90 right",
                                "R on A B at 1500 off 120 right", "S on A B at 2000 off 110 right",
                                "T on A B at 2500 off 60 right", "A B through P Q R S T"})
                          .findings,
                      "curve-hump"),
              nullptr);
    // So is one that swings out and then in: y = 100 sin.
    EXPECT_EQ(finding(measured({"P on A B at 500 off 86.6 right", "Q on A B at 1000 off 86.6 right",
                                "R on A B at 1500 off 0 right", "S on A B at 2000 off 86.6 left",
                                "T on A B at 2500 off 86.6 left", "A B through P Q R S T"})
                          .findings,
                      "curve-hump"),
              nullptr);
}

TEST(Curves, APointOffTheLineOfTheOthersIsReportedWithItsDoubt) {
    // A parabola of 260 on 3000 and one point of it 16 out: it bends one way only, so there is no hump.
    const auto through = [](const char* q) {
        return measured({"P on A B at 500 off 144.4 right",
                         std::string("Q on A B at 1000 off ") + q + " right",
                         "R on A B at 1500 off 260 right", "S on A B at 2000 off 231.1 right",
                         "T on A B at 2500 off 144.4 right", "A B through P Q R S T"});
    };
    const Result<Survey> fair = through("231.1"), off = through("247.1");
    ASSERT_TRUE(fair && fair->curves.size() == 1 && off) << codes(fair.findings);
    const SurveyCurve& curve = fair->curves[0];
    EXPECT_GT(curve.within_mm, 0);
    EXPECT_LE(curve.within_mm, 0.1);
    ASSERT_EQ(curve.points.size(), 5u);
    for (const CurvePoint& p : curve.points) {
        EXPECT_LT(p.off_mm, 25.4 / 8) << p.name;
        EXPECT_FALSE(p.bends_back) << p.name;
        // At least its own doubt, the square of 0.5 degrees over its offset among it.
        EXPECT_GT(p.doubt_mm, 0.5) << p.name;
        EXPECT_LT(p.doubt_mm, 20) << p.name;
    }
    EXPECT_EQ(finding(fair.findings, "curve-point-off"), nullptr);
    EXPECT_EQ(off->curves[0].points[1].name, "Q");
    EXPECT_NEAR(off->curves[0].points[1].off_mm, 16, 1.5);
    EXPECT_EQ(finding(off.findings, "curve-hump"), nullptr);
    const Finding* f = finding(off.findings, "curve-point-off");
    ASSERT_NE(f, nullptr) << codes(off.findings);
    EXPECT_EQ(f->severity, Severity::note);
    EXPECT_NE(f->says.find("Q stands"), std::string::npos) << f->says;
    EXPECT_GT(f->numbers[0].value, f->numbers[1].value);
}

TEST(Curves, PointsOfACircleGiveBackTheCircle) {
    // Closed form: through points of one circle every piece has its radius.
    std::vector<Edge> all;
    const double r = 1234;
    const auto on = [&](double rad) { return Vec2{r * std::cos(rad), r * std::sin(rad)}; };
    const auto along = [&](double rad) { return Vec2{-std::sin(rad), std::cos(rad)}; };
    for (const Edge& e : biarc(on(0.2), along(0.2), on(1.4), along(1.4))) {
        EXPECT_NEAR(radius_of(e), r, 1e-9);
        EXPECT_GT(e.bulge, 0);
    }
    for (const Edge& e : biarc({0, 0}, {1, 0}, {10, 0}, {1, 0})) EXPECT_EQ(e.bulge, 0);
    // An S: leaves and arrives in the same direction, off to one side.
    const std::vector<Edge> s = biarc({0, 0}, {1, 0}, {10, 4}, {1, 0});
    ASSERT_EQ(s.size(), 2u);
    EXPECT_GT(s[0].bulge, 0);
    EXPECT_LT(s[1].bulge, 0);
    EXPECT_NEAR(s[0].b.x, 5, 1e-12);
    EXPECT_NEAR(s[0].b.y, 2, 1e-12);
}

TEST(Curves, ARiseBesideItsPointsIsACheck) {
    EXPECT_EQ(
        finding(measured({"P on A B at 1500 off 100 right", "A B through P", "A B rise 100 out"}).findings,
                "rise-contradicts"),
        nullptr);
    const Result<Survey> s =
        measured({"P on A B at 1500 off 100 right", "A B through P", "A B rise 125 out"});
    const Finding* f = finding(s.findings, "rise-contradicts");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(s->curves.size(), 1u);
}

TEST(Curves, OnAWallBetweenCornersTheWalkTellsTheFloor) {
    // P and Q lie on the side A-B; the edge between them is written both ways.
    for (const char* line : {"P Q rise 30 out", "Q P rise 30 out"}) {
        const Result<Survey> s = measured({"P on A B at 500", "Q on A B at 1700", line});
        ASSERT_TRUE(s && s->curves.size() == 1);
        EXPECT_NEAR(midpoint_of(s->curves[0].edges[0]).y, -30, 1e-6) << line;
    }
}

}  // namespace
}  // namespace spile
