// Lids cut out of their surround, mirror twins, and snaps by rule.
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

Survey deck() {
    Survey survey = rectangle_survey(1000, 800);
    const std::map<std::string, Vec2> more{
        {"E", {300, 300}}, {"F", {600, 300}}, {"G", {600, 500}}, {"H", {300, 500}}, {"S", {120, 30}}};
    for (const auto& [name, at] : more) survey.points[name] = {at, {}};
    return survey;
}

PanelInput surround(double gap) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    OpeningPlan hatch;
    hatch.id = "hatch";
    hatch.form = OpeningPlan::Form::lid;
    hatch.lid = "lid";
    hatch.ease_mm = gap;
    hatch.finish = Finish::sealed;
    in.openings.push_back(hatch);
    return in;
}

PanelInput lid(double clearance, double radius) {
    PanelInput in = panel_of({"E", "F", "G", "H"}, Finish::sealed, clearance, radius);
    in.id = "lid";
    return in;
}

TEST(Lids, TheOpeningIsTheLidsNetLineAndTheGap) {
    for (const bool lid_first : {false, true}) {
        std::vector<PanelInput> in{surround(6), lid(2, 40)};
        if (lid_first) std::swap(in[0], in[1]);
        const auto panels = shaped(in, deck());
        ASSERT_TRUE(panels && panels->size() == 2) << codes(panels.findings);
        EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
        const Panel &around = (*panels)[lid_first ? 1 : 0], &own = (*panels)[lid_first ? 0 : 1];
        ASSERT_EQ(around.net_line.region.holes.size(), 1u);
        // Closed form: the lid is 296 x 196 with corners of 40, its opening 308 x 208 with corners of 46.
        EXPECT_NEAR(-area_mm2(around.net_line.region.holes[0]), 308 * 208 - (4 - kPi) * 46 * 46, 1e-6);
        EXPECT_NEAR(distance_between(around.net_line.region.holes[0], own.net_line.region.outer), 6, 1e-9);
    }
}

TEST(Lids, ALidThatIsNotThereIsSaid) {
    PanelInput in = surround(6);
    EXPECT_TRUE(find(shaped({in}, deck()).findings, "lid-missing"));
    in.openings[0].lid = "1";
    EXPECT_TRUE(find(shaped({in}, deck()).findings, "lid-missing"));
}

PanelInput twin(bool checked = false) {
    PanelInput in;
    in.id = "2";
    in.twin_of = "1";
    in.twin_checked = checked;
    return in;
}

TEST(Twins, ATwinIsTheMirrorImageEdgeForEdge) {
    Dice dice(31);
    for (int run = 0; run < 30; ++run) {
        RandomOptions options;
        options.corner_radius = run % 2 ? 12 : 0;
        RandomPanel panel = random_panel(dice, options);
        const auto panels = shaped({twin(), panel.in}, panel.survey);  // in either order
        if (!panels || panels->size() != 2) continue;
        const Panel &own = (*panels)[1], &other = (*panels)[0];
        EXPECT_NEAR(area_mm2(own.net_line.region.outer), area_mm2(other.net_line.region.outer), 1e-6);
        EXPECT_GT(area_mm2(other.net_line.region.outer), 0);
        ASSERT_EQ(own.edges.size(), other.edges.size());
        for (std::size_t i = 0; i < own.edges.size(); ++i) {
            // The edge of the same two corners, with a dash.
            std::size_t j = 0;
            const auto dashed = [](const std::string& name) { return name + "'"; };
            while (j < other.edges.size() && !(other.edges[j].from == dashed(own.edges[i].to) &&
                                               other.edges[j].to == dashed(own.edges[i].from)))
                ++j;
            ASSERT_LT(j, other.edges.size()) << edge_name(own, i);
            EXPECT_EQ(other.edges[j].finish, own.edges[i].finish);
            EXPECT_EQ(other.edges[j].clearance_mm, own.edges[i].clearance_mm);
            EXPECT_EQ(other.corners[j].at, other.edges[j].from);
            for (const Vec2 p : samples(own.net_line.region.outer, static_cast<int>(i), 3)) {
                double near = 1e9;
                for (std::size_t k = 0; k < other.net_line.region.outer.size(); ++k)
                    if (other.net_line.region.outer.vertices[k].tag == static_cast<int>(j))
                        near = std::min(
                            near, nearest_on(other.net_line.region.outer.edge(k), {p.x, -p.y}).distance);
                EXPECT_LT(near, 1e-9);
            }
        }
    }
}

TEST(Twins, OneInItsPlaceIsHeldAgainstItsNeighbours) {
    // Port of the line O P a panel, between the hands a strip whose starboard side was measured `off` too far out.
    for (const double off : {0.0, 0.5, 6.0, -6.0}) {
        const Survey survey = survey_of({{"O", {0, 0}},
                                         {"P", {1000, 50}},
                                         {"A", {-10, 200}},
                                         {"B", {990, 250}},
                                         {"C", {950, 900}},
                                         {"D", {-50, 800}},
                                         {"E", {10, -200 + off}},
                                         {"F", {1010, -150 + off}}});
        // (10, -200) mirrors A about the line through O and P to within a tenth.
        PanelInput side = panel_of({"A", "B", "C", "D"}, Finish::sealed, 1), middle = side;
        middle = panel_of({"E", "F", "B", "A"}, Finish::sealed, 1);
        middle.id = "3";
        side.edges[0].situation = Situation::joint;
        middle.edges[0].situation = middle.edges[2].situation = Situation::joint;
        PanelInput other = twin(true);
        other.twin_about = {"O", "P"};
        const auto panels = shaped({side, other, middle}, survey);
        ASSERT_TRUE(panels && panels->size() == 3) << codes(panels.findings);
        const Finding* misses = find(panels.findings, "twin-misses-neighbour");
        EXPECT_EQ(misses != nullptr, std::fabs(off) > 1) << off << codes(panels.findings);
        if (misses) {
            EXPECT_NEAR(number(*misses, "off"), std::fabs(off), 0.6);
        }
        EXPECT_EQ(find(panels.findings, "panels-overlap") != nullptr, off < -2) << codes(panels.findings);
        EXPECT_FALSE(find(panels.findings, "twin-not-held"));
        // Not placed, its joint is said to be held against nothing.
        const auto loose = shaped({side, twin(true), middle}, survey);
        const Finding* f = find(loose.findings, "twin-not-held");
        ASSERT_TRUE(f);
        EXPECT_EQ(number(*f, "joints"), 1);
    }
}

TEST(Twins, EveryCornerOfATwinOfASlitPanelHasItsName) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    OpeningPlan post;
    post.id = "post";
    post.at = "E";
    post.diameter_mm = 80;
    post.finish = Finish::sealed;
    post.slit = SlitPlan{"C", "D", 6, Finish::sealed};
    in.openings.push_back(post);
    const auto panels = shaped({in, twin(true)}, deck());
    ASSERT_TRUE(panels && panels->size() == 2) << codes(panels.findings);
    const Panel &own = (*panels)[0], &other = (*panels)[1];
    const auto named = [](const Panel& panel, const Outline& line) {
        std::map<std::string, Vec2> at;
        for (std::size_t k = 0; k < line.size(); ++k) {
            const int tag = line.vertices[k].tag;
            if (tag != line.vertices[(k + line.size() - 1) % line.size()].tag)
                at[panel.corners[static_cast<std::size_t>(tag)].at] = line.vertices[k].p;
        }
        return at;
    };
    for (const bool boat : {true, false}) {
        const auto a = named(own, boat ? own.boat_line.outline : own.net_line.unrounded);
        const auto b = named(other, boat ? other.boat_line.outline : other.net_line.unrounded);
        EXPECT_EQ(a.size(), boat ? 4u : 8u);
        ASSERT_EQ(a.size(), b.size());
        for (const auto& [name, p] : a) {
            const auto found = b.find(name + "'");
            ASSERT_NE(found, b.end()) << name;
            EXPECT_LT(distance(found->second, {p.x, -p.y}), 1e-9) << name;
        }
    }
}

TEST(Neighbours, TheSidesOfASlitAreNoneOfTheBoats) {
    // They have no place on the boat line; looked for there, memory beyond it was read.
    PanelInput in = panel_of({"A", "B", "C", "D"}), beside = panel_of({"A", "B", "C", "D"});
    OpeningPlan post;
    post.id = "post";
    post.at = "E";
    post.diameter_mm = 80;
    post.finish = Finish::sealed;
    post.slit = SlitPlan{"C", "D", 6, Finish::sealed};
    in.openings.push_back(post);
    beside.id = "2";
    EXPECT_FALSE(find(shaped({in, beside}, deck()).findings, "joint-without-neighbour"));
}

TEST(Twins, AnAssumedOneSaysItsCheckSizes) {
    const PanelInput original = panel_of({"A", "B", "C", "D"});
    auto panels = shaped({original, twin()}, deck());
    const Finding* f = find(panels.findings, "twin-assumed");
    ASSERT_TRUE(f) << codes(panels.findings);
    EXPECT_EQ(f->severity, Severity::look);
    ASSERT_EQ(f->numbers.size(), 2u);  // both diagonals
    for (const Quantity& q : f->numbers) EXPECT_NEAR(q.value, std::hypot(1000, 800), 1e-9);
    EXPECT_EQ(panels->back().twin_of, "1");
    EXPECT_FALSE(find(shaped({original, twin(true)}, deck()).findings, "twin-assumed"));
}

TEST(Twins, ATwinOfNothingIsSaid) {
    EXPECT_TRUE(find(shaped({twin()}, deck()).findings, "twin-missing"));
    PanelInput third = twin();
    third.id = "3";
    third.twin_of = "2";
    EXPECT_TRUE(
        find(shaped({panel_of({"A", "B", "C", "D"}), twin(), third}, deck()).findings, "twin-missing"));
}

TEST(Twins, OpeningsAndSlitsGoOver) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    OpeningPlan box;
    box.id = "box";
    box.form = OpeningPlan::Form::box;
    box.centre_mm = {300, 200};
    box.length_mm = 200;
    box.width_mm = 60;
    box.turn_deg = 30;
    in.openings.push_back(box);
    OpeningPlan post{"post", "", 80, 0, Finish::sealed, {700, 500}};
    post.slit = SlitPlan{"B", "C", 2, Finish::sealed};
    in.openings.push_back(post);
    const auto panels = shaped({in, twin(true)}, deck());
    ASSERT_EQ(panels->size(), 2u);
    const Panel& other = panels->back();
    EXPECT_EQ(other.edges.size(), 8u);
    ASSERT_EQ(other.net_line.region.holes.size(), 1u);
    EXPECT_LT(area_mm2(other.net_line.region.holes[0]), 0);
    EXPECT_EQ(other.openings[0].centre_mm, (Vec2{300, -200}));
    EXPECT_LT(
        nearest_on(other.net_line.region.holes[0], Vec2{300, -200} + 100 * Vec2{std::cos(kPi / 6), -0.5})
            .distance,
        1e-9);
    EXPECT_TRUE(faults_of(other.net_line.region.outer).empty());
}

PanelInput ruled(double pitch, double from_edge, double radius = 0) {
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::sealed, 0, radius);
    in.stud_rule = StudRule{pitch, from_edge};
    return in;
}

TEST(StudRules, OneInEachCornerAndNoTwoFartherApartThanThePitch) {
    // 1000 x 800: the line 20 inside is 960 x 760. At 400: 3 and 2 stretches a side, 10 snaps in all.
    const auto panels = shaped({ruled(400, 20)}, deck());
    ASSERT_TRUE(panels.findings.empty()) << codes(panels.findings);
    const std::vector<Stud>& studs = panels->front().studs;
    ASSERT_EQ(studs.size(), 10u);
    for (const Vec2 corner :
         {Vec2{20, 20}, Vec2{980, 20}, Vec2{980, 780}, Vec2{20, 780}, Vec2{340, 20}, Vec2{980, 400}})
        EXPECT_EQ(std::count_if(studs.begin(), studs.end(),
                                [&](const Stud& s) { return s.by_rule && distance(s.at_mm, corner) < 1e-9; }),
                  1);
    // Pitch 0: corners alone. Round ones have theirs in the middle of the round.
    const auto round = shaped({ruled(0, 20, 100)}, deck());
    ASSERT_EQ(round->front().studs.size(), 4u);
    for (const Stud& s : round->front().studs) {
        const Vec2 middle{s.at_mm.x < 500 ? 100.0 : 900.0, s.at_mm.y < 400 ? 100.0 : 700.0};
        EXPECT_NEAR(distance(s.at_mm, middle), 80, 1e-9);
        EXPECT_NEAR(std::fabs(s.at_mm.x - middle.x), std::fabs(s.at_mm.y - middle.y), 1e-9);
    }
}

TEST(StudRules, StudsOfTheBoatAndOpeningsComeFirst) {
    PanelInput in = ruled(400, 30);
    in.studs = {"S"};  // 90 from where the corner's would be: that one stays, none is added beside it
    const auto plain = shaped({ruled(400, 30)}, deck()), with = shaped({in}, deck());
    EXPECT_EQ(with->front().studs.size(), plain->front().studs.size() + 1);
    Survey survey = deck();
    survey.points["S"] = {{340, 30}, {}};  // near the first between A and B
    EXPECT_EQ(shaped({in}, survey)->front().studs.size(), plain->front().studs.size());
    // An opening where one would stand.
    in.studs.clear();
    in.openings.push_back({"post", "", 60, 0, Finish::sealed, {343, 60}});
    const auto near = shaped({in}, deck());
    EXPECT_EQ(near->front().studs.size(), plain->front().studs.size() - 1);
    ASSERT_TRUE(find(near.findings, "studs-left-out"));
    EXPECT_EQ(number(*find(near.findings, "studs-left-out"), "left out"), 1);
}

TEST(StudRules, ALineThatCollapsesSaysHowFarItGoes) {
    const auto panels = shaped({ruled(400, 401)}, deck());
    const Finding* f = find(panels.findings, "studs-without-room");
    ASSERT_TRUE(f);
    EXPECT_NEAR(number(*f, "largest workable"), 400, 0.2);
}

}  // namespace
}  // namespace spile
