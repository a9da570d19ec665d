// Panels wider than the goods: the joints that are proposed, and what comes of taking them.
#include "core/job/dividing.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/measure_of.h"
#include "core/job/joint_places.h"
#include "core/job/pattern_room.h"
#include "core/layout/check/check.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

const auto solve = solver_of(4);

/// A hold of 120 x 100 in with posts at P and Q, studs at R and S, on goods of 72 in.
std::string hold(const std::string& panel, const std::string& goods = "", const std::string& more = "") {
    return R"({ "spile": 1, "units": "in", "mark_on": "back", "defaults": { "corner_radius": 2 },
      "goods": { "width": 72)" +
           goods + R"( },
      "spaces": [{ "id": "hold", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 120", "B C 100", "C D 120", "D A 100", "A C 156 3/16", "B D 156 3/16",
                 "P on A B at 40 off 50 left", "Q on A B at 80 off 20 left",
                 "R on A B at 60 off 90 left", "S on A B at 20 off 44 left"] }],
      "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"])" +
           panel + " }" + more + "] }";
}

struct Divided {
    Job job;
    Derived derived;
    Divisions divisions;
};

Divided proposal(const std::string& text) {
    Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    Derived derived = run_job(*job, solve, {});
    EXPECT_FALSE(derived.layout);
    Divisions divisions = propose_divisions(*job, derived, {});
    say_where_to_divide(divisions, lengths_of(*job), derived);
    return {std::move(*job.value), std::move(derived), std::move(divisions)};
}

/// Taken, and run again: laid out, proved, nothing stopped.
Derived taken(const Divided& d) {
    Result<JsonValue> said = apply_edits(settled_form(d.job.said), d.divisions.edits);
    EXPECT_TRUE(said) << shown(said.findings);
    Result<Job> job = job_from_said(std::move(*said.value));
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    Derived derived = run_job(*job, solve, {});
    EXPECT_TRUE(derived.layout) << shown(derived.findings);
    EXPECT_FALSE(has_stop(derived.findings)) << shown(derived.findings);
    if (derived.layout) {
        EXPECT_TRUE(check_layout(layout_pieces(*job, derived), job->goods, *derived.layout).empty());
    }
    const double room = job->goods.usable_width_mm - 2 * job->goods.edge_gap();
    for (const Piece& piece : derived.pieces)
        EXPECT_LE(box_of(piece.cut.face).height(), room + 0.002) << piece.id;
    return derived;
}

// 120 x 100 on 72 in: one joint will do, and all are as long; the most even is in the middle. Both halves are
// 50 - 3/16 wall - 1/16 growth at the wall, 1/32 reveal and 1/16 growth at the joint: 49 21/32 in wide.
TEST(Dividing, a_rectangle_is_halved) {
    const Divided d = proposal(hold(""));
    ASSERT_EQ(d.divisions.each.size(), 1u);
    ASSERT_FALSE(d.divisions.each[0].ways.empty()) << d.divisions.each[0].why_not;
    const WayToDivide& one = d.divisions.each[0].ways[0];
    EXPECT_EQ(one.strips, (std::vector<std::string>{"1", "1b"}));
    ASSERT_EQ(one.joints.size(), 1u);
    EXPECT_EQ(one.joints[0].readings, (std::vector<std::string>{"J1 on D A at 50", "J2 on B C at 50"}));
    EXPECT_EQ(one.joints[0].through, (std::vector<std::string>{"J1", "J2"}));
    EXPECT_NEAR(one.joints[0].length_mm, 120 * 25.4, 0.5);
    const Finding* stop = find_code(d.derived.findings, "layout-too-wide");
    ASSERT_TRUE(stop);
    EXPECT_TRUE(has_words(*stop, "J1 on D A at 50")) << stop->to_do;

    const Derived two = taken(d);
    ASSERT_EQ(two.pieces.size(), 2u);
    for (const Piece& piece : two.pieces)
        EXPECT_NEAR(box_of(piece.cut.face).height() / 25.4, 49 + 21.0 / 32, 0.01);
    EXPECT_FALSE(find_code(two.findings, "joint-without-neighbour"));
    // What was said is not touched by asking.
    EXPECT_TRUE(settled_form(d.job.said) == settled_form(read_job(hold(""))->said));
}

// A post of 4 in stands in the middle: the joint keeps 2 in from its finished rim, 1/4 in of ease outside it.
TEST(Dividing, passes_beside_an_opening_and_a_stud) {
    const Divided d = proposal(hold(R"(, "openings": [{ "id": "post", "at": "P", "diameter": 4 },
        { "id": "drain", "at": "Q", "diameter": 2 }], "studs": ["R", "S"])"));
    ASSERT_EQ(d.divisions.each.at(0).ways.at(0).joints.size(), 1u);
    const Derived two = taken(d);
    ASSERT_EQ(two.panels.size(), 2u);
    const double y = box_of(two.panels[0].net_line.unrounded).max.y / 25.4;
    EXPECT_GE(std::fabs(y - 50), 2 + 0.25 + 2 - 0.1);
    EXPECT_LE(std::fabs(y - 50), 2 + 0.25 + 2 + 0.3);  // no farther than a mark or two
    // Each half has what lies on it.
    const std::size_t with_post = y < 50 ? 1 : 0;
    ASSERT_EQ(two.panels[with_post].openings.size(), with_post == 0 ? 2u : 1u);
    EXPECT_EQ(two.panels[0].openings.back().id, "drain");
    EXPECT_EQ(two.panels[0].studs.size() + two.panels[1].studs.size(), 2u);
    EXPECT_EQ(two.panels[1].studs.front().id, "R");
}

// An L, 100 in long below 60 in, 50 in long above: the shortest joint is 50 in long and ends in the inside corner.
TEST(Dividing, takes_the_shortest_cut_of_an_l) {
    const Divided d =
        proposal(R"({ "spile": 1, "units": "in", "mark_on": "back", "defaults": { "finish": "sealed" },
      "goods": { "width": 72 },
      "spaces": [{ "id": "hold", "walk": ["A", "B", "E", "F", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 100", "D on A B at 0 off 100 left", "C on A B at 50 off 100 left",
                 "F on A B at 50 off 60 left", "E on A B at 100 off 60 left"] }],
      "panels": [{ "id": "1", "corners": ["A", "B", "E", "F", "C", "D"] }] })");
    const WayToDivide& one = d.divisions.each.at(0).ways.at(0);
    ASSERT_EQ(one.joints.size(), 1u);
    EXPECT_EQ(one.joints[0].through, (std::vector<std::string>{"J1", "F"}));
    EXPECT_EQ(one.joints[0].readings, (std::vector<std::string>{"J1 on D A at 40"}));
    EXPECT_NEAR(one.joints[0].length_mm, 50 * 25.4, 0.01);
    const Derived two = taken(d);
    ASSERT_EQ(two.panels.size(), 2u);
    EXPECT_NEAR(area_mm2(two.panels[0].boat_line.outline), 100 * 60 * 645.16, 1);
    EXPECT_NEAR(area_mm2(two.panels[1].boat_line.outline), 50 * 40 * 645.16, 1);
}

// 100 in on goods that leave 35 in: three strips, joints at a third and two thirds.
TEST(Dividing, as_few_strips_as_will_do) {
    const Divided d = proposal(hold("", R"(, "usable_width": "35 1/2")"));
    const WayToDivide& one = d.divisions.each.at(0).ways.at(0);
    EXPECT_EQ(one.strips, (std::vector<std::string>{"1", "1b", "1c"}));
    EXPECT_EQ(taken(d).pieces.size(), 3u);
}

// Half the goods stand in the way of a joint 2 in from anywhere: on goods of 52 in a post of 6 in amid 100 in leaves no
// place for one joint, so there are two.
TEST(Dividing, more_strips_where_an_opening_takes_the_only_place) {
    const Divided d = proposal(
        hold(R"(, "openings": [{ "id": "post", "at": "P", "diameter": 6 }])", R"(, "usable_width": 52)"));
    EXPECT_EQ(d.divisions.each.at(0).ways.at(0).strips.size(), 3u);
    taken(d);
}

// With a repeat of 18 in across, strips may only step by 18 in: the layout carries the pattern over the joint.
TEST(Dividing, the_pattern_is_carried_over_the_joint) {
    const Divided d = proposal(hold("", R"(, "repeat": { "along": 12, "across": 18 })"));
    ASSERT_EQ(d.divisions.each.at(0).ways.at(0).joints.size(), 1u);
    taken(d);
}

TEST(Dividing, the_twin_is_divided_with_its_original) {
    const Divided d = proposal(hold("", "", R"(, { "id": "2", "twin_of": "1" })"));
    ASSERT_EQ(d.divisions.each.size(), 2u);
    EXPECT_EQ(taken(d).pieces.size(), 4u);
}

/// Made from the edits of one way alone.
Job made_by(const Job& job, const WayToDivide& way) {
    Result<JsonValue> said = apply_edits(settled_form(job.said), way.edits);
    EXPECT_TRUE(said) << shown(said.findings);
    Result<Job> made = job_from_said(std::move(*said.value));
    EXPECT_TRUE(made && made.findings.empty()) << shown(made.findings);
    return std::move(*made.value);
}

// 120 x 100 on 72 in: after the middle a joint 10 in to either side is as long and as even. Strips of 40 and 60: with 3/16 and
// 1/16 at the wall, 1/32 and 1/16 at the joint as in a_rectangle_is_halved, 39 21/32 and 59 21/32 in.
TEST(Dividing, other_ways_lie_elsewhere_and_fit_too) {
    const Divided d = proposal(hold(""));
    const Division one = propose_division(d.job, d.derived, "1", {});
    ASSERT_EQ(one.ways.size(), kMostWays) << one.why_not;
    const double y[] = {50, 40, 60};
    for (std::size_t k = 0; k < kMostWays; ++k) {
        const WayToDivide& way = one.ways[k];
        ASSERT_EQ(way.joints.size(), 1u);
        EXPECT_NEAR(way.joints[0].from_mm.y / 25.4, y[k], 1e-9) << k;
        EXPECT_EQ(way.joints[0].from_mm.y, way.joints[0].to_mm.y);
        EXPECT_NEAR(way.joints[0].to_mm.x - way.joints[0].from_mm.x, way.joints[0].length_mm, 1e-9);
        ASSERT_EQ(way.widths_mm.size(), 2u);
        EXPECT_NEAR(way.widths_mm[0] / 25.4, y[k] - 11.0 / 32, 0.01);
        EXPECT_NEAR(way.widths_mm[1] / 25.4, 100 - y[k] - 11.0 / 32, 0.01);
        const Job made = made_by(d.job, way);
        const Derived derived = run_job(made, solve, {});
        ASSERT_TRUE(derived.layout) << shown(derived.findings);
        EXPECT_TRUE(check_layout(layout_pieces(made, derived), made.goods, *derived.layout).empty());
    }
    // All panels at once, in the second way.
    const Divisions second = propose_divisions(d.job, d.derived, {}, 1);
    EXPECT_TRUE(settled_form(made_by(d.job, one.ways[1]).said) ==
                *apply_edits(settled_form(d.job.said), second.edits).value);
}

// On 51 in goods a joint of 100 in may lie no farther than an inch from the middle: there is no second place.
TEST(Dividing, has_one_way_where_there_is_no_other_place) {
    const Divided d = proposal(hold("", R"(, "usable_width": 51)"));
    EXPECT_EQ(propose_division(d.job, d.derived, "1", {}).ways.size(), 1u);
}

// Seen without a solver too: a screen says it before anybody looks for a layout.
TEST(Dividing, a_piece_too_wide_is_said_without_a_solver) {
    const Result<Job> job = read_job(hold(""));
    ASSERT_TRUE(job);
    const Derived bare = run_job(*job, {}, {}), laid = run_job(*job, solve, {});
    EXPECT_TRUE(is_too_wide(bare.findings, "1"));
    ASSERT_TRUE(find_code(laid.findings, "layout-too-wide"));
    EXPECT_EQ(find_code(bare.findings, "layout-too-wide")->says,
              find_code(laid.findings, "layout-too-wide")->says);
}

TEST(Dividing, a_mat_is_not_divided_and_says_why) {
    const Divided d = proposal(R"({ "spile": 1, "units": "in", "mark_on": "back", "goods": { "width": 72 },
      "panels": [{ "id": "mat", "mat": "100 x 90" }] })");
    EXPECT_TRUE(d.divisions.edits.empty());
    EXPECT_NE(d.divisions.each.at(0).why_not.find("plain mat"), std::string::npos);
    EXPECT_NE(d.divisions.each[0].to_do.find("two sizes"), std::string::npos);
    const Finding* stop = find_code(d.derived.findings, "layout-too-wide");
    ASSERT_TRUE(stop);
    EXPECT_EQ(
        stop->to_do,
        "No joint is proposed: it is a plain mat, which has no joint lines. Make mats of two sizes of it, or "
        "take wider goods.");
}

// Every way of choosing two of the places, tried: none is cheaper than the one taken.
TEST(Dividing, no_choice_of_places_is_better) {
    std::vector<JointPlace> places;
    for (int k = 1; k < 40; ++k) {
        const double length = 1000 + 37.0 * ((k * 29) % 17);  // up and down
        places.push_back({k * 50.0, 0, length, "", false});
    }
    const StripRules rules{0, 2000, -2, 900};
    const auto best = best_places(places, rules, 3);
    ASSERT_TRUE(best);
    const double even = (2000 - 8) / 3.0;
    const auto cost = [&](const JointPlace& a, const JointPlace& b) {
        const double widths[] = {a.y_mm - 2, b.y_mm - a.y_mm - 4, 2000 - b.y_mm - 2};
        double sum = a.length_mm() + b.length_mm();
        for (const double w : widths) {
            if (w > 900 || w < 2 * kFromCorner_mm) return HUGE_VAL;
            sum += std::fabs(w - even) / 16;
        }
        return sum;
    };
    double least = HUGE_VAL;
    for (const JointPlace& a : places)
        for (const JointPlace& b : places) least = std::min(least, cost(a, b));
    EXPECT_NEAR(cost((*best)[0], (*best)[1]), least, 1e-9);
}

// 400 mm goods, repeat 300: a piece of 350 may start within 50 mm; a second that lies 150 further in the cloth would have
// to start 150 further, less whole repeats, and cannot.
TEST(Dividing, says_whether_a_pattern_has_room) {
    Goods goods;
    goods.usable_width_mm = 400;
    goods.gap_mm = 0;
    goods.repeat.across_mm = 300;
    const auto piece = [](const char* id, double y) {
        return LayoutPiece{id, {rectangle({0, 0}, {100, 350}), {}}, "cloth", {0, y}, {}, ""};
    };
    EXPECT_FALSE(pattern_has_room({piece("a", 0), piece("b", 150)}, goods));
    EXPECT_TRUE(pattern_has_room({piece("a", 0), piece("b", 350)}, goods));  // 350 - 300 = 50
    EXPECT_FALSE(pattern_has_room({piece("a", 0), piece("b", 352)}, goods));
    EXPECT_TRUE(pattern_has_room({piece("a", 0), piece("b", 600)}, goods));
}

}  // namespace
}  // namespace spile
