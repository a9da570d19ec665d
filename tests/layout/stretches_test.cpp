// Layouts over several lengths of goods, offcuts among them: laid out on an offcut, each stretch proved by itself.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

Goods on_offcut(Outline outline, double gap, double edge_gap) {
    Layout layout;
    layout.stretches = {{"offcut 7", "", 0, std::move(outline)}};
    Goods goods = goods_cut_anywhere(1800, gap);
    goods.edge_gap_mm = edge_gap;
    return goods_on(goods, layout, 0);
}

/// 1000 x 800 with its far upper quarter, 400 x 300, cut away.
Outline notched() {
    return polygon({{0, 0}, {1000, 0}, {1000, 500}, {600, 500}, {600, 800}, {0, 800}});
}

std::vector<Finding> checked(const std::vector<LayoutPiece>& pieces, const Goods& goods, Layout layout) {
    measure_layout(pieces, goods, layout);
    return check_layout(pieces, goods, layout);
}

std::vector<std::string> codes(const std::vector<Finding>& findings) {
    std::vector<std::string> out;
    for (const Finding& f : findings) out.push_back(f.code);
    return out;
}

// What is cut away is just as large as the second piece: only the first arrangement that uses the arm fits both.
TEST(Stretches, BothArmsOfAnOffcutAreFound) {
    const std::vector<LayoutPiece> pieces{mat("1", 1000, 500), mat("2", 600, 300)};
    const auto found = solve_layout(pieces, on_offcut(notched(), 0, 0), {}, RunContext{});
    ASSERT_TRUE(found) << found.findings[0].says;
    EXPECT_THAT(check_layout(pieces, on_offcut(notched(), 0, 0), *found), IsEmpty());
    EXPECT_EQ(found->placements[0].move_mm(), (Vec2{0, 0}));
    EXPECT_EQ(found->placements[1].move_mm(), (Vec2{0, 500}));
    EXPECT_FALSE(solve_layout(pieces, on_offcut(notched(), 1, 0), {}, RunContext{}));
}

TEST(Stretches, WhatFindsNoRoomOnAnOffcutIsNamed) {
    const auto refused = solve_layout({mat("1", 1000, 510)}, on_offcut(notched(), 5, 0), {}, RunContext{});
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.findings[0].code, "layout-goods-short");
    const auto wide = solve_layout({mat("1", 995, 300)}, on_offcut(notched(), 5, 5), {}, RunContext{});
    ASSERT_FALSE(wide);
}

TEST(Stretches, WhateverIsFoundOnAnOffcutIsLegal) {
    lay::Random random(7);
    int found = 0;
    for (int k = 0; k < 60; ++k) {
        const double a = 300 + 500 * random.share(), b = 200 + 400 * random.share();
        const Outline outline = polygon({{0, 100 * random.share()},
                                         {500, 0},
                                         {1200, 80 * random.share()},
                                         {1200 - 90 * random.share(), b},
                                         {a, b + 60 * random.share()},
                                         {a + 100 * random.share(), 900},
                                         {40 * random.share(), 900 - 90 * random.share()}});
        Outline moved = outline;
        const Box box = box_of(outline);
        for (Vertex& v : moved.vertices) v.p = v.p - box.min;
        const Goods goods = on_offcut(moved, 6.35, k % 3 == 0 ? 0 : k % 3 == 1 ? 6.35 : 12);
        SolveOptions options;
        options.rounds = 4;
        const std::vector<LayoutPiece> pieces{panel("1", 300, 250, random), panel("2", 260, 300, random),
                                              panel("3", 200, 200, random)};
        const auto layout = solve_layout(pieces, goods, options, RunContext{});
        if (!layout) continue;
        ++found;
        const auto refusals = check_layout(pieces, goods, *layout);
        EXPECT_THAT(refusals, IsEmpty()) << k << ": " << refusals[0].says;
    }
    EXPECT_GT(found, 30);
}

TEST(Stretches, TheEdgeOfAnOffcutIsKeptToAHundredth) {
    const std::vector<LayoutPiece> pieces{mat("1", 300, 200)};
    const auto at = [&](std::int64_t x, std::int64_t y) {
        Layout layout;
        layout.stretches = {{"offcut 7", "", 0, notched()}};
        layout.placements = {{"1", x, y}};
        Goods goods = goods_cut_anywhere(1800, 5);
        return checked(pieces, goods, layout);
    };
    EXPECT_THAT(at(5'000, 5'000), IsEmpty());
    EXPECT_THAT(at(295'000, 595'000), IsEmpty());  // in the corner of the arm
    EXPECT_THAT(codes(at(295'010, 595'000)), ElementsAre("layout-offcut"));
    EXPECT_THAT(codes(at(500'000, 450'000)), ElementsAre("layout-offcut"));  // over the notch
    EXPECT_THAT(at(500'000, 450'000)[0].says, HasSubstr("This is on offcut 7."));
    EXPECT_THAT(codes(at(620'000, 520'000)), ElementsAre("layout-offcut"));  // wholly in what is not there
}

TEST(Stretches, EachIsProvedByItself) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400), mat("3", 300, 200)};
    Layout layout;
    layout.stretches = {
        {"roll 3", "L1", 600, {}}, {"roll 4", "L1", 900, {}}, {"offcut 7", "L1", 0, notched()}};
    layout.placements = {{"1", 5'000, 5'000, 0, 0}, {"2", 5'000, 5'000, 0, 1}, {"3", 5'000, 5'000, 0, 2}};
    const Goods goods = goods_cut_anywhere(500, 5);
    EXPECT_THAT(checked(pieces, goods, layout), IsEmpty());
    measure_layout(pieces, goods, layout);
    // 510 of each roll; of the offcut 310 of its 800 width, on goods of 500.
    EXPECT_NEAR(layout.used_mm, 510 + 510 + 310 * 800.0 / 500, 1e-9);
    layout.placements[1].stretch = 0;
    EXPECT_THAT(codes(checked(pieces, goods, layout)), ElementsAre("layout-overlap"));
    layout.placements[1] = {"2", 600'000, 5'000, 0, 0};
    EXPECT_THAT(codes(checked(pieces, goods, layout)), ElementsAre("layout-length"));
    layout.placements[1] = {"2", 5'000, 5'000, 0, 3};
    EXPECT_THAT(codes(checked(pieces, goods, layout)), ElementsAre("layout-stretch"));
}

TEST(Stretches, TwoRollsAreBoughtByTheirSum) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400)};
    Layout layout;
    layout.stretches = {{"roll 3", "L1", 600, {}}, {"roll 4", "L1", 900, {}}};
    layout.placements = {{"1", 5'000, 5'000, 0, 0}, {"2", 5'000, 5'000, 0, 1}};
    Goods goods = goods_of(500, 5);
    goods.step_mm = 400;
    measure_layout(pieces, goods, layout);
    EXPECT_NEAR(layout.used_mm, 1020, 1e-9);
    EXPECT_NEAR(layout.bought_mm, 1200, 1e-9) << "not 800 for each";
}

// A roll in the rack is there already; only what is ordered is of the least order.
TEST(Stretches, TheLeastOrderIsOfWhatIsBought) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400)};
    Layout layout;
    layout.placements = {{"1", 5'000, 5'000, 0, 0}, {"2", 5'000, 5'000, 0, 1}};
    Goods goods = goods_of(500, 5);
    goods.step_mm = 400;
    goods.least_order_mm = 1500;
    layout.stretches = {{"roll 3", "L1", 600, {}}, {"roll 4", "L1", 900, {}}};
    measure_layout(pieces, goods, layout);
    EXPECT_NEAR(layout.bought_mm, 1200, 1e-9);
    EXPECT_NEAR(layout.to_buy_mm, 0, 1e-9);
    EXPECT_FALSE(layout.least_order);
    layout.stretches[1] = {kToBuy, "", 0, {}};
    measure_layout(pieces, goods, layout);
    EXPECT_NEAR(layout.used_mm, 1020, 1e-9);
    EXPECT_NEAR(layout.to_buy_mm, 1600, 1e-9) << "1500 in steps of 400";
    EXPECT_NEAR(layout.bought_mm, 2400, 1e-9) << "510 and 1500 in steps of 400";
    EXPECT_TRUE(layout.least_order);
    EXPECT_EQ(goods_on(goods, layout, 0).least_order_mm, 0);
    EXPECT_EQ(goods_on(goods, layout, 1).least_order_mm, 1500);
}

TEST(Stretches, OneLotForAllThatIsSeenTogether) {
    std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400)};
    pieces[0].seen_with = pieces[1].seen_with = "cockpit";
    Layout layout;
    layout.stretches = {{"roll 3", "L1", 600, {}}, {"roll 4", "L2", 900, {}}};
    layout.placements = {{"1", 5'000, 5'000, 0, 0}, {"2", 5'000, 5'000, 0, 1}};
    const Goods goods = goods_cut_anywhere(500, 5);
    const auto found = checked(pieces, goods, layout);
    EXPECT_THAT(codes(found), ElementsAre("layout-lot"));
    EXPECT_THAT(found[0].says, HasSubstr("roll 3, lot L1 and roll 4, lot L2"));
    pieces[1].seen_with = "platform";
    EXPECT_THAT(checked(pieces, goods, layout), IsEmpty());
    pieces[1].seen_with = "cockpit";
    layout.stretches[1].lot = "L1";
    EXPECT_THAT(checked(pieces, goods, layout), IsEmpty());
}

TEST(Stretches, APatternIsNotCarriedFromOneLengthToAnother) {
    std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400)};
    pieces[0].cloth = pieces[1].cloth = "cockpit";
    Layout layout;
    layout.stretches = {{"roll 3", "L1", 600, {}}, {"roll 4", "L1", 900, {}}};
    layout.placements = {{"1", 5'000, 5'000, 0, 0}, {"2", 5'000, 5'000, 0, 1}};
    Goods goods = goods_cut_anywhere(500, 5);
    EXPECT_THAT(checked(pieces, goods, layout), IsEmpty());
    goods.repeat.along_mm = 100;
    EXPECT_THAT(codes(checked(pieces, goods, layout)), ElementsAre("layout-pattern"));
}

// Nobody knows the lot of what is not there yet; that of the rack may be unknown too, and is another.
TEST(Stretches, WhatIsToBuyIsOfALotOfItsOwn) {
    std::vector<LayoutPiece> pieces{mat("1", 400, 300), mat("2", 400, 300)};
    const Goods goods = goods_of(1800, 5);
    Layout layout;
    layout.stretches = {{"roll 1", "", 1000, {}}, {kToBuy, "", 0, {}}};
    layout.placements = {{"1", 5000, 5000, 0, 0}, {"2", 5000, 5000, 0, 1}};
    EXPECT_THAT(checked(pieces, goods, layout), IsEmpty());
    measure_layout(pieces, goods, layout);
    EXPECT_DOUBLE_EQ(layout.to_buy_mm, 914.4);
    for (LayoutPiece& piece : pieces) piece.seen_with = "cockpit";
    const auto found = checked(pieces, goods, layout);
    EXPECT_THAT(codes(found), ElementsAre("layout-lot"));
    EXPECT_THAT(found[0].says, HasSubstr("roll 1, lot not known and goods to buy, lot not known"));
    layout.placements[0] = {"1", 5000, 400000, 0, 1};
    EXPECT_THAT(checked(pieces, goods, layout), IsEmpty());
}

}  // namespace
}  // namespace spile
