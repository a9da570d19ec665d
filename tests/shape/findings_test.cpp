// Every fault of a panel is a finding that names the thing, its number and the nearest workable value.
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

const Finding& only(const std::vector<Finding>& findings, const std::string& code) {
    static const Finding none;
    const Finding* f = find(findings, code);
    EXPECT_NE(f, nullptr) << "no " << code << " among: " << codes(findings);
    if (!f) return none;
    EXPECT_FALSE(f->says.empty());
    EXPECT_FALSE(f->to_do.empty());
    return *f;
}

TEST(ShapeFindings, AnUnknownPointIsNamed) {
    const auto panels = shaped({panel_of({"A", "B", "X9", "D"})}, rectangle_survey(600, 400));
    ASSERT_TRUE(panels);
    EXPECT_TRUE(panels->empty());
    const Finding& f = only(panels.findings, "unknown-point");
    EXPECT_EQ(f.severity, Severity::stop);
    EXPECT_EQ(f.subject, (Subject{"corner", "1/X9"}));
    EXPECT_NE(f.says.find("\"X9\""), std::string::npos);
}

TEST(ShapeFindings, PointsThatAreNotFixedStopThePanel) {
    Survey survey = rectangle_survey(600, 400);
    survey.fixed = false;
    auto panels = shaped({panel_of({"A", "B", "C", "D"})}, survey);
    ASSERT_EQ(panels->size(), 1u);  // drawn all the same
    EXPECT_EQ(only(panels.findings, "points-not-fixed").severity, Severity::stop);
    survey.points.erase("C");
    panels = shaped({panel_of({"A", "B", "C", "D"})}, survey);
    EXPECT_TRUE(panels->empty());
    EXPECT_EQ(only(panels.findings, "point-not-placed").subject.id, "1/C");
}

TEST(ShapeFindings, AllFaultsAreCollected) {
    PanelInput in = panel_of({"A", "X", "Y"});
    in.id = "2";
    PanelInput nowhere = panel_of({"A", "B", "C"});
    nowhere.id = "3";
    nowhere.space = "attic";
    const auto panels = shaped({in, nowhere, panel_of({"A", "B", "C", "D"})}, rectangle_survey(600, 400));
    ASSERT_TRUE(panels);
    EXPECT_EQ(panels->size(), 1u);
    ASSERT_EQ(panels.findings.size(), 3u) << codes(panels.findings);
    EXPECT_EQ(panels.findings[0].subject.id, "2/X");
    EXPECT_EQ(panels.findings[1].subject.id, "2/Y");
    EXPECT_EQ(panels.findings[2].code, "space-without-points");
}

TEST(ShapeFindings, CornersTooFewTwiceOrInOnePlace) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["B2"] = survey.points["B"];
    EXPECT_EQ(only(shaped({panel_of({"A", "B"})}, survey).findings, "too-few-corners").severity,
              Severity::stop);
    EXPECT_EQ(only(shaped({panel_of({"A", "B", "A", "D"})}, survey).findings, "corner-twice").subject.id,
              "1/A");
    const auto panels = shaped({panel_of({"A", "B", "B2", "C", "D"})}, survey);
    EXPECT_EQ(only(panels.findings, "edge-without-length").subject.id, "1/B B2");
    EXPECT_TRUE(panels->empty());
    survey.points["E"] = {{300, 0}, {}};
    EXPECT_TRUE(has_stop(shaped({panel_of({"A", "E", "B"})}, survey).findings));
    EXPECT_EQ(only(shaped({panel_of({"A", "B", "C", "D"}), panel_of({"A", "B", "C"})}, survey).findings,
                   "panel-twice")
                  .severity,
              Severity::stop);
}

TEST(ShapeFindings, APanelThatCrossesItselfNamesTheEdgesAndThePlace) {
    const auto panels = shaped({panel_of({"A", "B", "D", "C"})}, rectangle_survey(600, 400));
    EXPECT_TRUE(panels->empty());
    const Finding& f = only(panels.findings, "panel-crosses-itself");
    EXPECT_NEAR(number(f, "toward the bow"), 300, 1e-6);
    EXPECT_NEAR(number(f, "to port"), 200, 1e-6);
    EXPECT_NE(f.says.find("B D"), std::string::npos);
    EXPECT_NE(f.says.find("C A"), std::string::npos);
}

TEST(ShapeFindings, ClearanceThatEatsThePanelSaysTheLargestWorkable) {
    const auto panels =
        shaped({panel_of({"A", "B", "C", "D"}, Finish::sealed, 25)}, rectangle_survey(600, 40));
    EXPECT_TRUE(panels->empty());
    const Finding& f = only(panels.findings, "clearance-eats-panel");
    EXPECT_EQ(f.severity, Severity::stop);
    EXPECT_EQ(number(f, "taken off"), 25);
    EXPECT_NEAR(number(f, "largest workable"), 20, 25.0 / 4096);
}

TEST(ShapeFindings, ClearanceThatSplitsThePanelSaysSo) {
    // An hourglass 400 wide with a waist of 30 in the middle.
    const Survey survey = survey_of({{"A", {0, 0}},
                                     {"W1", {300, 185}},
                                     {"B", {600, 0}},
                                     {"C", {600, 400}},
                                     {"W2", {300, 215}},
                                     {"D", {0, 400}}});
    const auto in = panel_of({"A", "W1", "B", "C", "W2", "D"}, Finish::sealed, 20);
    const auto panels = shaped({in}, survey);
    EXPECT_TRUE(panels->empty());
    const Finding& f = only(panels.findings, "clearance-splits-panel");
    // Mitred at the waist the line moves in by c / cos(half the turn) there.
    const double slope = 185.0 / 300, workable = 15 / std::sqrt(1 + slope * slope);
    EXPECT_NEAR(number(f, "largest workable"), workable, 0.01);
}

TEST(ShapeFindings, ANegativeClearanceIsRefused) {
    const auto panels =
        shaped({panel_of({"A", "B", "C", "D"}, Finish::sealed, -1)}, rectangle_survey(600, 400));
    EXPECT_TRUE(panels->empty());
    EXPECT_EQ(only(panels.findings, "clearance-negative").subject.id, "1/A B");
}

TEST(ShapeFindings, AnEdgeThatTheClearancesSwallowIsNamed) {
    // A chamfer of 2 mm between two edges that give up 10 each, while it gives up nothing itself.
    const Survey survey =
        survey_of({{"A", {0, 0}}, {"B", {598, 0}}, {"E", {600, 2}}, {"C", {600, 400}}, {"D", {0, 400}}});
    PanelInput in = panel_of({"A", "B", "E", "C", "D"}, Finish::sealed, 10);
    in.edges[1].clearance_mm = 0;
    const auto panels = shaped({in}, survey);
    ASSERT_EQ(panels->size(), 1u);
    const Finding& f = only(panels.findings, "edge-lost");
    EXPECT_EQ(f.subject.id, "1/B E");
    EXPECT_NEAR(number(f, "length"), std::sqrt(8), 1e-9);
}

TEST(ShapeFindings, ACornerWithoutRoomSaysTheLargestRadius) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.corners[1].radius_mm = 150;
    const auto panels = shaped({in}, rectangle_survey(600, 100));
    ASSERT_EQ(panels->size(), 1u);
    const Finding& f = only(panels.findings, "corner-without-room");
    EXPECT_EQ(f.severity, Severity::stop);
    EXPECT_EQ(f.subject.id, "1/B");
    EXPECT_EQ(number(f, "radius"), 150);
    EXPECT_NEAR(number(f, "largest that fits"), 100, 1e-6);
    EXPECT_NEAR(area_mm2(panels->front().net_line.region), 600.0 * 100, 1e-6);  // left square, not guessed
}

/// 60 and 50 mm on a side of 100 mm: each fits alone.
TEST(ShapeFindings, CornersWithoutRoomSideBySideSayWhatFitsThere) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.corners[1].radius_mm = 60;
    in.corners[2].radius_mm = 50;
    const auto panels = shaped({in}, rectangle_survey(600, 100));
    ASSERT_EQ(panels.findings.size(), 2u) << codes(panels.findings);
    EXPECT_NEAR(number(panels.findings[0], "largest that fits"), 50, 1e-6);
    EXPECT_NEAR(number(panels.findings[1], "largest that fits"), 40, 1e-6);
    EXPECT_NE(panels.findings[0].says.find("beside the corners next to it"), std::string::npos);
}

TEST(ShapeFindings, BoundCornersSharperThanABinderPasses) {
    auto panels = shaped({panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 10)}, rectangle_survey(600, 400));
    ASSERT_EQ(panels->size(), 1u);
    const Finding& f = only(panels.findings, "corner-too-tight");
    EXPECT_EQ(f.severity, Severity::look);
    EXPECT_EQ(f.subject, (Subject{"corner", "1/A"}));
    EXPECT_EQ(number(f, "radius"), 10);
    EXPECT_EQ(number(f, "least"), kIn);
    EXPECT_EQ(panels.findings.size(), 4u);
    // Never silently rounded to what would pass.
    EXPECT_NEAR(area_mm2(panels->front().net_line.region), 600.0 * 400 - (4 - kPi) * 100, 1e-6);
    // A corner between a bound and a turned edge ends the binding: nothing to pass.
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 0);
    in.edges[0].finish = in.edges[2].finish = Finish::turned;
    EXPECT_TRUE(shaped({in}, rectangle_survey(600, 400)).findings.empty());
}

TEST(ShapeFindings, InsideCornersAndCurvesHaveTheirOwnLeastRadius) {
    Survey survey = survey_of({{"A", {0, 0}},
                               {"B", {600, 0}},
                               {"C", {600, 200}},
                               {"D", {300, 200}},
                               {"E", {300, 400}},
                               {"F", {0, 400}}});
    auto panels = shaped({panel_of({"A", "B", "C", "D", "E", "F"}, Finish::bound, 0, 2 * kIn)}, survey);
    ASSERT_EQ(panels.findings.size(), 1u) << codes(panels.findings);
    const Finding& f = only(panels.findings, "inside-corner-too-tight");
    EXPECT_EQ(f.subject.id, "1/D");
    EXPECT_EQ(number(f, "least"), 76.2);

    survey = rectangle_survey(600, 400);
    survey.curves = {{"A", "B", {{{0, 0}, {600, 0}, bulge_from_rise(600, 290), 0}}}};
    EXPECT_EQ(find(shaped({panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 0)}, survey).findings,
                   "edge-too-tight"),
              nullptr);
    survey = rectangle_survey(60, 400);  // a nose of radius about 30, then a hollow of the same
    survey.curves = {{"A", "B", {{{0, 0}, {60, 0}, bulge_from_rise(60, 29), 0}}}};
    panels = shaped({panel_of({"A", "B", "C", "D"}, Finish::bound, 10, 0)}, survey);
    const Finding& nose = only(panels.findings, "edge-too-tight");
    EXPECT_EQ(nose.subject.id, "1/A B");
    EXPECT_NEAR(number(nose, "radius"), 60.0 * 60 / (8 * 29) + 14.5 - 10, 1e-6);
    survey.curves.front().edges.front().bulge *= -1;
    panels = shaped({panel_of({"A", "B", "C", "D"}, Finish::bound, 1, 0)}, survey);
    EXPECT_NEAR(number(only(panels.findings, "edge-too-tight"), "radius"), 60.0 * 60 / (8 * 29) + 14.5 + 1,
                1e-6);
}

TEST(ShapeFindings, ATangentialHandOverWithDifferentClearancesSteps) {
    const Survey survey =
        survey_of({{"A", {0, 0}}, {"M", {300, 0}}, {"B", {600, 0}}, {"C", {600, 400}}, {"D", {0, 400}}});
    PanelInput in = panel_of({"A", "M", "B", "C", "D"}, Finish::sealed, 5);
    EXPECT_TRUE(shaped({in}, survey).findings.empty());
    in.edges[1].clearance_mm = 8;
    const auto panels = shaped({in}, survey);
    const Finding& f = only(panels.findings, "step-in-line");
    EXPECT_EQ(f.subject.id, "1/M");
    EXPECT_NEAR(number(f, "step"), 3, 1e-9);
    EXPECT_NEAR(area_mm2(panels->front().net_line.region), 590.0 * 390 - 3 * 295, 1e-6);
}

struct Hole {
    const char* code;
    double x, y, diameter;
    double value;
    const char* number;
};

TEST(ShapeFindings, AWalkedOverEdgeWantsNothingThatStandsUp) {
    for (const Finish finish : {Finish::bound, Finish::turned, Finish::sealed}) {
        PanelInput in = panel_of({"A", "B", "C", "D"}, finish, 0, 60);
        in.edges[1].situation = Situation::walked_over;
        const auto panels = shaped({in}, rectangle_survey(600, 400));
        if (finish != Finish::bound) {
            EXPECT_EQ(find(panels.findings, "edge-may-trip"), nullptr) << codes(panels.findings);
            continue;
        }
        const Finding& f = only(panels.findings, "edge-may-trip");
        EXPECT_EQ(f.severity, Severity::look);
        EXPECT_EQ(f.subject, (Subject{"edge", "1/B C"}));
    }
}

TEST(ShapeFindings, HolesOutsideAtTheEdgeAndNearIt) {
    const Hole holes[] = {
        {"opening-outside", 700, 200, 100, 50, "outside by"},
        {"opening-outside", 300, -80, 100, 30, "outside by"},
        {"opening-at-edge", 300, 40, 100, 10, "past the edge by"},
        {"opening-at-edge", 300, -40, 100, 90, "past the edge by"},
        {"opening-at-edge", 300, 50, 100, 0, "past the edge by"},
        {"opening-near-edge", 300, 60, 100, 10, "distance"},
    };
    for (const Hole& h : holes) {
        PanelInput in = panel_of({"A", "B", "C", "D"});
        in.openings.push_back({"hole", "", h.diameter - 2, 1, Finish::sealed, {h.x, h.y}});
        const auto panels = shaped({in}, rectangle_survey(600, 400));
        ASSERT_EQ(panels->size(), 1u);
        const Finding& f = only(panels.findings, h.code);
        EXPECT_EQ(f.subject, (Subject{"opening", "1/hole"}));
        EXPECT_NEAR(number(f, h.number), h.value, 1e-6) << h.code;
        const bool near = f.severity == Severity::look;
        EXPECT_EQ(near, std::string(h.code) == "opening-near-edge");
        EXPECT_EQ(panels->front().net_line.region.holes.size(), near ? 1u : 0u);
    }
}

TEST(ShapeFindings, HolesThatMeetOrComeNearOneAnother) {
    for (const auto& [apart, code] : {std::pair{90.0, "openings-meet"}, std::pair{105.0, "openings-near"}}) {
        PanelInput in = panel_of({"A", "B", "C", "D"});
        in.openings.push_back({"one", "", 100, 0, Finish::sealed, {200, 200}});
        in.openings.push_back({"two", "", 100, 0, Finish::sealed, {200 + apart, 200}});
        const auto panels = shaped({in}, rectangle_survey(600, 400));
        const Finding& f = only(panels.findings, code);
        EXPECT_NEAR(number(f, apart < 100 ? "overlap" : "distance"), std::fabs(apart - 100), 1e-9);
        EXPECT_EQ(panels->front().net_line.region.holes.size(), apart < 100 ? 1u : 2u);
    }
}

TEST(ShapeFindings, AHoleTooSmallToBindIsTurnedAndSaysWhy) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.openings.push_back({"post", "", 2 * kIn, kIn / 4, Finish::bound, {200, 200}});
    in.openings.push_back({"base", "", 6 * kIn, 0, Finish::bound, {400, 200}});
    const auto panels = shaped({in}, rectangle_survey(600, 400));
    const Finding& f = only(panels.findings, "opening-turned");
    EXPECT_EQ(f.severity, Severity::look);
    EXPECT_EQ(f.subject.id, "1/post");
    EXPECT_NEAR(number(f, "radius"), 1.25 * kIn, 1e-9);
    EXPECT_EQ(panels->front().openings[0].finish, Finish::turned);
    EXPECT_EQ(panels->front().openings[1].finish, Finish::bound);  // 3 in radius passes
    EXPECT_EQ(panels.findings.size(), 1u);
}

TEST(ShapeFindings, AnOpeningNeedsASize) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.openings.push_back({"hole", "", 0, 1, Finish::sealed, {200, 200}});
    const auto panels = shaped({in}, rectangle_survey(600, 400));
    EXPECT_EQ(only(panels.findings, "opening-size").severity, Severity::stop);
    EXPECT_TRUE(panels->front().net_line.region.holes.empty());
}

TEST(ShapeFindings, StudsOutsideInAHoleAndNearTheEdge) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["S1"] = {{300, -10}, {}};
    survey.points["S2"] = {{200, 200}, {}};
    survey.points["S3"] = {{300, 12}, {}};
    survey.points["S4"] = {{265, 200}, {}};
    survey.points["S5"] = {{400, 200}, {}};
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.openings.push_back({"hole", "", 100, 0, Finish::sealed, {200, 200}});
    in.studs = {"S1", "S2", "S3", "S4", "S5", "S6"};
    const auto panels = shaped({in}, survey);
    ASSERT_EQ(panels.findings.size(), 5u) << codes(panels.findings);
    EXPECT_EQ(panels->front().studs.size(), 5u);
    const auto& f = panels.findings;
    EXPECT_EQ(f[0].code, "unknown-point");
    EXPECT_EQ(f[0].subject, (Subject{"stud", "1/S6"}));
    EXPECT_EQ(f[1].code, "stud-outside");
    EXPECT_NEAR(number(f[1], "outside by"), 10, 1e-9);
    EXPECT_EQ(f[2].code, "stud-outside");
    EXPECT_EQ(f[2].subject.id, "1/S2");
    EXPECT_EQ(f[3].code, "stud-near-edge");
    EXPECT_NEAR(number(f[3], "distance"), 12, 1e-9);
    EXPECT_EQ(f[4].code, "stud-near-edge");
    EXPECT_EQ(f[4].subject.id, "1/S4");
    EXPECT_NEAR(number(f[4], "distance"), 15, 1e-9);
    EXPECT_NE(f[4].says.find("hole"), std::string::npos);
}

TEST(ShapeFindings, PanelsThatOverlapAreBothNamedWithThePlace) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["E"] = {{500, 0}, {}};
    survey.points["F"] = {{500, 400}, {}};
    survey.points["G"] = {{900, 0}, {}};
    survey.points["H"] = {{900, 400}, {}};
    PanelInput one = panel_of({"A", "B", "C", "D"}), two = panel_of({"E", "G", "H", "F"});
    two.id = "2";
    auto panels = shaped({one, two}, survey);
    const Finding& f = only(panels.findings, "panels-overlap");
    EXPECT_EQ(f.severity, Severity::stop);
    EXPECT_NE(f.says.find("Panels 1 and 2"), std::string::npos);
    EXPECT_NEAR(number(f, "toward the bow"), 550, 60);
    EXPECT_NEAR(number(f, "to port"), 200, 210);
    // Side by side on one line they do not overlap, clearance or none.
    PanelInput beside = panel_of({"B", "G", "H", "C"});
    beside.id = "2";
    panels = shaped({one, beside}, survey);
    EXPECT_EQ(find(panels.findings, "panels-overlap"), nullptr) << codes(panels.findings);
    // One wholly on the other.
    survey.points["a"] = {{100, 100}, {}};
    survey.points["b"] = {{200, 100}, {}};
    survey.points["c"] = {{150, 200}, {}};
    PanelInput inner = panel_of({"a", "b", "c"});
    inner.id = "2";
    EXPECT_NE(find(shaped({one, inner}, survey).findings, "panels-overlap"), nullptr);
    // One made twice.
    PanelInput again = one;
    again.id = "2";
    panels = shaped({one, again}, survey);
    const Finding* same = find(panels.findings, "panels-overlap");
    ASSERT_NE(same, nullptr);
    EXPECT_NE(same->says.find("lie on the same ground"), std::string::npos) << same->says;
    // The same in another space, or a mat, is no overlap.
    PanelInput mat;
    mat.id = "mat";
    mat.size_x_mm = mat.size_y_mm = 300;
    EXPECT_EQ(find(shaped({one, mat}, survey).findings, "panels-overlap"), nullptr);
}

TEST(ShapeFindings, SharedEdgesThatDisagreeAndJointsThatNothingMeets) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["G"] = {{900, 0}, {}};
    survey.points["H"] = {{900, 400}, {}};
    PanelInput one = panel_of({"A", "B", "C", "D"}, Finish::sealed, 1);
    PanelInput two = panel_of({"B", "G", "H", "C"}, Finish::sealed, 2);
    two.id = "2";
    two.edges[3].situation = Situation::joint;  // C B; panel 1 calls B C wall
    auto panels = shaped({one, two}, survey);
    ASSERT_EQ(panels.findings.size(), 1u) << codes(panels.findings);
    const Finding& f = only(panels.findings, "shared-edge-disagrees");
    EXPECT_EQ(f.subject, (Subject{"edge", "1/B C"}));
    EXPECT_EQ(number(f, "taken off 1"), 1);
    EXPECT_EQ(number(f, "taken off 2"), 2);
    one.edges[1].situation = Situation::joint;
    EXPECT_TRUE(shaped({one, two}, survey).findings.empty());
    one.edges[0].situation = Situation::joint;
    panels = shaped({one, two}, survey);
    ASSERT_EQ(panels.findings.size(), 1u);
    EXPECT_EQ(only(panels.findings, "joint-without-neighbour").subject.id, "1/A B");
}

TEST(ShapeFindings, SettingsAreJudgedFirst) {
    FinishSettings s;
    s.turn_mm = -1;
    s.facet_mm = 0;
    s.binding_width_mm = std::nan("");
    EXPECT_EQ(faults_of(s).size(), 3u);
    const auto panels = shaped({panel_of({"A", "B", "C", "D"})}, rectangle_survey(600, 400), s);
    EXPECT_FALSE(panels);
    EXPECT_TRUE(has_stop(panels.findings));
    s = {};
    s.stitch_from_edge_mm = s.turn_mm;
    ASSERT_EQ(faults_of(s).size(), 1u);
    EXPECT_EQ(number(faults_of(s).front(), "limit"), s.turn_mm);
}

TEST(ShapeFindings, LengthsAreSaidInTheUnitsOfTheJob) {
    LengthStyle mm;
    mm.unit = Unit::mm;
    const auto in = panel_of({"A", "B", "C", "D"}, Finish::sealed, 25);
    const std::map<std::string, Survey> surveys{{"s", rectangle_survey(600, 40)}};
    EXPECT_NE(shape({in}, surveys, {}, RunContext{}, mm).findings.front().says.find("25 mm"),
              std::string::npos);
    EXPECT_NE(shape({in}, surveys, {}, RunContext{}).findings.front().says.find("31/32 in"),
              std::string::npos);
}

}  // namespace
}  // namespace spile
