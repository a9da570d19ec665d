// Match marks: both neighbours' marks lie in one place in the boat, on one line square to the joint.
#include <set>

#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

constexpr double kMicron = 1e-3;

/// Every mark has its like on the neighbour: one place, one line, net lines apart by `gap` (unless below 0). How many.
int expect_pairs(const std::vector<Panel>& panels, double gap) {
    int pairs = 0;
    std::set<std::string> names;
    for (const Panel& a : panels)
        for (const MatchMark& m : a.match_marks) {
            int likes = 0;
            for (const Panel& b : panels)
                for (const MatchMark& n : b.match_marks) {
                    if (&m == &n || n.name != m.name) continue;
                    ++likes;
                    EXPECT_EQ(n.other, a.id);
                    EXPECT_EQ(m.other, b.id);
                    EXPECT_LT(distance(m.at_mm, n.at_mm), kMicron) << m.name;
                    EXPECT_LT(norm(m.inward + n.inward), 1e-9) << m.name;
                    EXPECT_LT(std::fabs(cross(m.inward, n.net_mm - m.net_mm)), kMicron) << m.name;
                    if (gap >= 0) {
                        EXPECT_NEAR(distance(m.net_mm, n.net_mm), gap, kMicron) << m.name;
                    }
                }
            EXPECT_EQ(likes, 1) << m.name;
            // On the net line, at the foot of the place.
            double away = nearest_on(a.net_line.region.outer, m.net_mm).distance;
            for (const Outline& hole : a.net_line.region.holes)
                away = std::min(away, nearest_on(hole, m.net_mm).distance);
            EXPECT_LT(away, kMicron) << m.name;
            EXPECT_LT(std::fabs(cross(m.inward, m.net_mm - m.at_mm)), kMicron) << m.name;
            pairs += names.insert(m.name).second;
        }
    return pairs;
}

/// Two panels on both sides of the line B-E of a rectangle A B C D E F, with a bow at the joint or none.
std::vector<PanelInput> two_panels(double gives_up) {
    std::vector<PanelInput> two{panel_of({"A", "B", "E", "F"}), panel_of({"B", "C", "D", "E"})};
    two[1].id = "2";
    for (PanelInput& p : two)
        for (EdgePlan& e : p.edges) {
            if ((e.from != "B" || e.to != "E") && (e.from != "E" || e.to != "B")) continue;
            e.situation = Situation::joint;
            e.clearance_mm = gives_up;
        }
    return two;
}

Survey two_rooms(double bulge) {
    Survey survey = survey_of({{"A", {0, 0}},
                               {"B", {900, 0}},
                               {"C", {2000, 0}},
                               {"D", {2000, 800}},
                               {"E", {980, 800}},
                               {"F", {0, 800}}});
    if (bulge != 0) survey.curves.push_back({"E", "B", {{{980, 800}, {900, 0}, bulge, 0}}});
    return survey;
}

TEST(MatchMarks, LieInOnePlaceOnBothNeighbours) {
    for (const double bulge : {0.0, 0.1, -0.2}) {
        const auto panels = shaped(two_panels(0.79375), two_rooms(bulge));
        ASSERT_TRUE(panels && panels->size() == 2) << codes(panels.findings);
        EXPECT_EQ(expect_pairs(*panels, 2 * 0.79375), 1) << bulge;
        EXPECT_EQ((*panels)[0].match_marks[0].name, "M1");
    }
}

TEST(MatchMarks, ALongJointHasMoreOfThem) {
    Survey survey = rectangle_survey(4000, 3000);
    survey.points["P"] = {{2000, 0}, {}};
    survey.points["Q"] = {{1900, 3000}, {}};
    std::vector<PanelInput> two{panel_of({"A", "P", "Q", "D"}), panel_of({"P", "B", "C", "Q"})};
    two[1].id = "2";
    two[0].edges[1].situation = two[1].edges[3].situation = Situation::joint;
    const auto panels = shaped(two, survey);
    EXPECT_EQ(expect_pairs(*panels, 0), 4);  // 3 m and a little by 36 in
}

TEST(MatchMarks, ANeighbourMayRunOnFarther) {
    // Two small panels along one long edge: the long one names other points.
    Survey survey = survey_of({{"A", {0, 0}},
                               {"B", {1600, 0}},
                               {"C", {1600, 500}},
                               {"D", {0, 500}},
                               {"E", {700, 500}},
                               {"F", {700, 900}},
                               {"G", {0, 900}},
                               {"H", {1600, 900}}});
    std::vector<PanelInput> all{panel_of({"A", "B", "C", "D"}, Finish::sealed, 1),
                                panel_of({"D", "E", "F", "G"}, Finish::bound, 1),
                                panel_of({"E", "C", "H", "F"}, Finish::turned, 1)};
    all[1].id = "2";
    all[2].id = "3";
    all[0].edges[2].situation = all[1].edges[0].situation = all[2].edges[0].situation = Situation::joint;
    all[1].edges[1].situation = all[2].edges[3].situation = Situation::joint;
    const auto panels = shaped(all, survey);
    EXPECT_EQ(expect_pairs(*panels, 2), 3);
    EXPECT_EQ((*panels)[0].match_marks.size(), 2u);
}

TEST(MatchMarks, AcrossASlitAndBetweenALidAndItsSurround) {
    Survey survey = rectangle_survey(1200, 900);
    const std::map<std::string, Vec2> more{
        {"E", {200, 300}}, {"F", {500, 300}}, {"G", {500, 520}}, {"H", {200, 520}}, {"S", {900, 450}}};
    for (const auto& [name, at] : more) survey.points[name] = {at, {}};
    PanelInput around = panel_of({"A", "B", "C", "D"}),
               lid = panel_of({"E", "F", "G", "H"}, Finish::sealed, 2);
    lid.id = "lid";
    OpeningPlan hatch, post;
    hatch.id = "hatch";
    hatch.form = OpeningPlan::Form::lid;
    hatch.lid = "lid";
    hatch.ease_mm = 6;
    post.id = "post";
    post.at = "S";
    post.diameter_mm = 120;
    post.finish = Finish::sealed;
    post.slit = SlitPlan{"B", "C", 6, Finish::sealed};
    around.openings = {hatch, post};
    const auto panels = shaped({around, lid}, survey);
    ASSERT_TRUE(panels && panels->size() == 2) << codes(panels.findings);
    EXPECT_EQ(expect_pairs(*panels, 6), 3);  // the slit, and two of the lid
    EXPECT_EQ((*panels)[0].match_marks.size(), 4u);
    EXPECT_EQ((*panels)[1].match_marks.size(), 2u);
}

TEST(MatchMarks, NoneWhereNoneIsAJoint) {
    std::vector<PanelInput> two = two_panels(1);
    for (PanelInput& p : two)
        for (EdgePlan& e : p.edges) e.situation = Situation::wall;
    const auto panels = shaped(two, two_rooms(0));
    EXPECT_EQ(expect_pairs(*panels, -1), 0);
}

TEST(MatchMarks, MoveAsideWhereASlitComesOut) {
    std::vector<PanelInput> two = two_panels(1);
    Survey survey = two_rooms(0);
    survey.points["S"] = {{700, 400}, {}};
    OpeningPlan post;
    post.id = "post";
    post.at = "S";
    post.diameter_mm = 100;
    post.finish = Finish::sealed;
    post.slit = SlitPlan{"B", "E", 30, Finish::sealed};
    two[0].openings = {post};
    const auto panels = shaped(two, survey);
    EXPECT_EQ(expect_pairs(*panels, -1), 2);
}

PanelInput twin_of(const std::string& of, const std::string& id, const std::vector<std::string>& about) {
    PanelInput in;
    in.id = id;
    in.twin_of = of;
    in.twin_checked = true;
    in.twin_about = about;
    return in;
}

TEST(MatchMarks, TwinsOfNeighboursMeetAsTheirOriginalsDo) {
    for (const bool placed : {false, true}) {
        std::vector<PanelInput> all = two_panels(1);
        const std::vector<std::string> about =
            placed ? std::vector<std::string>{"A", "C"} : std::vector<std::string>{};
        all.push_back(twin_of("1", "3", about));
        all.push_back(twin_of("2", "4", about));
        const auto panels = shaped(all, two_rooms(0.1));
        ASSERT_TRUE(panels && panels->size() == 4) << codes(panels.findings);
        EXPECT_EQ(expect_pairs(*panels, 2), 2);
        EXPECT_EQ((*panels)[2].match_marks.back().name, "M1'");
    }
}

}  // namespace
}  // namespace spile
