#include "core/layout/check/check.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

std::vector<Finding> checked(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                             const std::vector<Placement>& placements) {
    Layout layout;
    layout.placements = placements;
    measure_layout(pieces, goods, layout);
    return check_layout(pieces, goods, layout);
}

std::vector<std::string> codes(const std::vector<Finding>& findings) {
    std::vector<std::string> out;
    for (const Finding& f : findings) {
        EXPECT_EQ(f.severity, Severity::stop);
        EXPECT_FALSE(f.says.empty() || f.to_do.empty());
        out.push_back(f.code);
    }
    return out;
}

const std::vector<LayoutPiece> kMats{mat("1", 900, 600), mat("2", 900, 600)};

TEST(Check, SideBySideWithTheGapIsLegal) {
    // 6.35 mm to the cut end and selvedge, 600 wide, 6.35 between.
    EXPECT_THAT(checked(kMats, goods_of(1300, 6.35), {{"1", 6350, 6350}, {"2", 6350, 612700}}), IsEmpty());
}

TEST(Check, APlantedHundredthIsRefused) {
    const auto found = checked(kMats, goods_of(1300, 6.35), {{"1", 6350, 6350}, {"2", 6350, 612690}});
    EXPECT_THAT(codes(found), ElementsAre("layout-gap"));
    EXPECT_EQ(found[0].subject, (Subject{"piece", "1 2"}));
    EXPECT_NEAR(found[0].numbers[0].value, 6.34, 1e-9);
    EXPECT_THAT(found[0].says, HasSubstr("0.010 mm is missing"));
}

// The named tolerance: what whole micrometres may take.
TEST(Check, PlacementRoundingIsLetPassAndNoMore) {
    const auto with = [&](std::int64_t y) {
        return checked(kMats, goods_of(1300, 0), {{"1", 0, 0}, {"2", 0, y}});
    };
    EXPECT_EQ(kPlacementRounding_mm, 0.002);
    EXPECT_THAT(with(600000), IsEmpty());
    EXPECT_THAT(with(599998), IsEmpty());
    EXPECT_THAT(codes(with(599997)), ElementsAre("layout-overlap"));
    const auto found = with(599990);
    EXPECT_THAT(codes(found), ElementsAre("layout-overlap"));
    EXPECT_NEAR(found[0].numbers[0].value, 0.01, 1e-9);
}

TEST(Check, EdgeGapIsASettingThatDefaultsToTheGap) {
    Goods goods = goods_of(1300, 6.35);
    const std::vector<Placement> at_the_edge{{"1", 0, 0}, {"2", 0, 606350}};
    EXPECT_THAT(codes(checked(kMats, goods, at_the_edge)),
                ElementsAre("layout-width", "layout-cut-end", "layout-cut-end"));
    goods.edge_gap_mm = 0;
    EXPECT_THAT(checked(kMats, goods, at_the_edge), IsEmpty());
    EXPECT_DOUBLE_EQ(used_length_mm(kMats, goods, at_the_edge), 900);
    goods.edge_gap_mm = 10;
    EXPECT_DOUBLE_EQ(used_length_mm(kMats, goods, at_the_edge), 910);
}

TEST(Check, OutsideTheWidthNamesTheSideAndTheAmount) {
    const auto found = checked({mat("1", 900, 600)}, goods_of(1000, 5), {{"1", 5000, 395010}});
    EXPECT_THAT(codes(found), ElementsAre("layout-width"));
    EXPECT_NEAR(found[0].numbers[0].value, 0.01, 1e-9);
    EXPECT_THAT(found[0].says, HasSubstr("too far to the far selvedge"));
    EXPECT_THAT(checked({mat("1", 900, 600)}, goods_of(1000, 5), {{"1", 5000, 395000}}), IsEmpty());
}

TEST(Check, BeyondTheLengthThereIs) {
    Goods goods = goods_of(1000, 5);
    goods.length_mm = 910;
    EXPECT_THAT(checked({mat("1", 900, 600)}, goods, {{"1", 5000, 5000}}), IsEmpty());
    EXPECT_THAT(codes(checked({mat("1", 900, 600)}, goods, {{"1", 5010, 5000}})),
                ElementsAre("layout-length"));
}

TEST(Check, PieceMissingTwiceOrUnknown) {
    const Goods goods = goods_of(1300, 0);
    EXPECT_THAT(codes(checked(kMats, goods, {{"1", 0, 0}})), ElementsAre("layout-piece-missing"));
    EXPECT_THAT(codes(checked(kMats, goods, {{"1", 0, 0}, {"2", 1000000, 0}, {"2", 2000000, 0}})),
                ElementsAre("layout-piece-twice"));
    EXPECT_THAT(codes(checked(kMats, goods, {{"1", 0, 0}, {"2", 1000000, 0}, {"9", 2000000, 0}})),
                ElementsAre("layout-piece-unknown"));
    EXPECT_THAT(codes(checked({kMats[0], kMats[0]}, goods, {{"1", 0, 0}})),
                ElementsAre("layout-piece-twice"));
}

TEST(Check, OnePieceInsideAnother) {
    const std::vector<LayoutPiece> pieces{mat("1", 900, 600), mat("2", 100, 100)};
    const auto found = checked(pieces, goods_of(1300, 6), {{"1", 6000, 6000}, {"2", 406000, 256000}});
    EXPECT_THAT(codes(found), ElementsAre("layout-overlap"));
    EXPECT_NEAR(found[0].numbers[0].value, 250, 1e-6);  // its corners lie 250 below the upper edge
}

TEST(Check, TwoCopiesInOnePlace) {
    EXPECT_THAT(codes(checked(kMats, goods_of(1300, 0), {{"1", 0, 0}, {"2", 0, 0}})),
                ElementsAre("layout-overlap"));
    EXPECT_THAT(codes(checked(kMats, goods_of(1300, 6), {{"1", 6000, 6000}, {"2", 6000, 6000}})),
                ElementsAre("layout-overlap"));
    lay::Random random(3);
    const LayoutPiece round = panel("1", 900, 700, random);
    EXPECT_THAT(codes(checked({round, {"2", round.outline}}, goods_of(1300, 0), {{"1", 0, 0}, {"2", 0, 0}})),
                ElementsAre("layout-overlap"));
}

TEST(Check, AHoleMayHoldAPieceWithItsGap) {
    LayoutPiece ring = mat("1", 900, 900);
    ring.outline.holes.push_back(reversed(circle({450, 450}, 200)));
    const LayoutPiece coaster{"2", {circle({0, 0}, 100), {}}};
    const auto with_centre_at = [&](std::int64_t x_um) {
        return checked({ring, coaster}, goods_of(1000, 5), {{"1", 5000, 5000}, {"2", x_um, 455000}});
    };
    EXPECT_THAT(with_centre_at(455000), IsEmpty());
    EXPECT_THAT(with_centre_at(455000 + 95000), IsEmpty());  // 200 - 100 - 5 off the centre
    EXPECT_THAT(codes(with_centre_at(455000 + 95010)), ElementsAre("layout-gap"));
    EXPECT_THAT(codes(with_centre_at(455000 + 100010)), ElementsAre("layout-overlap"));
    // The same seen from the other side of the pair.
    EXPECT_THAT(checked({{"1", coaster.outline}, {"2", ring.outline}}, goods_of(1000, 5),
                        {{"1", 455000, 455000}, {"2", 5000, 5000}}),
                IsEmpty());
}

TEST(Check, ArcsAreTakenAsTheyAre) {
    const std::vector<LayoutPiece> discs{{"1", {circle({0, 0}, 300), {}}}, {"2", {circle({0, 0}, 300), {}}}};
    // Centres 400 and 450 apart along and across: 602.08 between them, 2.08 between the rims.
    const double rims = std::sqrt(400.0 * 400.0 + 450.0 * 450.0) - 600;
    const std::vector<Placement> placements{{"1", 310000, 310000}, {"2", 710000, 760000}};
    EXPECT_THAT(checked(discs, goods_of(2000, rims + 0.001), placements), IsEmpty());
    EXPECT_THAT(codes(checked(discs, goods_of(2000, rims + 0.003), placements)), ElementsAre("layout-gap"));
}

TEST(Check, TouchingAlongArcsWithoutGap) {
    // A quarter round fits a quarter hollow of the same radius.
    LayoutPiece hollow{"1", {polygon({{0, 0}, {500, 0}, {500, 100}, {100, 500}, {0, 500}}), {}}};
    hollow.outline.outer.vertices[2].bulge = -(std::sqrt(2.0) - 1);
    LayoutPiece round{"2", {polygon({{500, 100}, {500, 500}, {100, 500}}), {}}};
    round.outline.outer.vertices[2].bulge = std::sqrt(2.0) - 1;
    const Goods goods = goods_of(2000, 0);
    EXPECT_THAT(checked({hollow, round}, goods, {{"1", 0, 0}, {"2", 0, 0}}), IsEmpty());
    EXPECT_THAT(codes(checked({hollow, round}, goods, {{"1", 0, 0}, {"2", -10, 0}})),
                ElementsAre("layout-overlap"));
    EXPECT_THAT(checked({hollow, round}, goods, {{"1", 0, 0}, {"2", 10, 10}}), IsEmpty());
}

TEST(Check, LengthsToldTooShort) {
    Layout layout;
    layout.placements = {{"1", 6350, 6350}, {"2", 6350, 612700}};
    const Goods goods = goods_of(1300, 6.35);
    measure_layout(kMats, goods, layout);
    layout.used_mm -= 1;
    EXPECT_THAT(codes(check_layout(kMats, goods, layout)), ElementsAre("layout-used"));
    layout.used_mm += 1;
    layout.bought_mm = 900;
    EXPECT_THAT(codes(check_layout(kMats, goods, layout)), ElementsAre("layout-bought"));
}

// A length that stands as far over a whole step as placing may: one step does, at every length, however the doubles round.
TEST(Check, BoughtAtTheLimitOfPlacingIsLetPass) {
    for (int step = 1; step <= 5000; ++step) {
        Goods goods = goods_of(1000, 0);
        goods.step_mm = 1;
        const std::vector<LayoutPiece> piece{mat("1", step + kPlacementRounding_mm, 100)};
        Layout layout;
        layout.placements = {{"1", 0, 0}};
        measure_layout(piece, goods, layout);
        const std::vector<Finding> faults = check_layout(piece, goods, layout);
        ASSERT_TRUE(faults.empty()) << step << ": " << faults.front().says;
    }
}

TEST(Check, FindingsSpeakThePersonsUnits) {
    LengthStyle mm;
    mm.unit = Unit::mm;
    Layout layout;
    layout.placements = {{"1", 6350, 6350}, {"2", 6350, 609350}};
    const Goods goods = goods_of(1300, 6.35);
    measure_layout(kMats, goods, layout);
    EXPECT_THAT(check_layout(kMats, goods, layout, mm)[0].says,
                HasSubstr("are 3 mm apart; the gap is 6.5 mm"));
}

/// A point is covered by both pieces: found by looking at a fine lattice of points.
bool lattice_overlap(const LayoutPiece& a, Vec2 at_a, const LayoutPiece& b, Vec2 at_b) {
    Box box = box_of(a.outline);
    for (int i = 0; i <= 60; ++i)
        for (int j = 0; j <= 60; ++j) {
            const Vec2 p{box.min.x + box.width() * i / 60, box.min.y + box.height() * j / 60};
            if (side_of(a.outline, p) == Side::inside && side_of(b.outline, p + at_a - at_b) == Side::inside)
                return true;
        }
    return false;
}

// A brute-force twin: a lattice point inside both pieces is an overlap, and the checker must say so; where the checker says
// overlap deeper than the lattice is wide, the lattice must see it.
TEST(Check, AgreesWithALatticeOfPoints) {
    lay::Random random(23);
    for (int k = 0; k < 60; ++k) {
        LayoutPiece a = panel("1", 400 + 400 * random.share(), 300 + 300 * random.share(), random);
        LayoutPiece b = panel("2", 200 + 400 * random.share(), 200 + 400 * random.share(), random);
        if (k % 3 == 0) a.outline.holes.push_back(reversed(circle({200, 150}, 60)));
        const Placement pa{"1", 1000000, 1000000};
        const Placement pb{"2", 600000 + std::int64_t(random.below(900000)),
                           600000 + std::int64_t(random.below(900000))};
        const auto found = checked({a, b}, goods_of(4000, 0), {pa, pb});
        const bool seen = lattice_overlap(a, pa.move_mm(), b, pb.move_mm());
        if (seen) {
            EXPECT_FALSE(found.empty()) << k;
        } else if (!found.empty()) {
            EXPECT_LT(found[0].numbers[0].value, 15) << k;
        }
    }
}

}  // namespace
}  // namespace spile
