// Goods as they are: repeats, half drops, flaws, pins. Found by the solver, proved and refused by the checker.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/geom/transform.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/bound.h"
#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr double kInch = 25.4;

Goods plain(double width_in) {
    Goods goods;
    goods.width_mm = goods.usable_width_mm = width_in * kInch;
    goods.gap_mm = 0;
    goods.step_mm = 0;
    return goods;
}

/// Strips of a wall-to-wall floor, side by side in the room, inches.
std::vector<LayoutPiece> strips(double long_in, const std::vector<double>& widths_in) {
    std::vector<LayoutPiece> pieces;
    double across = 0;
    for (double width : widths_in) {
        pieces.push_back(mat(std::to_string(pieces.size() + 1), long_in * kInch, width * kInch));
        pieces.back().cloth = "room";
        pieces.back().in_cloth_mm = {0, across * kInch};
        across += width;
    }
    return pieces;
}

Layout laid_out(const std::vector<LayoutPiece>& pieces, const Goods& goods, int rounds = 20) {
    SolveOptions options;
    options.rounds = rounds;
    const auto result = solve_layout(pieces, goods, options, RunContext{});
    EXPECT_TRUE(result);
    if (!result) return {};
    EXPECT_THAT(check_layout(pieces, goods, *result), IsEmpty());
    EXPECT_GE(result->used_mm, result->bound_mm);
    return *result;
}

std::vector<std::string> codes(const std::vector<Finding>& findings) {
    std::vector<std::string> out;
    for (const Finding& f : findings) out.push_back(f.code);
    return out;
}

double used_in(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    return laid_out(pieces, goods).used_mm / kInch;
}

// Cut lengths with a set match (values to check against, "Roll goods"): what one more strip adds is its length up to whole
// repeats; an exact multiple does not round up.
TEST(SetMatch, StripsStepByWholeRepeats) {
    const struct {
        double length, repeat, pitch;
    } cases[] = {{96, 27, 108}, {90, 27, 108}, {116, 25, 125}, {118, 13, 130}, {81, 27, 81}};
    for (const auto& c : cases) {
        Goods goods = plain(27);
        goods.repeat.along_mm = c.repeat * kInch;
        const Layout layout = laid_out(strips(c.length, {27, 27, 27}), goods);
        EXPECT_NEAR(layout.used_mm / kInch, 2 * c.pitch + c.length, 1e-3);
        EXPECT_NEAR(layout.bound_mm, layout.used_mm, 0.05);  // proved
    }
}

// Half drop, 90 in strips, repeat 27 in: pitch 94.5 in; three strips 279 in against 306 in with a set match (own geometry).
TEST(HalfDrop, EveryOtherStripSavesHalfARepeat) {
    Goods goods = plain(27);
    goods.repeat = {27 * kInch, 27 * kInch, 13.5 * kInch};
    const Layout dropped = laid_out(strips(90, {27, 27, 27}), goods);
    EXPECT_NEAR(dropped.used_mm / kInch, 279, 1e-3);
    EXPECT_NEAR(dropped.bound_mm / kInch, 279, 1e-2);
    goods.repeat.drop_mm = 0;
    EXPECT_NEAR(used_in(strips(90, {27, 27, 27}), goods), 306, 1e-3);
}

// Room 13 x 22 ft from a 12 ft sheet with 6 in trim and 8 in match. Printed: 13'6" + 20'8" = 34'2"; two drops of 168 and
// 162 in, 27'6", do it (own computation).
TEST(SetMatch, RoomOfThirteenByTwentyTwoFeet) {
    Goods goods = plain(144);
    goods.repeat.along_mm = 8 * kInch;
    const double used = used_in(strips(13 * 12 + 6, {144, 120}), goods);
    EXPECT_LE(used, 34 * 12 + 2);
    EXPECT_NEAR(used, 27 * 12 + 6, 1e-3);
}

// A runner of 20 x 4 ft (values to check against, "Roll goods", own computation): in one piece from a 6 ft roll 20 ft of it, 13.3 square
// yards; from an 8 ft roll in two lanes of 10 ft with a seam 8.9.
TEST(Lanes, ASeamSavesGoods) {
    constexpr double kSquareYard = 36 * 36;
    EXPECT_NEAR(used_in({mat("1", 240 * kInch, 48 * kInch)}, plain(72)) * 72 / kSquareYard, 13.3, 0.05);
    const std::vector<LayoutPiece> lanes{mat("1", 120 * kInch, 48 * kInch),
                                         mat("2", 120 * kInch, 48 * kInch)};
    EXPECT_NEAR(used_in(lanes, plain(96)) * 96 / kSquareYard, 8.9, 0.05);
}

// 8 repeats of 18 1/4 in need 146 in; 145.75 in received hold 7.
TEST(RepeatsAcross, AreCountedOnTheUsableWidth) {
    Goods goods = plain(146);
    goods.repeat.across_mm = 18.25 * kInch;
    EXPECT_EQ(repeats_across(goods), 8);
    goods.usable_width_mm = 145.75 * kInch;
    EXPECT_EQ(repeats_across(goods), 7);
    goods.repeat.across_mm = 0;
    EXPECT_EQ(repeats_across(goods), 0);
}

TEST(Pattern, IsCarriedBothWaysBetweenPanels) {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        Goods goods = plain(60);
        goods.gap_mm = 6.35;
        goods.repeat = {10 * kInch, 6 * kInch, seed % 2 == 0 ? 5 * kInch : 0};
        auto pieces = panels(7, seed);
        lay::Random random(seed);
        for (LayoutPiece& piece : pieces) {
            if (random.below(3) == 0) continue;  // some are free of it
            piece.cloth = random.below(2) == 0 ? "fore" : "aft";
            piece.in_cloth_mm = {std::floor(3000 * random.share()), std::floor(3000 * random.share())};
        }
        laid_out(pieces, goods);
    }
}

TEST(Pattern, OutByAHundredthOfAMillimetreIsRefused) {
    Goods goods = plain(60);
    goods.repeat = {10 * kInch, 6 * kInch, 5 * kInch};
    auto pieces = strips(30, {20, 20});
    Layout layout;
    // Twenty inches across are three rows of 6 in and two more: row 3 has dropped by half a repeat.
    layout.placements = {{"1", 0, 0}, {"2", 889'000, 508'000 - 6 * 25'400}};
    pieces[1].in_cloth_mm = {0, 508 - 6 * 25.4 + 3 * 152.4};
    measure_layout(pieces, goods, layout);
    EXPECT_THAT(check_layout(pieces, goods, layout), IsEmpty());
    for (auto [dx, dy] : {std::pair(10, 0), std::pair(-10, 0), std::pair(127'000, 0), std::pair(0, 10)}) {
        Layout wrong = layout;
        wrong.placements[1].x_um += dx;
        wrong.placements[1].y_um += dy;
        measure_layout(pieces, goods, wrong);
        EXPECT_THAT(codes(check_layout(pieces, goods, wrong)), ElementsAre("layout-pattern"))
            << dx << ' ' << dy;
    }
    pieces[1].cloth = "";  // free of the pattern
    layout.placements[1].x_um += 10;
    measure_layout(pieces, goods, layout);
    EXPECT_THAT(check_layout(pieces, goods, layout), IsEmpty());
}

TEST(Pattern, ThatCannotBeCarriedIsSaid) {
    Goods goods = plain(27);
    goods.repeat = {27 * kInch, 10 * kInch, 0};  // does not divide the width
    const auto result = solve_layout(strips(90, {27, 27}), goods, {}, {});
    EXPECT_FALSE(result);
    EXPECT_THAT(codes(result.findings), ElementsAre("layout-pattern-no-place"));
    EXPECT_THAT(result.findings[0].says, HasSubstr("10 in"));
}

TEST(Flaws, AreLeftOut) {
    for (std::uint64_t seed = 1; seed <= 6; ++seed) {
        Goods goods = plain(60);
        goods.gap_mm = 6.35;
        goods.flaws = {{"1", {{300, 200}, {340, 260}}},
                       {"2", {{900, 0}, {905, goods.usable_width_mm}}},  // a splice right across
                       {"3", {{1500, 1000}, {1501, 1001}}}};
        const Layout layout = laid_out(panels(6, seed), goods, 5);
        EXPECT_GT(layout.used_mm, 900);
    }
}

TEST(Flaws, APieceOnOneIsRefused) {
    Goods goods = plain(60);
    goods.flaws = {{"1", {{500, 300}, {510, 310}}}};
    const std::vector<LayoutPiece> pieces{mat("1", 400, 700)};
    const auto found = [&](std::int64_t x_um) {
        Layout layout;
        layout.placements = {{"1", x_um, 0}};
        measure_layout(pieces, goods, layout);
        return codes(check_layout(pieces, goods, layout));
    };
    EXPECT_THAT(found(100'000), IsEmpty());  // touches
    EXPECT_THAT(found(100'010), ElementsAre("layout-flaw"));
    EXPECT_THAT(found(200'000), ElementsAre("layout-flaw"));  // covers it
    EXPECT_THAT(found(509'990), ElementsAre("layout-flaw"));
    EXPECT_THAT(found(510'000), IsEmpty());
}

TEST(Pins, StayAndTheRestGoesRoundThem) {
    Goods goods = plain(60);
    goods.gap_mm = 6.35;
    auto pieces = panels(8, 3);
    pieces[2].pin = Placement{"3", 700'001, 333'003};
    const Layout layout = laid_out(pieces, goods, 10);
    EXPECT_EQ(layout.placements[2], *pieces[2].pin);
    Layout moved = layout;
    moved.placements[2].x_um += 1;
    EXPECT_THAT(codes(check_layout(pieces, goods, moved)), testing::Contains("layout-pin"));
}

TEST(Pins, OnOneAnotherAreRefusedByTheChecker) {
    Goods goods = plain(60);
    auto pieces = std::vector<LayoutPiece>{mat("1", 400, 400), mat("2", 400, 400), mat("3", 300, 300)};
    pieces[0].pin = Placement{"1", 0, 0};
    pieces[1].pin = Placement{"2", 399'000, 0};
    const auto result = solve_layout(pieces, goods, {}, {});
    ASSERT_TRUE(result);
    EXPECT_THAT(codes(check_layout(pieces, goods, *result)), ElementsAre("layout-overlap"));
}

}  // namespace
}  // namespace spile
