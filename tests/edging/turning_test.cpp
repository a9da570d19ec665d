// Turned edges by closed form: corners, order, relief cuts, thickness, and what is refused.
#include "core/edging/piece.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

Result<std::vector<Piece>> edged(const PanelInput& in, const Survey& survey,
                                 const FinishSettings& settings = {}) {
    auto panels = shaped({in}, survey, settings);
    EXPECT_TRUE(panels);
    return edge_pieces(*panels, settings, RunContext{});
}

const FlapCut* cut_at(const Piece& piece, const std::string& at) {
    for (const FlapCut& cut : piece.flap_cuts)
        if (cut.at == at) return &cut;
    return nullptr;
}

std::size_t count_of(const Piece& piece, FlapCut::Kind kind) {
    std::size_t n = 0;
    for (const FlapCut& cut : piece.flap_cuts) n += cut.kind == kind;
    return n;
}

TEST(Turning, ASquareCornerIsNotchedBetweenItsFlaps) {
    const FinishSettings s;
    const auto pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), rectangle_survey(600, 400));
    const Piece& p = pieces->front();
    ASSERT_EQ(p.flap_cuts.size(), 4u);
    EXPECT_TRUE(pieces.findings.empty()) << codes(pieces.findings);
    // A-B is longer, folded first; at B the flap of B-C lies over it and stops 1/16 in short.
    const FlapCut* cut = cut_at(p, "B");
    ASSERT_NE(cut, nullptr);
    ASSERT_EQ(cut->path.vertices.size(), 4u);
    const double t = s.turn_mm, m = kIn / 4, trim = kIn / 16;
    const Vec2 b{600 + t, t};
    const Vec2 expected[] = {b + Vec2{0, -t}, b + Vec2{0, -m}, b + Vec2{m, trim}, b + Vec2{t, trim}};
    for (std::size_t i = 0; i < 4; ++i) EXPECT_LT(distance(cut->path.vertices[i].p, expected[i]), 1e-9) << i;
    const int rounds[] = {1, 2, 1, 2};
    for (std::size_t i = 0; i < 4; ++i) {
        EXPECT_EQ(p.edges[i].turn_round, rounds[i]);
        EXPECT_EQ(p.edges[i].turn_mm, t);
        EXPECT_EQ(p.edges[i].relief_cuts, 0);
    }
    EXPECT_EQ(p.cut_margin_mm, m);
    EXPECT_EQ(p.tape_from_edge_mm, (kIn / 4 + kIn) / 2);
}

TEST(Turning, AMitreEndsAtHalfTheCornerAndLaps) {
    FinishSettings s;
    s.mitred_corners = true;
    const auto pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), rectangle_survey(600, 400), s);
    const FlapCut* cut = cut_at(pieces->front(), "B");
    ASSERT_NE(cut, nullptr);
    const double t = s.turn_mm;
    const Vec2 b{600 + t, t};
    // Under at 45 degrees; over, it reaches 1/4 in further along its cut.
    EXPECT_LT(distance(cut->path.vertices.front().p, b + Vec2{-t, -t}), 1e-9);
    EXPECT_LT(distance(cut->path.vertices.back().p, b + Vec2{t, t - kIn / 4}), 1e-9);
}

TEST(Turning, SidesOfAnOddNumberAreFoldedInThreeRounds) {
    const Survey survey =
        survey_of({{"A", {0, 0}}, {"B", {700, 0}}, {"C", {900, 500}}, {"D", {350, 800}}, {"E", {-200, 500}}});
    const auto pieces = edged(panel_of({"A", "B", "C", "D", "E"}, Finish::turned), survey);
    const int rounds[] = {1, 2, 1, 2, 3};
    for (std::size_t i = 0; i < 5; ++i) EXPECT_EQ(pieces->front().edges[i].turn_round, rounds[i]) << i;
}

TEST(Turning, ReliefCutsKeepThePitchOfTheFacet) {
    const FinishSettings s;
    for (const double bulge : {0.2, -0.2}) {
        Survey survey = rectangle_survey(900, 900);
        survey.curves.push_back({"A", "B", {{{0, 0}, {900, 0}, bulge, 0}}});
        const auto pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), survey);
        const Piece& p = pieces->front();
        // From chord and rise: r = c^2 / 8h + h / 2, rise = bulge c / 2 = 90; sweep 4 atan(bulge).
        const double radius = 900.0 * 900 / (8 * 90) + 45, length = radius * 4 * std::atan(0.2);
        const int count = static_cast<int>(std::ceil(length / std::sqrt(8 * radius * s.facet_mm)));
        EXPECT_EQ(p.edges[0].relief_cuts, count);
        EXPECT_NEAR(p.edges[0].relief_pitch_mm, length / count, 1e-9);
        EXPECT_EQ(count_of(p, bulge > 0 ? FlapCut::Kind::notch : FlapCut::Kind::slit),
                  static_cast<std::size_t>(count));
        if (bulge < 0) continue;
        // A notch takes out 2 m per radian at its root.
        const FlapCut* cut = cut_at(p, "A B");
        ASSERT_NE(cut, nullptr);
        const double root = distance(cut->path.vertices[1].p, cut->path.vertices[2].p);
        EXPECT_NEAR(root, 2 * (kIn / 4) * length / count / radius, 1e-9);
    }
}

TEST(Turning, ARadiusNoLargerThanTheTurnNarrowsTheFlap) {
    const auto pieces =
        edged(panel_of({"A", "B", "C", "D"}, Finish::turned, 0, 20), rectangle_survey(600, 400));
    const Finding* f = find(pieces.findings, "turn-narrowed");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(f->severity, Severity::note);
    EXPECT_NEAR(number(*f, "radius"), 20, 1e-9);
    EXPECT_NEAR(number(*f, "turn"), 12.7, 1e-9);  // what the stitch needs, more than half the radius
    const auto tight =
        edged(panel_of({"A", "B", "C", "D"}, Finish::turned, 0, 8), rectangle_survey(600, 400));
    ASSERT_NE(find(tight.findings, "turn-narrowed"), nullptr);
    EXPECT_EQ(find(tight.findings, "turn-narrowed")->severity, Severity::look);
    const auto wide =
        edged(panel_of({"A", "B", "C", "D"}, Finish::turned, 0, 60), rectangle_survey(600, 400));
    EXPECT_TRUE(wide.findings.empty()) << codes(wide.findings);
}

TEST(Turning, TheFaceTakesItsThicknessOffTheBacking) {
    FinishSettings s;
    s.face_thickness_mm = 1.5;
    s.backing_thickness_mm = 6;
    const auto pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), rectangle_survey(600, 400), s);
    const Piece& p = pieces->front();
    EXPECT_NEAR(box_of(p.cut.backing).width(), 597, 1e-9);
    EXPECT_NEAR(box_of(p.cut.face).width(), 600 + 2 * s.turn_mm, 1e-9);
    EXPECT_NEAR(p.cut_margin_mm, 6 + kIn / 8, 1e-9);
    EXPECT_NEAR(p.tape_from_edge_mm, (kIn / 4 + kIn - 6) / 2, 1e-9);
}

TEST(Turning, GoodsWhoseBackingDoesNotPeelAreNotTurned) {
    FinishSettings s;
    s.backing_peels = false;
    auto pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), rectangle_survey(600, 400), s);
    EXPECT_TRUE(pieces->empty());
    ASSERT_NE(find(pieces.findings, "backing-does-not-peel"), nullptr);
    EXPECT_EQ(find(pieces.findings, "backing-does-not-peel")->severity, Severity::stop);
    pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 40), rectangle_survey(600, 400), s);
    EXPECT_EQ(pieces->size(), 1u);
    EXPECT_TRUE(pieces.findings.empty()) << codes(pieces.findings);
}

TEST(Turning, AnInsideCornerIsSlitAndNamed) {
    const Survey survey = survey_of({{"A", {0, 0}},
                                     {"B", {800, 0}},
                                     {"C", {800, 300}},
                                     {"D", {400, 300}},
                                     {"E", {400, 700}},
                                     {"F", {0, 700}}});
    const auto pieces = edged(panel_of({"A", "B", "C", "D", "E", "F"}, Finish::turned), survey);
    const FlapCut* cut = cut_at(pieces->front(), "D");
    ASSERT_NE(cut, nullptr);
    EXPECT_EQ(cut->kind, FlapCut::Kind::corner_slit);
    const double t = kIn, m = kIn / 4;
    const Vec2 d{400 + t, 300 + t};
    EXPECT_LT(distance(cut->path.vertices[0].p, d + Vec2{t, t}), 1e-9);
    EXPECT_LT(distance(cut->path.vertices[1].p, d + Vec2{m, m}), 1e-9);
    const Finding* f = find(pieces.findings, "inside-corner-bare");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(f->subject, (Subject{"corner", "1/D"}));
    EXPECT_NEAR(number(*f, "bare"), kIn / 2, 1e-9);
}

TEST(Turning, AFlapThatSticksOutSaysHowWideItMayBe) {
    // A strip 40 mm wide: flaps of 25.4 fit, but meet; of 50 they stick out by 10.
    const Survey survey = rectangle_survey(600, 40);
    auto pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), survey);
    EXPECT_NE(find(pieces.findings, "flaps-meet"), nullptr) << codes(pieces.findings);
    EXPECT_EQ(find(pieces.findings, "turn-sticks-out"), nullptr);
    FinishSettings s;
    s.turn_mm = 50;
    pieces = edged(panel_of({"A", "B", "C", "D"}, Finish::turned), survey, s);
    const Finding* f = find(pieces.findings, "turn-sticks-out");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(f->severity, Severity::stop);
    EXPECT_NEAR(number(*f, "widest workable"), 40, 0.2);
}

TEST(Turning, AFlapBesideABoundEdgeEndsAtItsCut) {
    // Bound and turned edges at a corner of 135 degrees at B, turned from A.
    const FinishSettings s;
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound);
    in.edges[0].finish = Finish::turned;
    const Survey survey = survey_of({{"A", {0, 0}}, {"B", {500, 0}}, {"C", {800, 300}}, {"D", {0, 600}}});
    const auto pieces = edged(in, survey);
    const Piece& p = pieces->front();
    // The cut of B-C meets the net line g sqrt 2 short of B; the flap ends square to its fold there.
    const double x = 500 - s.binding_growth_mm * std::sqrt(2.0);
    const Vec2 foot = p.piece_from_boat(Vec2{x, 0}), rim = p.piece_from_boat(Vec2{x, -s.turn_mm});
    double to_foot = 1e9, to_rim = 1e9;
    for (const Vertex& v : p.cut.face.outer.vertices) {
        to_foot = std::min(to_foot, distance(v.p, foot));
        to_rim = std::min(to_rim, distance(v.p, rim));
    }
    EXPECT_LT(to_foot, 1e-6);
    EXPECT_LT(to_rim, 1e-6);
    // At A, square to the bound edge D-A, the line runs on.
    EXPECT_NEAR(p.edges[0].cut_length_mm, x - s.binding_growth_mm, 1e-6);
    EXPECT_NEAR(p.edges[3].net_length_mm, 600, 1e-9);
}

}  // namespace
}  // namespace spile
