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

}  // namespace
}  // namespace spile
