// Where the goods come apart straight across, and the figure that a person is given for it.
#include "core/layout/cuts_across.h"

#include <gtest/gtest.h>

#include <random>

#include "core/geom/measure_of.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

constexpr double in = 25.4;
const LengthStyle kSixteenths{}, kMillimetres{Unit::mm};

Layout laid(const std::vector<std::pair<std::string, double>>& along_mm) {
    Layout layout;
    for (const auto& [piece, x] : along_mm)
        layout.placements.push_back({piece, static_cast<std::int64_t>(x * 1000), 0});
    return layout;
}

TEST(CutsAcross, ACutHasSomethingOnBothSidesAndTouchesNothing) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 300, 400), mat("3", 600, 400)};
    const Goods goods = goods_cut_anywhere(1000, 5);
    const auto cuts = cuts_across(pieces, goods, laid({{"2", 505}, {"1", 0}, {"3", 510}}));
    ASSERT_EQ(cuts.size(), 1u);  // 2 ends at 805, within 3
    EXPECT_EQ(cuts[0].from_mm, 500);
    EXPECT_EQ(cuts[0].to_mm, 505);
    EXPECT_TRUE(cuts_across(pieces, goods, laid({{"1", 0}, {"2", 490}, {"3", 700}})).empty());
    EXPECT_TRUE(cuts_across(pieces, goods, laid({{"3", 0}, {"2", 10}, {"1", 400}})).empty())
        << "3 reaches past the end of 2";
    EXPECT_TRUE(cuts_across(pieces, goods, laid({{"1", 0}, {"2", 500}})).empty()) << "no room between";
    EXPECT_TRUE(cuts_across(pieces, goods, laid({{"1", 0}, {"2", 500.001}})).empty()) << "they touch";
    EXPECT_TRUE(cuts_across(pieces, goods, laid({{"1", 20}, {"nobody", 900}})).empty());
    EXPECT_TRUE(cuts_across(pieces, goods, {}).empty());
}

TEST(CutsAcross, EveryStretchHasItsOwn) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 300, 400), mat("3", 600, 400)};
    const Goods goods = goods_cut_anywhere(1000, 5);
    Layout layout = laid({{"1", 0}, {"2", 505}, {"3", 0}});
    layout.stretches = {{"roll 1", "", 2000, {}}, {"roll 2", "", 2000, {}}};
    layout.placements[2].stretch = 1;  // on one length it would lie beside both
    EXPECT_EQ(cuts_across(pieces, goods, layout, 0).size(), 1u);
    EXPECT_TRUE(cuts_across(pieces, goods, layout, 1).empty());
}

TEST(CutsAcross, AFillerLiesInTheWayToo) {
    Goods goods = goods_cut_anywhere(1000, 5);
    goods.fillers = {{"mat", 100, 100}};
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 300, 400)};
    Layout layout = laid({{"1", 0}, {"2", 550}});
    EXPECT_EQ(cuts_across(pieces, goods, layout).size(), 1u);
    layout.fillers = {{"filler/mat/1", 470'000, 500'000}};
    EXPECT_TRUE(cuts_across(pieces, goods, layout).empty());
}

// A round piece turned reaches as far as its arc does, not its corners.
TEST(CutsAcross, CurvesCountWhereTheyReach) {
    LayoutPiece disc{"1", {}};
    disc.outline.outer = circle({0, 0}, 100);
    Layout layout = laid({{"1", 100}, {"2", 204}});
    layout.placements[0].turns = 1;
    const auto cuts = cuts_across({disc, mat("2", 300, 400)}, goods_cut_anywhere(1000, 4), layout);
    ASSERT_EQ(cuts.size(), 1u);
    EXPECT_NEAR(cuts[0].from_mm, 200, 1e-9);
}

TEST(CutsAcross, ThePlaceIsTheRoundestFigureInTheMiddleOfTheRoom) {
    const auto place = [](double from, double to, const LengthStyle& style) {
        const auto mm = cut_place_mm({from, to}, style);
        return mm ? plain_length(*mm, style) : "none";
    };
    EXPECT_EQ(place(31.625 * in, 31.875 * in, kSixteenths), "31 3/4");
    EXPECT_EQ(place(20.1 * in, 25.3 * in, kSixteenths), "23");
    EXPECT_EQ(place(31.76 * in, 32.01 * in, kSixteenths), "31 7/8");  // 32 would be a hair from the piece
    EXPECT_EQ(place(31.62 * in, 31.64 * in, kSixteenths), "31 5/8");  // the one mark there is
    EXPECT_EQ(place(31.63 * in, 31.68 * in, kSixteenths), "none");
    EXPECT_EQ(place(801, 807, kMillimetres), "805");
    EXPECT_EQ(place(801.2, 803.9, kMillimetres), "803");
    EXPECT_EQ(place(801.2, 801.9, kMillimetres), "none");
}

// Whatever the room, what is printed lies within it.
TEST(CutsAcross, WhatIsPrintedLiesInTheRoom) {
    std::mt19937_64 bits(3);
    std::uniform_real_distribution<double> at(0, 9000), wide(0, 12);
    int named = 0;
    for (int k = 0; k < 20000; ++k) {
        const double from = at(bits), to = from + wide(bits);
        LengthStyle style = k % 2 ? kSixteenths : kMillimetres;
        style.inch_denominator = k % 3 ? 16 : 32;
        const auto place = cut_place_mm({from, to}, style);
        if (!place) {
            EXPECT_LT(to - from, style.unit == Unit::mm ? 1 : in / style.inch_denominator);
            continue;
        }
        ++named;
        EXPECT_GE(*place, from);
        EXPECT_LE(*place, to);
        EXPECT_FALSE(print_length(*place, style).rounded);
    }
    EXPECT_GT(named, 18000);
}

}  // namespace
}  // namespace spile
