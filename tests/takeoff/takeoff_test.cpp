#include "core/takeoff/takeoff.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace spile {
namespace {

using testing::HasSubstr;

constexpr double kInch = 25.4;

const QuantityLine* line(const std::vector<QuantityLine>& lines, const std::string& what) {
    for (const QuantityLine& l : lines)
        if (l.what == what) return &l;
    return nullptr;
}

EdgeReport edge(Finish finish, double net_mm) {
    EdgeReport e;
    e.plan.finish = finish;
    e.net_length_mm = net_mm;
    return e;
}

/// A mat 24 x 36 in, every edge of one finish.
Piece mat(int number, Finish finish) {
    Piece piece;
    piece.id = std::to_string(number);
    piece.number = number;
    for (double side : {36 * kInch, 24 * kInch, 36 * kInch, 24 * kInch})
        piece.edges.push_back(edge(finish, side));
    if (finish == Finish::bound) {
        piece.binding_mm = 121 * kInch;  // 120 in round and 1 in lapped
        piece.seams.push_back({"binding, all round", {}, 118 * kInch, true});
    }
    if (finish == Finish::turned)
        for (double side : {36 * kInch, 24 * kInch, 36 * kInch, 24 * kInch})
            piece.seams.push_back({"turned edge", {}, side, false});
    return piece;
}

Layout layout_of(double used_mm, double bought_mm) {
    Layout layout;
    layout.used_mm = used_mm;
    layout.bought_mm = bought_mm;
    return layout;
}

// Lockstitch, type 301 of ISO 4915, needle and bobbin together: worked values of check-values.md, section Sewing.
TEST(Thread, LockstitchRatioByThicknessAndStitches) {
    EXPECT_DOUBLE_EQ(lockstitch_thread_ratio(0.010 * kInch, 10 / kInch), 2.2);
    EXPECT_DOUBLE_EQ(lockstitch_thread_ratio(0.025 * kInch, 10 / kInch), 2.5);
    EXPECT_DOUBLE_EQ(lockstitch_thread_ratio(0.125 * kInch, 6 / kInch), 3.5);
    // The ratio method: 2.5 x 220 cm = 550 cm (same section).
    EXPECT_DOUBLE_EQ(lockstitch_thread_ratio(0.025 * kInch, 10 / kInch) * 2200, 5500);
}

TEST(Thread, SeamsWithEndsSewnTwiceAndWaste) {
    TakeoffSettings settings;
    settings.sewn_thickness_mm = kInch / 8;
    const Takeoff t = take_off({mat(1, Finish::bound)}, Goods{}, layout_of(1000, 1828.8), settings);
    const QuantityLine* thread = line(t.materials, "thread");
    ASSERT_TRUE(thread);
    // 118 in and 1 in over the start, times 3.5; 15 % more.
    EXPECT_NEAR(thread->amount, 119 * 3.5 * kInch, 1e-9);
    EXPECT_NEAR(thread->to_buy, 119 * 3.5 * 1.15 * kInch, 1e-9);
    EXPECT_THAT(thread->because, HasSubstr("1 seam, 119 in"));
    EXPECT_THAT(thread->because, HasSubstr("6.0 stitches per inch takes 3.50 times"));
}

TEST(Thread, OpenSeamsAreSewnTwiceAtBothEnds) {
    TakeoffSettings settings;
    settings.sewn_thickness_mm = kInch / 8;
    const Takeoff t = take_off({mat(1, Finish::turned)}, Goods{}, layout_of(1000, 1828.8), settings);
    EXPECT_NEAR(line(t.materials, "thread")->amount, (120 + 8) * 3.5 * kInch, 1e-9);
}

TEST(Thread, ThicknessFallsBackToTheGoodsAndSaysSo) {
    Goods goods;
    goods.thickness_mm = kInch / 4;
    const Takeoff t = take_off({mat(1, Finish::bound)}, goods, layout_of(1000, 1828.8), {});
    EXPECT_NEAR(line(t.materials, "thread")->amount, 119 * 5 * kInch, 1e-9);
    EXPECT_THAT(line(t.materials, "thread")->because, HasSubstr("the thickness of the goods"));
    const Takeoff u = take_off({mat(1, Finish::bound)}, Goods{}, layout_of(1000, 1828.8), {});
    EXPECT_NEAR(line(u.materials, "thread")->amount, 119 * 3.5 * kInch, 1e-9);
    EXPECT_THAT(line(u.materials, "thread")->because, HasSubstr("none is given"));
}

// 72 in roll: bought by the running yard (check-values.md, Roll goods).
TEST(Goods, ByTheLayoutInWholeSteps) {
    Goods goods;
    goods.name = "woven vinyl, sand";
    const Takeoff t = take_off({mat(1, Finish::bound)}, goods, layout_of(60 * kInch, 72 * kInch), {});
    const QuantityLine* g = line(t.materials, "woven vinyl, sand");
    ASSERT_TRUE(g);
    EXPECT_DOUBLE_EQ(g->amount, 60 * kInch);
    EXPECT_DOUBLE_EQ(g->to_buy, 72 * kInch);
    EXPECT_EQ(g->because,
              "The layout of 1 piece takes 60 in of the roll, 72 in usable; it is bought in steps of 1 yd, "
              "so 2 steps.");
}

TEST(Goods, BoughtLengthIsTheNextWholeStepAndAnExactOneStays) {
    Goods goods;
    EXPECT_DOUBLE_EQ(bought_length_mm(goods, 914.4), 914.4);
    EXPECT_DOUBLE_EQ(bought_length_mm(goods, 914.41), 2 * 914.4);
    EXPECT_DOUBLE_EQ(bought_length_mm(goods, 1), 914.4);
    EXPECT_DOUBLE_EQ(bought_length_mm(goods, 0), 0);
    goods.step_mm = 0;
    EXPECT_DOUBLE_EQ(bought_length_mm(goods, 123.4), 123.4);
}

TEST(Binding, RunsWithTheirOverlapInSteps) {
    const Takeoff t =
        take_off({mat(1, Finish::bound), mat(2, Finish::bound)}, Goods{}, layout_of(1000, 1828.8), {});
    const QuantityLine* b = line(t.materials, "binding");
    ASSERT_TRUE(b);
    EXPECT_NEAR(b->amount, 242 * kInch, 1e-9);
    EXPECT_NEAR(b->to_buy, 252 * kInch, 1e-9);  // 7 yd
    EXPECT_THAT(b->because, HasSubstr("piece 1 121 in and piece 2 121 in"));
    EXPECT_NEAR(line(t.work, "binding")->amount, 240 * kInch, 1e-9);
    EXPECT_EQ(line(t.work, "corners to bind round")->amount, 8);
}

TEST(Turning, TapeCornersHolesAndSlits) {
    Piece piece = mat(3, Finish::turned);
    HoleReport hole;
    // The common-practice hole round a 2 in post (check-values.md): net 2 1/2 in.
    hole.net_diameter_mm = 2.5 * kInch;
    hole.slits = 8;
    piece.holes.push_back(hole);
    piece.studs.resize(4);
    const Takeoff t = take_off({piece}, Goods{}, layout_of(1000, 1828.8), {});
    EXPECT_NEAR(line(t.materials, "double-sided tape")->amount, (120 + 2.5 * std::acos(-1.0)) * kInch, 1e-9);
    EXPECT_NEAR(line(t.work, "turning")->amount, 120 * kInch, 1e-9);
    EXPECT_EQ(line(t.work, "corners to notch and turn")->amount, 4);
    EXPECT_EQ(line(t.work, "holes to turn")->amount, 1);
    EXPECT_EQ(line(t.work, "slits to cut")->amount, 8);
    EXPECT_EQ(line(t.materials, "snaps (socket and cap)")->to_buy, 4);
    EXPECT_FALSE(line(t.materials, "binding"));
}

TEST(Takeoff, EveryLineSaysWhyInThePersonsUnits) {
    LengthStyle mm;
    mm.unit = Unit::mm;
    std::vector<Piece> many;
    for (int i = 1; i <= 8; ++i) many.push_back(mat(i, i % 2 ? Finish::bound : Finish::turned));
    const Takeoff t = take_off(many, Goods{}, layout_of(1000, 1828.8), {}, mm);
    for (const auto* lines : {&t.materials, &t.work})
        for (const QuantityLine& l : *lines) {
            EXPECT_FALSE(l.because.empty()) << l.what;
        }
    EXPECT_THAT(line(t.materials, "goods")->because, HasSubstr("takes 1000 mm"));
    EXPECT_THAT(line(t.materials, "thread")->because, HasSubstr("stitches per cm"));
}

TEST(Takeoff, NothingTakesNothing) {
    const Takeoff t = take_off({}, Goods{}, Layout{}, {});
    EXPECT_TRUE(t.materials.empty());
    EXPECT_TRUE(t.work.empty());
}

}  // namespace
}  // namespace spile
