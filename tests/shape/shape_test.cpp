// Boat lines and net lines against closed forms.
#include "core/geom/offset.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

/// A corner of the net line lies here (within a nanometre).
bool has_vertex(const Outline& line, Vec2 p) {
    for (const Vertex& v : line.vertices) {
        if (distance(v.p, p) < 1e-6) return true;
    }
    return false;
}

TEST(Shape, RectangleGivesUpItsClearancesEdgeByEdge) {
    PanelInput in = panel_of({"A", "B", "C", "D"});
    for (int i = 0; i < 4; ++i) in.edges[static_cast<std::size_t>(i)].clearance_mm = 1 + i;
    const auto panels = shaped({in}, rectangle_survey(600, 400));
    ASSERT_TRUE(panels);
    EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
    ASSERT_EQ(panels->size(), 1u);
    const Outline& net = panels->front().net_line.region.outer;
    EXPECT_EQ(net.size(), 4u);
    EXPECT_TRUE(has_vertex(net, {4, 1}));
    EXPECT_TRUE(has_vertex(net, {598, 1}));
    EXPECT_TRUE(has_vertex(net, {598, 397}));
    EXPECT_TRUE(has_vertex(net, {4, 397}));
    for (std::size_t k = 0; k < 4; ++k) {
        const Edge e = net.edge(k);
        const auto tag = static_cast<std::size_t>(e.tag);
        EXPECT_EQ(tag == 0 || tag == 2, e.a.y == e.b.y);
    }
}

TEST(Shape, ClockwiseCornersGiveTheSamePanelAndKeepTheNamesAsTyped) {
    const Survey survey = rectangle_survey(600, 400);
    PanelInput ccw = panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 60);
    ccw.edges[1].clearance_mm = 7;  // B C
    ccw.corners[2].radius_mm = 90;  // C
    PanelInput cw = panel_of({"A", "D", "C", "B"}, Finish::bound, 0, 60);
    cw.edges[2].clearance_mm = 7;  // C B
    cw.corners[2].radius_mm = 90;  // C
    const auto one = shaped({ccw}, survey), other = shaped({cw}, survey);
    ASSERT_TRUE(one && other);
    const Panel &a = one->front(), &b = other->front();
    EXPECT_FALSE(a.was_clockwise);
    EXPECT_TRUE(b.was_clockwise);
    EXPECT_GT(area_mm2(b.net_line.region.outer), 0);
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(b.corners[i].at, b.edges[i].from);
        EXPECT_EQ(b.corners[(i + 1) % 4].at, b.edges[i].to);
        const auto same = [&](const EdgePlan& e) {
            return e.from == b.edges[i].from && e.to == b.edges[i].to;
        };
        const auto at = std::find_if(a.edges.begin(), a.edges.end(), same);
        ASSERT_NE(at, a.edges.end());
        EXPECT_EQ(at->clearance_mm, b.edges[i].clearance_mm);
        EXPECT_EQ(edge_name(b, i), b.edges[i].to + " " + b.edges[i].from);
        // The tag of an edge is its place in the list.
        const Vec2 from = survey.points.at(b.edges[i].from).boat_mm;
        for (const Vertex& v : b.boat_line.outline.vertices) {
            if (v.tag == static_cast<int>(i)) {
                EXPECT_EQ(v.p, from);
            }
        }
    }
    EXPECT_NEAR(area_mm2(a.net_line.region), area_mm2(b.net_line.region), 1e-6);
    EXPECT_NEAR(area_mm2(a.net_line.region), 593.0 * 400 - (4 - kPi) * (3 * 60 * 60 + 90 * 90) / 4, 1e-6);
}

/// A D-shaped panel: A-B straight along y = 0, B-C-A one half circle of radius r in two quarter curves.
Survey half_disc(double r, bool named_backwards) {
    Survey survey = survey_of({{"A", {-r, 0}}, {"B", {r, 0}}, {"C", {0, r}}});
    const double quarter = std::tan(kPi / 8);
    Edge bc{{r, 0}, {0, r}, quarter, 0}, ca{{0, r}, {-r, 0}, quarter, 0};
    if (named_backwards) {
        survey.curves = {{"C", "B", {reversed(bc)}}, {"A", "C", {reversed(ca)}}};
    } else {
        survey.curves = {{"B", "C", {bc}}, {"C", "A", {ca}}};
    }
    return survey;
}

TEST(Shape, CurvesAreTakenEitherWayRoundWithTheRightBulge) {
    const double r = 500, c = 5;
    for (const bool backwards : {false, true}) {
        for (const bool clockwise : {false, true}) {
            const auto in = clockwise ? panel_of({"A", "C", "B"}, Finish::sealed, c)
                                      : panel_of({"A", "B", "C"}, Finish::sealed, c);
            const auto panels = shaped({in}, half_disc(r, backwards));
            ASSERT_TRUE(panels);
            ASSERT_EQ(panels->size(), 1u) << codes(panels.findings);
            const Panel& panel = panels->front();
            EXPECT_NEAR(area_mm2(panel.boat_line.outline), kPi * r * r / 2, 1e-6);
            // Chord at height c of the circle of radius R = r - c: the segment above it.
            const double R = r - c, half = std::acos(c / R);
            EXPECT_NEAR(area_mm2(panel.net_line.region), R * R * (half - std::sin(half) * std::cos(half)),
                        1e-6);
        }
    }
}

TEST(Shape, ACurveOfSeveralArcsKeepsItsEdgeTag) {
    Survey survey = half_disc(500, false);
    survey.points.erase("C");
    survey.points["D"] = {{0, -300}, {}};
    std::vector<Edge> both;
    for (const SurveyCurve& c : survey.curves) both.push_back(c.edges.front());
    survey.curves = {{"B", "A", both}};
    const auto panels = shaped({panel_of({"A", "D", "B"}, Finish::sealed, 4)}, survey);
    ASSERT_TRUE(panels);
    ASSERT_EQ(panels->size(), 1u) << codes(panels.findings);
    int on_curve = 0;
    const Outline& net = panels->front().net_line.region.outer;
    for (std::size_t k = 0; k < net.size(); ++k) {
        if (net.edge(k).straight()) continue;
        ++on_curve;
        EXPECT_EQ(net.vertices[k].tag, 2);
        EXPECT_NEAR(radius_of(net.edge(k)), 496, 1e-9);
    }
    EXPECT_EQ(on_curve, 2);
}

TEST(Shape, FinishedEdgesGiveUpNothing) {
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound, 9, 60);
    for (EdgePlan& e : in.edges) e.measured = Measured::finished;
    const auto panels = shaped({in}, rectangle_survey(600, 400));
    ASSERT_TRUE(panels);
    const Box box = box_of(panels->front().net_line.region);
    EXPECT_NEAR(box.width(), 600, 1e-9);
    EXPECT_NEAR(box.height(), 400, 1e-9);
}

TEST(Shape, RawEdgesAreTheCutLineItself) {
    FinishSettings s;
    for (const auto& [finish, outside] :
         {std::pair{Finish::bound, s.binding_growth_mm}, std::pair{Finish::turned, -s.turn_mm},
          std::pair{Finish::sealed, 0.0}}) {
        PanelInput in = panel_of({"A", "B", "C", "D"}, finish, 9, finish == Finish::bound ? 60 : 0);
        for (EdgePlan& e : in.edges) e.measured = Measured::raw;
        const auto panels = shaped({in}, rectangle_survey(600, 400));
        ASSERT_TRUE(panels);
        const Box box = box_of(panels->front().net_line.region);
        EXPECT_NEAR(box.width(), 600 + 2 * outside, 1e-9);
        EXPECT_NEAR(box.height(), 400 + 2 * outside, 1e-9);
    }
}

TEST(Shape, RoundedCornersLieOnTheNetLine) {
    const double r = 2 * kIn, c = 5;
    const auto panels =
        shaped({panel_of({"A", "B", "C", "D"}, Finish::bound, c, r)}, rectangle_survey(600, 400));
    ASSERT_TRUE(panels);
    EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
    const NetLine& net = panels->front().net_line;
    EXPECT_NEAR(area_mm2(net.region), 590.0 * 390 - (4 - kPi) * r * r, 1e-6);
    EXPECT_NEAR(area_mm2(net.unrounded), 590.0 * 390, 1e-6);
    int arcs = 0;
    for (std::size_t k = 0; k < net.region.outer.size(); ++k) {
        const Edge e = net.region.outer.edge(k);
        if (e.straight()) continue;
        ++arcs;
        EXPECT_EQ(e.tag, -1);
        EXPECT_NEAR(radius_of(e), r, 1e-9);
    }
    EXPECT_EQ(arcs, 4);
}

TEST(Shape, ACornerThatHardlyTurnsIsNotRounded) {
    // M stands 2 mm off the straight line A-B of 1200 mm: rounding it to 2 in would move the line by 0.0006 mm.
    const Survey survey =
        survey_of({{"A", {0, 0}}, {"M", {600, -2}}, {"B", {1200, 0}}, {"C", {1200, 500}}, {"D", {0, 500}}});
    const auto panels = shaped({panel_of({"A", "M", "B", "C", "D"}, Finish::bound, 0, 2 * kIn)}, survey);
    ASSERT_TRUE(panels);
    EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
    const Outline& net = panels->front().net_line.region.outer;
    EXPECT_EQ(net.size(), 9u);
    EXPECT_TRUE(has_vertex(net, {600, -2}));
}

TEST(Shape, APlainMatHasItsFinishedSize) {
    PanelInput in;
    in.id = "mat";
    in.size_x_mm = 24 * kIn;
    in.size_y_mm = 36 * kIn;
    in.mat_finish = Finish::turned;
    const auto panels = shape({in}, {}, FinishSettings{}, RunContext{});
    ASSERT_TRUE(panels);
    EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
    const Panel& panel = panels->front();
    EXPECT_TRUE(panel.mat);
    const Box box = box_of(panel.net_line.region);
    EXPECT_EQ(box.min, (Vec2{0, 0}));
    EXPECT_NEAR(box.max.x, 24 * kIn, 1e-9);
    EXPECT_NEAR(box.max.y, 36 * kIn, 1e-9);
    ASSERT_EQ(panel.edges.size(), 4u);
    EXPECT_EQ(panel.edges[0].finish, Finish::turned);
    EXPECT_EQ(edge_name(panel, 3), "D A");
}

TEST(Shape, ABoundMatIsRoundedOnlyWhereAsked) {
    PanelInput in;
    in.id = "mat";
    in.size_x_mm = 600;
    in.size_y_mm = 400;
    in.mat_finish = Finish::bound;
    auto panels = shape({in}, {}, FinishSettings{}, RunContext{});
    ASSERT_TRUE(panels);
    EXPECT_EQ(panels.findings.size(), 4u);  // one for each square corner
    ASSERT_NE(find(panels.findings, "corner-too-tight"), nullptr);
    EXPECT_FALSE(has_stop(panels.findings));
    EXPECT_NEAR(area_mm2(panels->front().net_line.region), 600.0 * 400, 1e-6);
    in.corner_radius_mm = 50;
    panels = shape({in}, {}, FinishSettings{}, RunContext{});
    EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
    EXPECT_NEAR(area_mm2(panels->front().net_line.region), 600.0 * 400 - (4 - kPi) * 50 * 50, 1e-6);
}

TEST(Shape, OpeningsBecomeClockwiseHolesOfTheNetLine) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["K"] = {{200, 200}, {}};
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::sealed, 0);
    in.openings.push_back({"post", "K", 2 * kIn, kIn / 4, Finish::turned, {}});
    in.openings.push_back({"by size", "", 100, 0, Finish::sealed, {450, 200}});
    const auto panels = shaped({in}, survey);
    ASSERT_TRUE(panels);
    EXPECT_TRUE(panels.findings.empty()) << codes(panels.findings);
    const Panel& panel = panels->front();
    EXPECT_EQ(panel.openings[0].centre_mm, (Vec2{200, 200}));
    const Region& net = panel.net_line.region;
    ASSERT_EQ(net.holes.size(), 2u);
    EXPECT_EQ(net.holes[0].vertices[0].tag, -2);
    EXPECT_EQ(net.holes[1].vertices[0].tag, -3);
    EXPECT_NEAR(area_mm2(net.holes[0]), -kPi * 1.25 * kIn * 1.25 * kIn, 1e-6);
    EXPECT_NEAR(area_mm2(net), 600.0 * 400 - kPi * (1.25 * kIn * 1.25 * kIn + 50 * 50), 1e-6);
}

TEST(Shape, DefaultsAreTheOnesOfTheTrade) {
    // Common practice, no source.
    const FinishSettings s;
    EXPECT_TRUE(faults_of(s).empty());
    EXPECT_EQ(s.binding_growth_mm, kIn / 16);
    EXPECT_EQ(s.binding_width_mm, kIn);
    EXPECT_EQ(s.least_bound_radius_mm, kIn);
    EXPECT_EQ(s.least_bound_hole_radius_mm, 76.2);
    EXPECT_EQ(s.turn_mm, kIn);
    EXPECT_EQ(s.post_ease_mm, kIn / 4);
    EXPECT_EQ(s.slit_short_mm, kIn / 4);
    EXPECT_EQ(s.turned_hole_face_mm, kIn);
    EXPECT_EQ(s.binding_overlap_mm, kIn);
    EXPECT_EQ(s.corner_allowance_mm, kIn / 64);
    EXPECT_EQ(s.stud_from_edge_mm, 0.75 * kIn);
    EXPECT_EQ(s.facet_mm, kIn / 32);
    EXPECT_FALSE(s.mitred_corners);
    EXPECT_EQ(s.mitre_lap_mm, kIn / 4);
    EXPECT_EQ(s.end_trim_mm, kIn / 16);
    EXPECT_EQ(s.face_thickness_mm, 0);
    EXPECT_EQ(s.backing_thickness_mm, 0);
    EXPECT_TRUE(s.backing_peels);
    EXPECT_EQ(cut_margin_mm(s), kIn / 4);
    FinishSettings thick;
    thick.backing_thickness_mm = kIn / 4;
    EXPECT_EQ(cut_margin_mm(thick), 3 * kIn / 8);
    // Seam 1/4 in from the edge: US Army FM 10-16 ch. 8.
    EXPECT_EQ(s.stitch_from_edge_mm, 0.25 * kIn);
    const Clearances c;
    EXPECT_EQ(c.wall_mm, 3 * kIn / 16);
    EXPECT_EQ(c.lid_mm, 5 * kIn / 16);
    EXPECT_EQ(c.reveal_mm, kIn / 16);
}

}  // namespace
}  // namespace spile
