// Snaps against stitch lines, bindings, relief cuts and one another, by hand-made cases with their numbers.
#include "core/edging/snap_check.h"

#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

/// A panel of 600 x 400 with studs at those places, through shape and edging.
Result<std::vector<Piece>> with_studs(Finish finish, const std::vector<Vec2>& at, double bulge = 0) {
    Survey survey = rectangle_survey(600, 400);
    PanelInput in = panel_of({"A", "B", "C", "D"}, finish);
    if (bulge != 0) survey.curves.push_back({"A", "B", {{{0, 0}, {600, 0}, bulge, 0}}});
    for (std::size_t i = 0; i < at.size(); ++i) {
        in.studs.push_back("S" + std::to_string(i));
        survey.points[in.studs.back()] = {at[i], {}};
    }
    const auto panels = shaped({in}, survey);
    return edge_pieces(*panels, FinishSettings{}, RunContext{});
}

TEST(Snaps, OnAStitchLineAreSaidWithTheDistance) {
    const FinishSettings finish;
    // The stitch line lies 6.35 in; the first stands 10, the second 30 from the edge.
    const auto pieces = with_studs(Finish::bound, {{200, 10}, {300, 30}});
    const Finding* f = find(pieces.findings, "snap-on-stitches");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_EQ(number(*f, "snaps"), 1);
    EXPECT_NEAR(number(*f, "distance"), 10 - finish.stitch_from_edge_mm, 1e-9);
    EXPECT_EQ(number(*f, "least"), snap_half_mm);
    // The binding ends 12.7 in.
    f = find(pieces.findings, "snap-on-binding-edge");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_NEAR(number(*f, "distance"), 2.7, 1e-9);
    // Nothing of it on a sealed edge.
    const auto sealed = with_studs(Finish::sealed, {{200, 10}, {300, 30}});
    EXPECT_FALSE(find(sealed.findings, "snap-on-stitches"));
    EXPECT_FALSE(find(sealed.findings, "snap-on-binding-edge"));
}

TEST(Snaps, FlapsUnderThemAreCounted) {
    // The turn takes 25.4: one in a corner, one beside one edge, one in the middle.
    const auto pieces = with_studs(Finish::turned, {{20, 20}, {300, 20}, {300, 200}});
    ASSERT_TRUE(pieces && pieces->size() == 1) << codes(pieces.findings);
    const auto& studs = pieces->front().studs;
    EXPECT_EQ(studs[0].flaps, 2);
    EXPECT_EQ(studs[1].flaps, 1);
    EXPECT_EQ(studs[2].flaps, 0);
}

TEST(Snaps, OnAFoldedReliefCutAndOnOneAnother) {
    // An inside curve: slits fold over to lie square to it; one snap is put on the first of them.
    const auto plain = with_studs(Finish::turned, {{300, 200}}, -0.1);
    ASSERT_TRUE(plain && plain->size() == 1);
    const Piece& piece = plain->front();
    const auto slit = std::find_if(piece.flap_cuts.begin(), piece.flap_cuts.end(),
                                   [](const FlapCut& c) { return c.kind == FlapCut::Kind::slit; });
    ASSERT_NE(slit, piece.flap_cuts.end());
    const Vec2 middle = 0.5 * (slit->path.vertices[0].p + slit->path.vertices[1].p);
    const Nearest fold = nearest_on(piece.net.outer, middle);
    const Vec2 on = inverse(piece.piece_from_boat)(fold.at + (fold.at - middle));
    const auto pieces = with_studs(Finish::turned, {on, on + Vec2{10, 30}, on + Vec2{10, 42}}, -0.1);
    const Finding* f = find(pieces.findings, "snap-on-relief-cut");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_LT(number(*f, "distance"), 0.5);
    f = find(pieces.findings, "snap-on-snap");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_EQ(number(*f, "snaps"), 2);
    EXPECT_NEAR(number(*f, "distance"), 12 - snap_half_mm, 1e-9);
}

/// The place a finding names, with its number.
void expect_place(const Result<std::vector<Piece>>& pieces, double distance, double move, const char* words) {
    const Finding* f = find(pieces.findings, "snap-on-flap-end");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_EQ(number(*f, "snaps"), 1);
    EXPECT_NEAR(number(*f, "distance"), distance, 1e-6);
    EXPECT_NEAR(number(*f, "move"), move, 2e-3);
    EXPECT_NE(f->to_do.find(words), std::string::npos) << f->to_do;
}

TEST(Snaps, AcrossTheEndOfAFlapBesideABoundEdge) {
    // The flap of A B ends where the binding's cut line runs, g = 1/16 in inside of D A and B C: folded, square to A B there.
    FinishSettings finish;
    const auto with = [&](double x) {
        PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound);
        in.edges[0].finish = Finish::turned;
        Survey survey = rectangle_survey(600, 400);
        in.studs = {"S"};
        survey.points["S"] = {Vec2{x, 15}, {}};
        return edge_pieces(*shaped({in}, survey, finish), finish, RunContext{});
    };
    const double g = finish.binding_growth_mm;
    expect_place(with(8), 8 - g, g + snap_half_mm - 8, "toward B");
    expect_place(with(600 - 7), 7 - g, g + snap_half_mm - 7, "toward A");
    EXPECT_FALSE(find(with(g + snap_half_mm + 0.01).findings, "snap-on-flap-end"));
    // However thick the backing, an end square to its fold lies there.
    finish.backing_thickness_mm = 4;
    expect_place(with(8), 8 - g, g + snap_half_mm - 8, "toward B");
}

TEST(Snaps, AcrossTheEndOfAFlapAtAnInsideCorner) {
    // Beside the sealed edge D E the flap of C D ends square, end_trim short of the corner; its own cut lies close by D E.
    const FinishSettings finish;
    PanelInput in = panel_of({"A", "B", "C", "D", "E", "F"}, Finish::sealed);
    in.edges[2].finish = Finish::turned;
    const Survey survey = survey_of({{"A", {0, 0}},
                                     {"B", {600, 0}},
                                     {"C", {600, 200}},
                                     {"D", {300, 200}},
                                     {"E", {300, 400}},
                                     {"F", {0, 400}},
                                     {"S", {305, 185}}});
    in.studs = {"S"};
    const double away = 5 - finish.end_trim_mm;
    expect_place(edge_pieces(*shaped({in}, survey, finish), finish, RunContext{}), away, snap_half_mm - away,
                 "toward C");
}

TEST(Snaps, AcrossTheFlapsOfACorner) {
    // Mitred, the under flap ends along the middle of the corner; the over one mitre_lap beyond it at its cut.
    FinishSettings finish;
    finish.mitred_corners = true;
    finish.mitre_lap_mm = 0.01;
    const auto with = [&](Vec2 at) {
        PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::turned);
        Survey survey = rectangle_survey(600, 400);
        in.studs = {"S"};
        survey.points["S"] = {at, {}};
        return edge_pieces(*shaped({in}, survey, finish), finish, RunContext{});
    };
    // (20, 16) stands 4 / sqrt 2 from the middle. It is clear by 8 of a line at 45 degrees, 8 sqrt 2 along it.
    const double clear = snap_half_mm * std::sqrt(2.0);
    const auto pieces = with({20, 16});
    const Finding* f = find(pieces.findings, "snap-on-flap-end");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_NEAR(number(*f, "distance"), 4 / std::sqrt(2.0), 0.01);
    EXPECT_NEAR(number(*f, "move"), 16 + clear - 20, 0.02);
    EXPECT_NE(f->to_do.find("toward B"), std::string::npos) << f->to_do;
    EXPECT_FALSE(find(with({16 + clear + 0.1, 16}).findings, "snap-on-flap-end"));
    // Lapped square, the ends lie along the edges: a snap as far from both is clear of them.
    finish.mitred_corners = false;
    EXPECT_FALSE(find(with({19, 19}).findings, "snap-on-flap-end"));
    // An inside corner of 270 degrees: its slit opens to a right angle, each end along 45 degrees to its fold.
    PanelInput in = panel_of({"A", "B", "C", "D", "E", "F"}, Finish::turned);
    Survey survey = survey_of({{"A", {0, 0}},
                               {"B", {600, 0}},
                               {"C", {600, 200}},
                               {"D", {300, 200}},
                               {"E", {300, 400}},
                               {"F", {0, 400}},
                               {"S", {312 + 4, 188}}});
    in.studs = {"S"};
    const auto ell = edge_pieces(*shaped({in}, survey, finish), finish, RunContext{});
    f = find(ell.findings, "snap-on-flap-end");
    ASSERT_TRUE(f) << codes(ell.findings);
    EXPECT_NEAR(number(*f, "distance"), 4 / std::sqrt(2.0), 1e-6);
    EXPECT_NEAR(number(*f, "move"), clear - 4, 2e-3);
    EXPECT_NE(f->to_do.find("toward C"), std::string::npos) << f->to_do;
}

TEST(Snaps, OnAReliefCutCountTheBackingIn) {
    // Folded round a backing of 4 mm a slit's end lies 4 mm nearer to the fold than it is cut.
    FinishSettings finish;
    finish.backing_thickness_mm = 4;
    Survey survey = rectangle_survey(600, 400);
    survey.curves.push_back({"A", "B", {{{0, 0}, {600, 0}, -0.1, 0}}});
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::turned);
    const auto plain = edge_pieces(*shaped({in}, survey, finish), finish, RunContext{});
    ASSERT_TRUE(plain && plain->size() == 1);
    const Piece& piece = plain->front();
    const auto slit = std::find_if(piece.flap_cuts.begin(), piece.flap_cuts.end(),
                                   [](const FlapCut& c) { return c.kind == FlapCut::Kind::slit; });
    ASSERT_NE(slit, piece.flap_cuts.end());
    // Its root is cut m outside the fold, so it lies m - T inside; a snap 6 further out than that, off the slit by its end.
    const Vec2 root = slit->path.vertices.back().p;
    const Nearest fold = nearest_on(piece.net.outer, root);
    const Vec2 in_panel = unit(fold.at - root);
    const Vec2 rim = slit->path.vertices.front().p;
    const double deep = distance(rim, fold.at) - finish.backing_thickness_mm;
    const Vec2 on = inverse(piece.piece_from_boat)(fold.at + (deep + 6) * in_panel);
    in.studs = {"S"};
    survey.points["S"] = {on, {}};
    const auto pieces = edge_pieces(*shaped({in}, survey, finish), finish, RunContext{});
    const Finding* f = find(pieces.findings, "snap-on-relief-cut");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_NEAR(number(*f, "distance"), 6, 1e-3);
}

}  // namespace
}  // namespace spile
