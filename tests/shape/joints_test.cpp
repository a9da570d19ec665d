// Panels cut by a stored joint line: both neighbours have the same one, and the gap between them is the reveal.
#include <gmock/gmock.h>

#include "tests/shape/panels.h"

namespace spile {
namespace {

using namespace testing_panels;
using testing::ElementsAre;
using testing::HasSubstr;

JointCut cut_of(const std::vector<std::string>& through, bool keep_left, double gives_up) {
    JointCut cut;
    cut.joint = "centre";
    cut.through = through;
    cut.keep_left = keep_left;
    cut.edge.from = through.front();
    cut.edge.to = through.back();
    cut.edge.situation = Situation::joint;
    cut.edge.finish = Finish::sealed;
    cut.edge.clearance_mm = gives_up;
    return cut;
}

/// The two panels on either side of a joint through the corners of `in`.
std::vector<PanelInput> both_sides(PanelInput in, const std::vector<std::string>& through, double left_gives,
                                   double right_gives) {
    std::vector<PanelInput> two{in, in};
    two[0].id = "left";
    two[1].id = "right";
    two[0].cuts.push_back(cut_of(through, true, left_gives));
    two[1].cuts.push_back(cut_of(through, false, right_gives));
    return two;
}

std::vector<std::string> corner_names(const Panel& panel) {
    std::vector<std::string> names;
    for (const CornerPlan& c : panel.corners) names.push_back(c.at);
    return names;
}

int joint_of(const Panel& panel) {
    for (std::size_t i = 0; i < panel.edges.size(); ++i) {
        if (panel.edges[i].situation == Situation::joint) return static_cast<int>(i);
    }
    return -1;
}

/// Every place of the one's net edge along the joint, to the other's net line: the least and the most.
void expect_gap(const Panel& one, const Panel& other, double gap_mm, double end_mm) {
    const int tag = joint_of(one);
    ASSERT_GE(tag, 0);
    int seen = 0;
    for (const Vec2 p : samples(one.net_line.unrounded, tag, 20)) {
        // At its ends the neighbour may stop a little earlier: their other edges give up different amounts.
        double to_ends = 1e300;
        for (const CornerPlan& c : other.corners) {
            for (std::size_t k = 0; k < other.net_line.unrounded.size(); ++k) {
                const Vertex& v = other.net_line.unrounded.vertices[k];
                if (v.tag == joint_of(other) || other.net_line.unrounded.edge(k).tag == joint_of(other))
                    to_ends = std::min(
                        {to_ends, distance(p, v.p), distance(p, other.net_line.unrounded.edge(k).b)});
            }
            if (c.at.empty()) return;
        }
        if (to_ends < end_mm) continue;
        ++seen;
        EXPECT_NEAR(nearest_on(other.net_line.unrounded, p).distance, gap_mm, 1e-3);  // 1 um
    }
    EXPECT_GT(seen, 0);
}

TEST(Joints, ARectangleInTwoByClosedForm) {
    Survey survey = rectangle_survey(2000, 1000);
    survey.points["P"] = {{800, 0}, {}};
    survey.points["Q"] = {{800, 1000}, {}};
    const auto made =
        shaped(both_sides(panel_of({"A", "B", "C", "D"}, Finish::sealed, 5), {"P", "Q"}, 1, 1), survey);
    ASSERT_TRUE(made) << codes(made.findings);
    ASSERT_EQ(made->size(), 2u) << codes(made.findings);
    EXPECT_TRUE(made.findings.empty()) << codes(made.findings);
    const Panel &left = (*made)[0], &right = (*made)[1];
    EXPECT_THAT(corner_names(left), ElementsAre("A", "P", "Q", "D"));
    EXPECT_THAT(corner_names(right), ElementsAre("B", "C", "Q", "P"));
    EXPECT_NEAR(area_mm2(left.net_line.region), (800.0 - 5 - 1) * 990, 1e-6);
    EXPECT_NEAR(area_mm2(right.net_line.region), (1200.0 - 5 - 1) * 990, 1e-6);
    EXPECT_EQ(edge_name(left, 1), "P Q");
    EXPECT_EQ(edge_name(right, 2), "Q P");
    expect_gap(left, right, 2, 1);
    expect_gap(right, left, 2, 1);
}

TEST(Joints, TheWholeRevealComesOffTheNewOneBesideAFinishedNeighbour) {
    Survey survey = rectangle_survey(2000, 1000);
    survey.points["P"] = {{800, 0}, {}};
    survey.points["Q"] = {{900, 1000}, {}};
    auto two = both_sides(panel_of({"A", "B", "C", "D"}, Finish::sealed, 5), {"P", "Q"}, 0, 2);
    two[0].cuts[0].edge.measured = Measured::finished;
    const auto made = shaped(two, survey);
    ASSERT_TRUE(made) << codes(made.findings);
    ASSERT_EQ(made->size(), 2u);
    expect_gap((*made)[0], (*made)[1], 2, 10);
    for (const Vec2 p : samples((*made)[0].net_line.unrounded, joint_of((*made)[0]), 5))
        EXPECT_NEAR(nearest_on(Edge{{800, 0}, {900, 1000}, 0, 0}, p).distance, 0, 1e-9);
}

TEST(Joints, ALineThatEndsShortIsProlongedAndACurveIsShared) {
    Survey survey = rectangle_survey(2000, 1000);
    survey.points["P"] = {{800, 40}, {}};
    survey.points["Q"] = {{800, 960}, {}};
    survey.curves.push_back({"Q", "P", {{{800, 960}, {800, 40}, 0.1, 0}}});
    for (const bool clockwise : {false, true}) {
        const PanelInput whole = clockwise ? panel_of({"A", "D", "C", "B"}, Finish::sealed, 5)
                                           : panel_of({"A", "B", "C", "D"}, Finish::sealed, 5);
        const auto made = shaped(both_sides(whole, {"P", "Q"}, 1.5, 1.5), survey);
        ASSERT_TRUE(made) << codes(made.findings);
        ASSERT_EQ(made->size(), 2u) << codes(made.findings);
        const Panel &left = (*made)[0], &right = (*made)[1];
        EXPECT_NEAR(area_mm2(left.boat_line.outline) + area_mm2(right.boat_line.outline), 2000.0 * 1000,
                    1e-6);
        EXPECT_EQ(side_of(left.boat_line.outline, {100, 500}), Side::inside);
        EXPECT_EQ(side_of(right.boat_line.outline, {1900, 500}), Side::inside);
        expect_gap(left, right, 3, 20);
        expect_gap(right, left, 3, 20);
    }
}

TEST(Joints, CornersOfThePanelStayWhatTheyAre) {
    const auto made = shaped(both_sides(panel_of({"A", "B", "C", "D"}, Finish::sealed, 5), {"A", "C"}, 1, 1),
                             rectangle_survey(2000, 1000));
    ASSERT_TRUE(made) << codes(made.findings);
    ASSERT_EQ(made->size(), 2u) << codes(made.findings);
    EXPECT_THAT(corner_names((*made)[0]), testing::UnorderedElementsAre("A", "C", "D"));
    EXPECT_THAT(corner_names((*made)[1]), testing::UnorderedElementsAre("A", "B", "C"));
}

TEST(Joints, TwoJointsLeaveAQuarter) {
    Survey survey = rectangle_survey(2000, 1000);
    for (const auto& [name, at] : std::map<std::string, Vec2>{
             {"P", {800, 0}}, {"Q", {800, 1000}}, {"R", {0, 400}}, {"S", {2000, 400}}})
        survey.points[name] = {at, {}};
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::sealed, 0);
    in.cuts = {cut_of({"P", "Q"}, true, 2), cut_of({"R", "S"}, true, 3)};
    const auto made = shaped({in}, survey);
    ASSERT_TRUE(made) << codes(made.findings);
    ASSERT_EQ(made->size(), 1u) << codes(made.findings);
    EXPECT_NEAR(area_mm2((*made)[0].net_line.region), (800.0 - 2) * (600 - 3), 1e-6);
    EXPECT_THAT(corner_names((*made)[0]), testing::UnorderedElementsAre("R", "S", "Q", "D"));
}

TEST(Joints, WhatCannotBeIsSaid) {
    Survey survey = rectangle_survey(2000, 1000);
    survey.points["P"] = {{2100, 0}, {}};
    survey.points["Q"] = {{2100, 1000}, {}};
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.cuts = {cut_of({"P", "Q"}, true, 0)};
    const auto missed = shaped({in}, survey);
    const Finding* f = find(missed.findings, "joint-misses");
    ASSERT_NE(f, nullptr) << codes(missed.findings);
    EXPECT_EQ(f->severity, Severity::stop);
    EXPECT_NEAR(number(*f, "away by"), 100, 1e-9);
    in.cuts = {cut_of({"B", "C"}, true, 0)};
    EXPECT_THAT(find(shaped({in}, survey).findings, "joint-misses")->says, HasSubstr("runs along its edge"));
    in.cuts = {cut_of({"A", "nowhere"}, true, 0)};
    EXPECT_NE(find(shaped({in}, survey).findings, "unknown-point"), nullptr);

    // A U whose two arms are both cut: two parts beyond the line.
    Survey u = survey_of({{"A", {0, 0}},
                          {"B", {900, 0}},
                          {"C", {900, 600}},
                          {"D", {600, 600}},
                          {"E", {600, 200}},
                          {"F", {300, 200}},
                          {"G", {300, 600}},
                          {"H", {0, 600}},
                          {"P", {-10, 400}},
                          {"Q", {910, 400}}});
    PanelInput horseshoe = panel_of({"A", "B", "C", "D", "E", "F", "G", "H"});
    horseshoe.cuts = {cut_of({"P", "Q"}, true, 0)};
    const auto parts = shaped({horseshoe}, u);
    f = find(parts.findings, "joint-leaves-parts");
    ASSERT_NE(f, nullptr) << codes(parts.findings);
    EXPECT_EQ(number(*f, "parts"), 2);
}

TEST(Joints, RandomPanelsAndLines) {
    Dice dice(41);
    int cut = 0;
    for (int run = 0; run < 300; ++run) {
        RandomPanel random = random_panel(dice);
        random.survey.points["X"] = {{dice.between(-400, 400), dice.between(-400, 400)}, {}};
        random.survey.points["Y"] = {{dice.between(-400, 400), dice.between(-400, 400)}, {}};
        const double reveal = dice.between(0, 6);
        const auto whole = shaped({random.in}, random.survey);
        const auto made = shaped(both_sides(random.in, {"X", "Y"}, reveal / 2, reveal / 2), random.survey);
        if (!whole || whole->size() != 1 || !made || made->size() != 2) continue;
        ++cut;
        const Panel &left = (*made)[0], &right = (*made)[1];
        EXPECT_NEAR(area_mm2(left.boat_line.outline) + area_mm2(right.boat_line.outline),
                    area_mm2((*whole)[0].boat_line.outline), 1e-5)
            << run;
        for (const Panel* p : {&left, &right}) {
            ASSERT_EQ(p->corners.size(), p->edges.size()) << run;
            for (std::size_t i = 0; i < p->edges.size(); ++i) {
                EXPECT_EQ(p->edges[i].from, p->corners[i].at) << run;
                EXPECT_EQ(p->edges[i].to, p->corners[(i + 1) % p->corners.size()].at) << run;
            }
            for (const Vertex& v : p->boat_line.outline.vertices)
                EXPECT_NE(side_of((*whole)[0].boat_line.outline, v.p), Side::outside) << run;
        }
        // Where both net lines run beside the middle of the joint they stand apart by the reveal.
        const Vec2 x = random.survey.points["X"].boat_mm, y = random.survey.points["Y"].boat_mm;
        const Vec2 middle = 0.5 * (x + y);
        if (side_of(left.boat_line.outline, middle) != Side::on ||
            nearest_on((*whole)[0].boat_line.outline, middle).distance < 60)
            continue;
        const double l = nearest_on(left.net_line.unrounded, middle).distance;
        const double r = nearest_on(right.net_line.unrounded, middle).distance;
        EXPECT_NEAR(l + r, reveal, 1e-3) << run;
    }
    EXPECT_GT(cut, 100);
}

}  // namespace
}  // namespace spile
