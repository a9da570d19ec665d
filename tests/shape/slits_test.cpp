// Slits to a fixed pedestal: where they run, what they leave, and those that cannot be.
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

/// A panel of 1000 x 800, A B at the bottom, with a post of radius 50 at (400, 300) and a slit 2 wide.
PanelInput pedestal(const std::string& from = "", const std::string& to = "") {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    OpeningPlan post{"post", "", 100, 0, Finish::sealed, {400, 300}};
    post.slit = SlitPlan{from, to, 2, Finish::sealed};
    in.openings.push_back(post);
    return in;
}

TEST(Slits, ASlitOpensTheHoleToTheLeastSeenEdge) {
    PanelInput in = pedestal();
    for (EdgePlan& e : in.edges) e.situation = Situation::free;
    in.edges[2].situation = Situation::wall;  // C D, at the top: farther than A B, but not seen
    const auto panels = shaped({in}, rectangle_survey(1000, 800));
    ASSERT_TRUE(panels && panels->size() == 1);
    const Panel& p = panels->front();
    ASSERT_TRUE(find(panels.findings, "slit-runs")) << codes(panels.findings);
    EXPECT_TRUE(p.net_line.region.holes.empty());
    EXPECT_TRUE(faults_of(p.net_line.region.outer).empty());
    // Closed form: the disc and a strip 2 wide from it to the edge; the disc keeps the segment under the strip's end.
    const double r = 50, angle = 2 * std::asin(1 / r), segment = r * r / 2 * (angle - std::sin(angle));
    const double strip = 2 * (500 - std::sqrt(r * r - 1)) - segment;
    EXPECT_NEAR(area_mm2(p.net_line.region.outer), 1000 * 800 - kPi * r * r - strip, 1e-6);
    EXPECT_NEAR(area_mm2(p.net_line.unrounded), area_mm2(p.net_line.region.outer), 1e-6);
    ASSERT_EQ(p.edges.size(), 8u);
    const char* names[] = {"A B",           "B C",           "C post 1", "post 1 post 2",
                           "post 2 post 3", "post 3 post 4", "post 4 D", "D A"};
    for (std::size_t i = 0; i < 8; ++i) EXPECT_EQ(edge_name(p, i), names[i]);
    EXPECT_EQ(p.edges[3].situation, Situation::joint);
    EXPECT_EQ(p.edges[2].situation, Situation::wall);
    EXPECT_EQ(p.edges[6].situation, Situation::wall);
    // Every edge lies where it says: the middle of each is on the stretch with its tag.
    for (const Vertex& v : p.net_line.region.outer.vertices) EXPECT_LT(v.tag, 8);
    for (const Vec2 q : samples(p.net_line.region.outer, 4, 8)) EXPECT_NEAR(distance(q, {400, 300}), r, 1e-9);
    for (const Vec2 q : samples(p.net_line.region.outer, 2, 4)) EXPECT_GT(q.x, 401 - 1e-9);
    for (const Vec2 q : samples(p.net_line.region.outer, 6, 4)) EXPECT_LT(q.x, 399 + 1e-9);
    EXPECT_EQ(samples(p.boat_line.outline, 7, 1).front(), (Vec2{0, 800}));
}

TEST(Slits, ItRunsToTheEdgeNamedWhicheverWayRound) {
    for (const bool clockwise : {false, true}) {
        PanelInput in = pedestal("D", "A");
        if (clockwise) {
            PanelInput round = panel_of({"D", "C", "B", "A"});
            round.openings = in.openings;
            in = round;
        }
        const auto panels = shaped({in}, rectangle_survey(1000, 800));
        const Finding* f = find(panels.findings, "slit-runs");
        ASSERT_TRUE(f) << codes(panels.findings);
        EXPECT_NEAR(number(*f, "length"), 400 - std::sqrt(50 * 50 - 1), 1e-6);
        EXPECT_TRUE(faults_of(panels->front().net_line.region.outer).empty());
    }
}

TEST(Slits, ACurvedEdgeIsCutWhereTheSlitComesToIt) {
    Survey survey = rectangle_survey(1000, 800);
    survey.curves.push_back({"A", "B", {{{0, 0}, {1000, 0}, bulge_from_rise(1000, 60), 0}}});
    const auto panels = shaped({pedestal("A", "B")}, survey);
    ASSERT_TRUE(find(panels.findings, "slit-runs")) << codes(panels.findings);
    const Panel& p = panels->front();
    const Outline& outer = p.net_line.region.outer;
    EXPECT_TRUE(faults_of(outer).empty());
    // Both parts lie on the circle of the edge.
    const Edge whole{{0, 0}, {1000, 0}, bulge_from_rise(1000, 60), 0};
    for (const int tag : {0, 4})
        for (const Vec2 q : samples(outer, tag, 5))
            EXPECT_NEAR(distance(q, centre_of(whole)), radius_of(whole), 1e-8);
    EXPECT_EQ(samples(outer, 4, 5).size(), 6u);
}

TEST(Slits, ABoxIsOpenedThroughItsSide) {
    PanelInput in = pedestal("A", "B");
    OpeningPlan& o = in.openings[0];
    o.form = OpeningPlan::Form::box;
    o.length_mm = 200;
    o.width_mm = 100;
    o.radius_mm = 20;
    const auto panels = shaped({in}, rectangle_survey(1000, 800));
    ASSERT_TRUE(find(panels.findings, "slit-runs")) << codes(panels.findings);
    const double box = 200 * 100 - (4 - kPi) * 400;
    EXPECT_NEAR(area_mm2(panels->front().net_line.region.outer), 1000 * 800 - box - 2 * 250, 1e-6);
}

TEST(Slits, ASideThatMeetsACornerOfTheRimLeavesNoEdgeWithoutLength) {
    PanelInput in = pedestal("A", "B");
    OpeningPlan& o = in.openings[0];
    o.form = OpeningPlan::Form::free;
    o.outline = {{"E", 0}, {"F", 0}, {"G", 0}, {"H", 0}, {"I", 0}, {"J", 0}};
    // The two sides of the slit, 20 wide, come down on the corners F and G.
    o.slit->gap_mm = 20;
    Survey survey = rectangle_survey(1000, 800);
    const std::map<std::string, Vec2> rim{{"E", {300, 300}}, {"F", {390, 250}}, {"G", {410, 250}},
                                          {"H", {500, 300}}, {"I", {500, 400}}, {"J", {300, 400}}};
    for (const auto& [name, at] : rim) survey.points[name] = {at, {}};
    const auto panels = shaped({in}, survey);
    ASSERT_TRUE(find(panels.findings, "slit-runs")) << codes(panels.findings);
    EXPECT_TRUE(faults_of(panels->front().net_line.region.outer).empty());
    EXPECT_TRUE(faults_of(panels->front().net_line.unrounded).empty());
}

TEST(Slits, ThoseThatCannotBe) {
    const auto says = [](const PanelInput& in) {
        const auto panels = shaped({in}, rectangle_survey(1000, 800));
        EXPECT_EQ(panels->front().edges.size(), 4u);
        EXPECT_EQ(panels->front().net_line.region.holes.size(), in.openings.size());
        return codes(panels.findings);
    };
    const auto holds = [](const std::string& all, const std::string& part) {
        return all.find(part) != std::string::npos;
    };
    PanelInput in = pedestal("A", "B");
    in.openings[0].slit->gap_mm = 0;
    EXPECT_TRUE(holds(says(in), "slit-gap"));
    in = pedestal("A", "B");
    in.openings[0].slit->finish = Finish::turned;
    EXPECT_TRUE(holds(says(in), "slit-turned"));
    in = pedestal("A", "B");
    in.openings[0].slit->gap_mm = 120;
    EXPECT_TRUE(holds(says(in), "slit-blocked"));
    in = pedestal("A", "B");
    in.openings.push_back({"drain", "", 40, 0, Finish::sealed, {400, 120}});
    EXPECT_TRUE(holds(says(in), "runs into opening \"drain\""));
    // Left to choose, it takes another way round the drain.
    in = pedestal();
    in.openings.push_back({"drain", "", 40, 0, Finish::sealed, {400, 120}});
    const auto panels = shaped({in}, rectangle_survey(1000, 800));
    ASSERT_TRUE(find(panels.findings, "slit-runs"));
    EXPECT_TRUE(holds(find(panels.findings, "slit-runs")->says, "edge D A"));
}

TEST(Slits, ABoundOneHasSquareCorners) {
    PanelInput in = pedestal("A", "B");
    in.openings[0].slit->finish = Finish::bound;
    EXPECT_TRUE(find(shaped({in}, rectangle_survey(1000, 800)).findings, "slit-corners-square"));
}

}  // namespace
}  // namespace spile
