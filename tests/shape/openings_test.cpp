// Openings that are not round: their rims against closed forms, and what is said of those that cannot be.
#include "core/shape/opening_lines.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;
using Form = OpeningPlan::Form;

/// A panel of 1000 x 800 with points inside it.
Survey deck() {
    Survey survey = rectangle_survey(1000, 800);
    const std::map<std::string, Vec2> more{{"P", {500, 400}}, {"Q", {600, 500}}, {"R", {400, 400}},
                                           {"E", {300, 300}}, {"F", {600, 300}}, {"G", {600, 500}},
                                           {"H", {300, 500}}};
    for (const auto& [name, at] : more) survey.points[name] = {at, {}};
    return survey;
}

PanelInput with(const OpeningPlan& opening) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.openings.push_back(opening);
    return in;
}

OpeningPlan box(double length, double width, double radius, double ease, Finish finish = Finish::sealed) {
    OpeningPlan o = box_opening(length, width, radius, finish);
    o.at = "P";
    o.ease_mm = ease;
    return o;
}

OpeningPlan free_of(const std::vector<CornerPlan>& outline, double ease) {
    OpeningPlan o;
    o.id = "hole";
    o.form = Form::free;
    o.outline = outline;
    o.ease_mm = ease;
    o.finish = Finish::sealed;
    return o;
}

/// Area of the one hole of the panel; 0 with a failure when there is none.
double hole_area(const Result<std::vector<Panel>>& panels) {
    EXPECT_TRUE(panels);
    if (!panels || panels->size() != 1 || panels->front().net_line.region.holes.size() != 1) {
        ADD_FAILURE() << codes(panels.findings);
        return 0;
    }
    return -area_mm2(panels->front().net_line.region.holes[0]);
}

TEST(Openings, ABoxIsLargerByItsEaseAllRound) {
    for (const double radius : {0.0, 10.0, 40.0}) {
        const auto panels = shaped({with(box(200, 80, radius, 6))}, deck());
        EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
        // Closed form: a rectangle with quarter circles at its corners; a square corner stays square.
        const double r = radius > 0 ? radius + 6 : 0;
        EXPECT_NEAR(hole_area(panels), 212 * 92 - (4 - kPi) * r * r, 1e-6) << radius;
        const OpeningPlan& made = panels->front().openings[0];
        EXPECT_DOUBLE_EQ(made.finished_along_mm, 212);
        EXPECT_DOUBLE_EQ(made.finished_across_mm, 92);
    }
}

TEST(Openings, ABoxLiesAlongTwoPointsOrByItsTurn) {
    OpeningPlan by_points = box(200, 80, 10, 6), by_turn = by_points;
    by_points.along = {"P", "Q"};  // 45 degrees to port
    by_turn.turn_deg = 45;
    const auto a = shaped({with(by_points)}, deck()), b = shaped({with(by_turn)}, deck());
    const Outline &one = a->front().openings[0].rim, &other = b->front().openings[0].rim;
    ASSERT_EQ(one.size(), other.size());
    for (std::size_t k = 0; k < one.size(); ++k)
        EXPECT_LT(distance(one.vertices[k].p, other.vertices[k].p), 1e-9);
    // Its far corner of the unrounded box: half of 212 and of 92 turned by 45 degrees.
    EXPECT_NEAR(box_of(one).width(), (212 + 92) / std::sqrt(2.0) - 2 * 16 * (std::sqrt(2.0) - 1), 1e-9);
}

TEST(Openings, ASlotHasRoundEndsAboutItsTwoPoints) {
    OpeningPlan slot;
    slot.id = "hole";
    slot.form = Form::slot;
    slot.along = {"R", "P"};
    slot.width_mm = 60;
    slot.ease_mm = 5;
    slot.finish = Finish::sealed;
    const auto panels = shaped({with(slot)}, deck());
    EXPECT_NEAR(hole_area(panels), kPi * 35 * 35 + 100 * 70, 1e-6);
    EXPECT_NEAR(length_mm(panels->front().openings[0].rim), 2 * kPi * 35 + 200, 1e-9);
    EXPECT_DOUBLE_EQ(panels->front().openings[0].finished_along_mm, 170);
    EXPECT_LT(distance(panels->front().openings[0].centre_mm, Vec2{450, 400}), 1e-9);
}

TEST(Openings, AFreeOutlineIsTheSameEitherWayRound) {
    Survey survey = deck();
    const double bulge = bulge_from_rise(300, 40);
    survey.curves.push_back({"E", "F", {{{300, 300}, {600, 300}, bulge, 0}}});
    const std::vector<CornerPlan> round{{"E", 0}, {"F", 0}, {"G", 30}, {"H", 0}};
    const auto one = shaped({with(free_of(round, 0))}, survey);
    const auto other = shaped({with(free_of({round.rbegin(), round.rend()}, 0))}, survey);
    // A segment of chord 300 and rise 40 stands on the rectangle; one corner is rounded.
    const double r = 300 * 300 / (8.0 * 40) + 20, angle = 2 * std::asin(150 / r);
    const double segment = r * r / 2 * (angle - std::sin(angle));
    EXPECT_NEAR(hole_area(one), 300 * 200 + segment - (1 - kPi / 4) * 900, 1e-6);
    EXPECT_NEAR(hole_area(other), hole_area(one), 1e-9);
    // Sides keep their names whichever way it was named.
    for (const auto* panels : {&one, &other}) {
        const OpeningPlan& o = (*panels)->front().openings[0];
        for (const Vertex& v : o.passes.vertices) {
            if (v.tag < 0 || v.bulge != 0) continue;
            const CornerPlan& corner = o.outline[static_cast<std::size_t>(v.tag)];
            if (corner.radius_mm > 0) continue;
            EXPECT_LT(distance(survey.points.at(corner.at).boat_mm, v.p), 1e-9);
        }
    }
    // With ease all round it is the offset of the outline: larger by the length of the rim times the ease, and corners.
    EXPECT_GT(hole_area(shaped({with(free_of(round, 6))}, survey)), hole_area(one) + 6 * 900);
}

TEST(Openings, OneThatMeetsTheEdgeSaysWhatEaseWouldDo) {
    OpeningPlan wide = box(980, 80, 0, 12);  // 10 mm at each end
    const auto panels = shaped({with(wide)}, deck());
    const Finding* f = find(panels.findings, "opening-at-edge");
    ASSERT_TRUE(f) << codes(panels.findings);
    EXPECT_NEAR(number(*f, "past the edge by"), 2, 0.01);
    EXPECT_NE(f->to_do.find("An ease of 3/8 in would do"), std::string::npos) << f->to_do;
    wide.ease_mm = 9.9;
    EXPECT_FALSE(find(shaped({with(wide)}, deck()).findings, "opening-at-edge"));
    EXPECT_TRUE(find(shaped({with(wide)}, deck()).findings, "opening-near-edge"));
    wide = box(100, 80, 0, 0);
    wide.at = "";
    wide.centre_mm = {1200, 400};
    EXPECT_TRUE(find(shaped({with(wide)}, deck()).findings, "opening-outside"));
}

TEST(Openings, TwoThatMeetAreSaid) {
    PanelInput in = with(box(200, 80, 0, 6));
    OpeningPlan post{"post", "", 40, 0, Finish::sealed, {620, 400}};
    in.openings.push_back(post);
    auto panels = shaped({in}, deck());
    const Finding* f = find(panels.findings, "openings-meet");
    ASSERT_TRUE(f) << codes(panels.findings);
    EXPECT_NEAR(number(*f, "overlap"), 6, 0.01);
    in.openings[1].centre_mm.x = 620 + 6 + 10;
    panels = shaped({in}, deck());
    ASSERT_TRUE(find(panels.findings, "openings-near")) << codes(panels.findings);
    EXPECT_NEAR(number(*find(panels.findings, "openings-near"), "distance"), 10, 1e-9);
    in.openings[1].centre_mm = {500, 400};  // inside the box
    EXPECT_TRUE(find(shaped({in}, deck()).findings, "openings-meet"));
}

TEST(Openings, ACornerABinderCannotPassIsTurnedAndSaysTheRadius) {
    const FinishSettings settings;
    const double least = settings.least_bound_hole_radius_mm;
    auto panels = shaped({with(box(300, 200, 20, 6, Finish::bound))}, deck());
    EXPECT_EQ(panels->front().openings[0].finish, Finish::turned);
    const Finding* f = find(panels.findings, "opening-turned");
    ASSERT_TRUE(f);
    EXPECT_DOUBLE_EQ(number(*f, "radius"), 26);
    EXPECT_NE(f->to_do.find("2 25/32 in or more"), std::string::npos)
        << f->to_do;  // 3 in less the ease of 6 mm
    panels = shaped({with(box(300, 200, least - 6, 6, Finish::bound))}, deck());
    EXPECT_EQ(panels->front().openings[0].finish, Finish::bound) << codes(panels.findings);
    panels = shaped({with(box(300, 100, 20, 6, Finish::bound))}, deck());  // too narrow whatever its corners
    f = find(panels.findings, "opening-turned");
    ASSERT_TRUE(f);
    EXPECT_EQ(f->to_do.find("Round"), std::string::npos) << f->to_do;
}

TEST(Openings, FormsThatCannotBe) {
    const auto stops = [](const OpeningPlan& o) {
        const auto panels = shaped({with(o)}, deck());
        EXPECT_TRUE(panels->front().net_line.region.holes.empty());
        return codes(panels.findings);
    };
    const auto holds = [](const std::string& all, const char* code) {
        return all.find(code) != std::string::npos;
    };
    EXPECT_TRUE(holds(stops(box(200, 80, 41, 6)), "opening-corner-without-room"));
    EXPECT_TRUE(holds(stops(box(200, 0, 0, 6)), "opening-size"));
    EXPECT_TRUE(holds(stops(free_of({{"E", 0}, {"G", 0}, {"F", 0}, {"H", 0}}, 0)), "opening-outline"));
    EXPECT_TRUE(
        holds(stops(free_of({{"E", 0}, {"F", 0}, {"G", 400}, {"H", 0}}, 0)), "opening-corner-without-room"));
    OpeningPlan slot = box(0, 0, 0, 0);
    slot.form = Form::slot;
    slot.width_mm = 50;
    slot.along = {"Q", "G"};  // one place
    EXPECT_TRUE(holds(stops(slot), "opening-without-direction"));
}

}  // namespace
}  // namespace spile
