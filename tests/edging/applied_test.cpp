// Applied pieces: where they lie, what is cut for them, by closed forms; every finding with its numbers; the raster as second
// opinion of a strip along a curve.
#include "core/shape/applied.h"

#include "core/edging/piece.h"
#include "core/geom/transform.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

struct Made {
    std::vector<Panel> panels;
    std::vector<Piece> pieces;
    std::vector<AppliedPiece> applied;
    std::vector<Finding> findings;

    const Finding* find(const std::string& code) const {
        for (const Finding& f : findings)
            if (f.code == code) return &f;
        return nullptr;
    }
};

Made made(std::vector<PanelInput> in, const Survey& survey = {}, const FinishSettings& settings = {}) {
    Made m;
    auto panels = shaped(in, survey, settings);
    auto pieces = edge_pieces(*panels, settings, RunContext{});
    auto applied = edge_applied(*panels, *pieces, settings, RunContext{});
    append(m.findings, panels.findings);
    append(m.findings, pieces.findings);
    append(m.findings, applied.findings);
    m.panels = *panels;
    m.pieces = *pieces;
    m.applied = *applied;
    return m;
}

/// A mat 36 along by 24 across.
PanelInput mat(Finish finish, std::vector<AppliedPlan> applied) {
    PanelInput in;
    in.id = "mat";
    in.size_x_mm = 36 * kIn;
    in.size_y_mm = 24 * kIn;
    in.mat_finish = finish;
    in.applied = std::move(applied);
    return in;
}

AppliedPlan pad(double x, double y, double length, double width) {
    AppliedPlan a;
    a.id = "pad";
    a.centre_mm = {x * kIn, y * kIn};
    a.length_mm = length * kIn;
    a.width_mm = width * kIn;
    return a;
}

AppliedPlan strip(const std::string& from, const std::string& to, double width) {
    AppliedPlan a;
    a.id = "strip";
    a.kind = AppliedPlan::Kind::facing_strip;
    a.from = from;
    a.to = to;
    a.width_mm = width * kIn;
    return a;
}

TEST(Applied, ARawPadIsCutToItsSizeAndASewnLineRunsInside) {
    AppliedPlan a = pad(18, 12, 18, 12);
    a.radius_mm = kIn;
    const Made m = made({mat(Finish::turned, {a})});
    EXPECT_TRUE(m.findings.empty()) << codes(m.findings);
    ASSERT_EQ(m.applied.size(), 1u);
    const AppliedPiece& p = m.applied[0];
    EXPECT_EQ(called(p.piece), "1a");
    EXPECT_EQ(p.piece.id, "mat/pad");
    const double area = (18 * 12 - (4 - kPi)) * kIn * kIn;
    EXPECT_NEAR(area_mm2(p.piece.cut.face), area, 1e-6);
    EXPECT_NEAR(area_mm2(p.set), area, 1e-6);
    // The panel's cut begins an inch outside its net line: the turn.
    EXPECT_NEAR(box_of(p.set).min.x, (18 - 9 + 1) * kIn, 1e-9);
    EXPECT_NEAR(box_of(p.set).min.y, (12 - 6 + 1) * kIn, 1e-9);
    ASSERT_TRUE(p.sewn_on);
    EXPECT_NEAR(p.sewn_on->length_mm, (2 * (16 + 10) + 2 * kPi * 0.75) * kIn, 1e-6);
}

TEST(Applied, OneCalledAsWhatItIsIsNotNamedTwice) {
    AppliedPlan a = pad(8, 12, 6, 6), b = pad(18, 12, 6, 6), c = pad(28, 12, 6, 6);
    a.id = "heel pad";
    b.id = "heel pad 2";
    c.id = "helm";
    const Made m = made({mat(Finish::turned, {a, b, c})});
    ASSERT_EQ(m.applied.size(), 3u);
    EXPECT_EQ(m.applied[0].piece.name, "heel pad");
    EXPECT_EQ(m.applied[1].piece.name, "heel pad 2");
    EXPECT_EQ(m.applied[2].piece.name, "heel pad helm");
}

TEST(Applied, BoundAndTurnedPiecesAreCutByTheRulesOfPanels) {
    AppliedPlan a = pad(18, 12, 18, 12);
    a.radius_mm = kIn;
    a.finish = Finish::bound;
    FinishSettings settings;
    Made m = made({mat(Finish::turned, {a})}, {}, settings);
    const double g = 2 * settings.binding_growth_mm;
    EXPECT_NEAR(box_of(m.applied[0].piece.cut.face.outer).width(), 18 * kIn - g, 1e-9);
    EXPECT_NEAR(m.applied[0].piece.binding_mm, (2 * (16 + 10) + 2 * kPi + 1) * kIn, 1e-6);
    a.radius_mm = 0;
    a.finish = Finish::turned;
    a.turn_mm = kIn / 2;
    m = made({mat(Finish::turned, {a})});
    EXPECT_NEAR(box_of(m.applied[0].piece.cut.face.outer).width(), 19 * kIn, 1e-9);
    EXPECT_NEAR(box_of(m.applied[0].piece.cut.backing.outer).width(), 18 * kIn, 1e-9);
    EXPECT_EQ(m.applied[0].piece.flap_cuts.size(), 4u);  // its corners
    EXPECT_TRUE(m.applied[0].piece.seams.empty());       // held by the seam that sews it on
    ASSERT_TRUE(m.applied[0].sewn_on);
}

TEST(Applied, AStripRunsAsFarAsItIsClearOfTheBindings) {
    const Made m = made({mat(Finish::bound, {strip("A", "B", 2)})});
    EXPECT_EQ(m.find("applied-under-binding"), nullptr);
    const AppliedPlan& a = m.panels[0].applied.at(0);
    // Half a binding 1 in wide is kept at the edge and at both ends.
    EXPECT_NEAR(a.from_edge_mm.value(), kIn / 2, 1e-12);
    EXPECT_NEAR(a.start_mm.value(), kIn / 2, 1e-6);
    EXPECT_NEAR(a.length_mm, 35 * kIn, 1e-6);
    EXPECT_NEAR(area_mm2(a.set), 35 * 2 * kIn * kIn, 1e-4);
}

/// A corner rounded to r = 3 in carries the binding too. The near corner of a strip 1/2 in inside the edge must stay r - 1/2 in from the
/// middle of the rounding, so it ends sqrt((r - 1/2)^2 - (r - 1/2)^2) = 0 short of where the rounding begins: at 3 in. At 3/4 in it
/// ends sqrt(2.5^2 - 2.25^2) in past that.
TEST(Applied, AStripIsClearOfTheBindingOfRoundedCorners) {
    for (const double near : {0.5, 0.75}) {
        PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 3 * kIn);
        AppliedPlan a = strip("A", "B", 2);
        a.from_edge_mm = near * kIn;
        in.applied = {a};
        Made m = made({in}, rectangle_survey(36 * kIn, 24 * kIn));
        EXPECT_EQ(m.find("applied-under-binding"), nullptr) << codes(m.findings);
        const double start = 3 - std::sqrt(2.5 * 2.5 - (3 - near) * (3 - near));
        // At 1/2 in it comes to the binding along its tangent: noise across is more along.
        EXPECT_NEAR(m.panels.at(0).applied.at(0).start_mm.value(), start * kIn, 1e-3);

        in.applied[0].start_mm = 1.5 * kIn;
        in.applied[0].length_mm = 20 * kIn;
        m = made({in}, rectangle_survey(36 * kIn, 24 * kIn));
        const Finding* f = m.find("applied-under-binding");
        ASSERT_NE(f, nullptr) << codes(m.findings);
        EXPECT_NEAR(number(*f, "gap"), (3 - std::hypot(1.5, 3 - near)) * kIn, 1e-6);
    }
}

TEST(Applied, AStripIsReadFromTheCornerNamedFirst) {
    AppliedPlan a = strip("B", "A", 2);
    a.start_mm = 3 * kIn;
    a.length_mm = 10 * kIn;
    a.from_edge_mm = kIn;
    const Made m = made({mat(Finish::turned, {a})});
    EXPECT_TRUE(m.findings.empty()) << codes(m.findings);
    const Box box = box_of(m.panels[0].applied.at(0).set);
    EXPECT_NEAR(box.min.x, 23 * kIn, 1e-9);
    EXPECT_NEAR(box.max.x, 33 * kIn, 1e-9);
    EXPECT_NEAR(box.min.y, kIn, 1e-9);
    EXPECT_NEAR(box.max.y, 3 * kIn, 1e-9);
}

/// A 40 x 20 in floor whose edge A-B is an arc that stands 4 in out.
std::pair<PanelInput, Survey> curved() {
    Survey survey = rectangle_survey(40 * kIn, 20 * kIn);
    const Vec2 a = survey.points.at("A").boat_mm, b = survey.points.at("B").boat_mm;
    survey.curves.push_back({"A", "B", {Edge{a, b, bulge_from_rise(distance(a, b), 4 * kIn), 0}}});
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::turned);
    return {in, survey};
}

TEST(Applied, ASideOfAStripAlongAnArcIsAnArcAboutTheSameCentre) {
    auto [in, survey] = curved();
    AppliedPlan a = strip("A", "B", 3);
    a.from_edge_mm = kIn;
    a.start_mm = 5 * kIn;
    a.length_mm = 20 * kIn;
    in.applied = {a};
    const Made m = made({in}, survey);
    ASSERT_EQ(m.applied.size(), 1u) << codes(m.findings);
    const double chord = 40 * kIn, rise = 4 * kIn, r = chord * chord / (8 * rise) + rise / 2;
    const double angle = 20 * kIn / r;
    // The ground between two arcs about one centre.
    const double r1 = r - kIn, r2 = r - 4 * kIn;
    EXPECT_NEAR(area_mm2(m.applied[0].piece.cut.face), angle / 2 * (r1 * r1 - r2 * r2), 1e-6);
    const Outline& net = m.panels[0].net_line.region.outer;
    const Outline& set = m.panels[0].applied[0].set;
    for (std::size_t k = 0; k < set.size(); ++k) {
        const int tag = set.vertices[k].tag;
        if (tag != 0 && tag != 2) continue;
        for (const double t : {0.0, 0.3, 0.7, 1.0})
            EXPECT_NEAR(nearest_on(net, point_at(set.edge(k), t)).distance, tag == 0 ? kIn : 4 * kIn, 1e-9);
    }
}

TEST(Applied, OnARasterTheStripIsWhatLiesBetweenItsDistances) {
    // Second opinion: every place of a fine raster, judged by its distance from the net line and along it alone.
    auto [in, survey] = curved();
    AppliedPlan a = strip("A", "B", 3);
    a.from_edge_mm = kIn;
    a.start_mm = 5 * kIn;
    a.length_mm = 20 * kIn;
    in.applied = {a};
    const Made m = made({in}, survey);
    const Panel& panel = m.panels[0];
    const Outline& set = panel.applied[0].set;
    const Edge arc = panel.net_line.unrounded.edge(0);
    ASSERT_FALSE(arc.straight());
    int inside = 0;
    for (double x = -100; x < 1200; x += 5)
        for (double y = -200; y < 600; y += 5) {
            const Vec2 p{x, y};
            const Nearest foot = nearest_on(arc, p);
            const Arc circle = arc_of(arc);
            const double swept =
                std::fabs(std::remainder(
                    std::atan2(foot.at.y - circle.centre.y, foot.at.x - circle.centre.x) - circle.start_rad,
                    2 * kPi)) *
                circle.radius;
            const double in_mm = side_of(panel.net_line.region.outer, p) == Side::inside ? foot.distance : -1;
            const bool wanted = in_mm > kIn && in_mm < 4 * kIn && swept > 5 * kIn && swept < 25 * kIn;
            const bool near = std::fabs(in_mm - kIn) < 1e-6 || std::fabs(in_mm - 4 * kIn) < 1e-6 ||
                              std::fabs(swept - 5 * kIn) < 1e-6 || std::fabs(swept - 25 * kIn) < 1e-6;
            if (near) continue;
            EXPECT_EQ(side_of(set, p) == Side::inside, wanted) << x << " " << y;
            inside += wanted ? 1 : 0;
        }
    EXPECT_GT(inside, 1000);
}

TEST(Applied, OnTheBackItIsCutMirroredAndMirroredTwiceIsTheSame) {
    AppliedPlan a = pad(18, 12, 18, 6);
    a.turn_deg = 30;
    const Made face = made({mat(Finish::turned, {a})});
    a.on_back = true;
    const Made back = made({mat(Finish::turned, {a})});
    const Outline &f = face.applied[0].piece.cut.face.outer, &b = back.applied[0].piece.cut.face.outer;
    // Face and back lie on one another when one is rolled over.
    const BackFromFace over{box_of(f).height() / 2};
    const Outline rolled = over(b);
    for (std::size_t k = 0; k < rolled.size(); ++k)
        EXPECT_NEAR(nearest_on(f, rolled.vertices[k].p).distance, 0, 1e-9);
    EXPECT_GT(nearest_on(f, b.vertices[0].p).distance, 1);
    EXPECT_EQ(BackFromFace{0}(BackFromFace{0}(f)), f);
    EXPECT_EQ(face.applied[0].set, back.applied[0].set);
}

TEST(Applied, ATwinCarriesThemMirrored) {
    auto [in, survey] = curved();
    AppliedPlan a = pad(0, 0, 6, 3);
    a.centre_mm = {10 * kIn, 10 * kIn};
    a.turn_deg = 20;
    in.applied = {a};
    PanelInput twin;
    twin.id = "2";
    twin.twin_of = "1";
    const Made m = made({in, twin}, survey);
    ASSERT_EQ(m.panels.size(), 2u) << codes(m.findings);
    ASSERT_EQ(m.applied.size(), 2u);
    EXPECT_EQ(called(m.applied[1].piece), "2a");
    EXPECT_EQ(BackFromFace{0}(m.panels[1].applied[0].set), m.panels[0].applied[0].set);
}

TEST(Applied, PastTheFinishedEdgeItStopsWithWhatWouldDo) {
    const Made m = made({mat(Finish::turned, {pad(5, 12, 12, 6)})});
    const Finding* f = m.find("applied-outside");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_EQ(f->severity, Severity::stop);
    EXPECT_EQ(f->subject.id, "mat/pad");
    EXPECT_NEAR(number(*f, "outside"), kIn, 0.05);
    EXPECT_NEAR(number(*f, "workable"), 10 * kIn, 12 * kIn / 4096 + 1e-9);
}

TEST(Applied, AStripLongerThanItsEdgeIsRefusedWithTheRoomThereIs) {
    AppliedPlan a = strip("A", "B", 2);
    a.start_mm = 30 * kIn;
    a.length_mm = 10 * kIn;
    const Made m = made({mat(Finish::turned, {a})});
    const Finding* f = m.find("applied-too-long");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*f, "to"), 40 * kIn, 1e-9);
    EXPECT_NEAR(number(*f, "limit"), 36 * kIn, 1e-9);
    EXPECT_TRUE(m.applied.empty());
}

TEST(Applied, ACurveTighterThanTheStripIsRefused) {
    auto [in, survey] = curved();
    in.applied = {strip("A", "B", 60)};
    const Made m = made({in}, survey);
    ASSERT_NE(m.find("applied-curve-too-tight"), nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*m.find("applied-curve-too-tight"), "limit"), 52 * kIn, 1e-6);  // 1600 / 32 + 2
}

TEST(Applied, OverAnOpeningASnapOrAnotherItStops) {
    PanelInput in = mat(Finish::turned, {pad(18, 12, 12, 6)});
    OpeningPlan post;
    post.id = "post";
    post.diameter_mm = 2 * kIn;
    post.ease_mm = kIn / 4;
    post.centre_mm = {18 * kIn, 16 * kIn};
    in.openings = {post};
    AppliedPlan other = pad(23, 12, 6, 4);
    other.id = "other";
    in.applied.push_back(other);
    const Made m = made({in});
    const Finding* f = m.find("applied-over-opening");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*f, "over"), 0.25 * kIn, 0.06);  // the rim reaches down to 14.75, the pad up to 15
    EXPECT_NEAR(number(*f, "workable"), 2.75 / 3 * 12 * kIn, 0.1);
    f = m.find("applied-over-applied");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(f->subject.id, "mat/other");
    // Not where they lie on different sides.
    in.applied[1].on_back = true;
    EXPECT_EQ(made({in}).find("applied-over-applied"), nullptr);
    // The very same place is shared as well.
    in.applied[1] = in.applied[0];
    in.applied[1].id = "same";
    EXPECT_NE(made({in}).find("applied-over-applied"), nullptr);
}

TEST(Applied, ASnapNeedsItsRoom) {
    PanelInput in = mat(Finish::turned, {});
    in.stud_rule = StudRule{0, kIn};
    AppliedPlan a = strip("A", "B", 2);
    a.from_edge_mm = 1.25 * kIn;
    in.applied = {a};
    const Made m = made({in});
    const Finding* f = m.find("applied-over-snap");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*f, "gap"), kIn / 4, 1e-9);
    EXPECT_NEAR(number(*f, "limit"), kIn / 2, 1e-9);
}

TEST(Applied, UnderABindingOverAFlapAndAtAnEdgeThatIsWalkedOverItIsALook) {
    AppliedPlan a = strip("A", "B", 2);
    a.from_edge_mm = kIn / 4;
    Made m = made({mat(Finish::bound, {a})});
    const Finding* f = m.find("applied-under-binding");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_NEAR(number(*f, "gap"), kIn / 4, 1e-9);
    EXPECT_NEAR(number(*f, "limit"), kIn / 2, 1e-9);

    a.on_back = true;
    m = made({mat(Finish::turned, {a})});
    f = m.find("applied-over-flap");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*f, "limit"), kIn, 1e-9);

    auto [in, survey] = curved();
    in.edges[0].situation = Situation::walked_over;
    a.on_back = false;
    in.applied = {a};
    ASSERT_NE(made({in}, survey).find("applied-may-trip"), nullptr);
}

TEST(Applied, TooNarrowToSewTooSharpToBindTooWideForItsGoods) {
    AppliedPlan a = strip("A", "B", 0.4);
    Made m = made({mat(Finish::turned, {a})});
    const Finding* f = m.find("applied-no-room-to-stitch");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*f, "least width"), kIn / 2, 1e-9);
    a.stuck = true;
    EXPECT_EQ(made({mat(Finish::turned, {a})}).find("applied-no-room-to-stitch"), nullptr);

    a = pad(18, 12, 8, 6);
    a.finish = Finish::bound;
    m = made({mat(Finish::turned, {a})});
    ASSERT_NE(m.find("applied-corner-too-tight"), nullptr) << codes(m.findings);

    a = pad(18, 12, 18, 12);
    a.goods = "tape";
    a.goods_width_mm = 4 * kIn;
    a.any_way = true;
    m = made({mat(Finish::turned, {a})});
    f = m.find("applied-wider-than-goods");
    ASSERT_NE(f, nullptr) << codes(m.findings);
    EXPECT_NEAR(number(*f, "across"), 12 * kIn, 1e-9);
}

TEST(Applied, GoodsWithoutDirectionLieTheWayTheyFit) {
    AppliedPlan a = pad(18, 12, 6, 10);
    a.turn_deg = 33;
    a.goods = "mesh";
    a.goods_width_mm = 8 * kIn;
    a.any_way = true;
    Made m = made({mat(Finish::turned, {a})});
    EXPECT_TRUE(m.findings.empty()) << codes(m.findings);
    EXPECT_NEAR(box_of(m.applied[0].piece.cut.face.outer).width(), 10 * kIn, 1e-9);
    EXPECT_NEAR(box_of(m.applied[0].piece.cut.face.outer).height(), 6 * kIn, 1e-9);
    a.any_way = false;
    m = made({mat(Finish::turned, {a})});
    ASSERT_NE(m.find("applied-wider-than-goods"), nullptr);
}

TEST(Applied, ARoundPadOfAnyFinish) {
    for (const Finish finish : {Finish::sealed, Finish::bound, Finish::turned}) {
        AppliedPlan a;
        a.id = "round";
        a.centre_mm = {18 * kIn, 12 * kIn};
        a.diameter_mm = 8 * kIn;
        a.finish = finish;
        const Made m = made({mat(Finish::turned, {a})});
        EXPECT_FALSE(has_stop(m.findings)) << codes(m.findings);
        ASSERT_EQ(m.applied.size(), 1u);
        const double out = finish == Finish::bound ? -kIn / 16 : finish == Finish::turned ? a.turn_mm : 0;
        const double r = 4 * kIn + out;
        EXPECT_NEAR(area_mm2(m.applied[0].piece.cut.face), kPi * r * r, 1e-6);
    }
}

}  // namespace
}  // namespace spile
