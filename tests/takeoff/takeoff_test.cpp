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

// By hand: the more of what is needed and what is sold at least, up to the next whole step.
TEST(Goods, NoLessThanTheLeastOrderIsBought) {
    const struct {
        double step, least, used, bought;
    } cases[] = {{914.4, 1828.8, 500, 1828.8},
                 {914.4, 1828.8, 1828.8, 1828.8},
                 {914.4, 1828.8, 1828.81, 2743.2},
                 {914.4, 1500, 500, 1828.8},
                 {0, 1500, 500, 1500},
                 {0, 1500, 1600, 1600},
                 {100, 250, 40, 300},
                 {914.4, 1828.8, 0, 0}};
    for (const auto& c : cases) {
        Goods goods;
        goods.step_mm = c.step;
        goods.least_order_mm = c.least;
        EXPECT_NEAR(bought_length_mm(goods, c.used), c.bought, 1e-9)
            << c.step << " " << c.least << " " << c.used;
        EXPECT_NEAR(bought_length_mm(by_the_millimetre(goods), c.used), c.used, 1e-9);
    }
}

TEST(Goods, TheLeastOrderIsSaid) {
    Goods goods;
    goods.name = "woven vinyl, sand";
    goods.least_order_mm = 72 * kInch;
    Layout layout = layout_of(30 * kInch, 72 * kInch);
    layout.least_order = true;
    const Takeoff t = take_off({mat(1, Finish::bound)}, goods, layout, {});
    EXPECT_EQ(line(t.materials, "woven vinyl, sand")->because,
              "The layout of 1 piece takes 30 in of the roll, 72 in usable; it is bought in steps of 1 yd, "
              "so 2 steps, the least order being 2 yd.");
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

AppliedPiece applied(const std::string& letter, double along_in, double across_in) {
    AppliedPiece a;
    a.panel = "1";
    a.piece.number = 1;
    a.piece.letter = letter;
    a.piece.cut.face.outer = rectangle({0, 0}, {along_in * kInch, across_in * kInch});
    a.set = a.piece.cut.face.outer;
    a.sewn_on = Seam{"sewn on", {}, 2 * (along_in + across_in - 1) * kInch, true};
    return a;
}

TEST(TakeOff, counts_other_goods_out_row_by_row_and_says_how) {
    // By hand: 48 in hold two of 20 in side by side; three of them take two rows of 12 in, the strip one of 30 in.
    std::vector<AppliedPiece> on{applied("a", 12, 20), applied("b", 12, 20), applied("c", 12, 20),
                                 applied("d", 30, 2)};
    for (AppliedPiece& a : on) {
        a.plan.goods = "mesh";
        a.plan.goods_width_mm = 48 * kInch;
    }
    const Takeoff t = take_off({mat(1, Finish::bound)}, Goods{}, layout_of(1000, 1828.8), {}, {}, on);
    const QuantityLine* mesh = line(t.materials, "mesh");
    ASSERT_TRUE(mesh);
    EXPECT_EQ(mesh->code, "other-goods");
    EXPECT_NEAR(mesh->amount, (24 + 30) * kInch, 1e-9);
    EXPECT_THAT(mesh->because, HasSubstr("1a, 1b, 1c and 1d off goods 48 in wide"));
    EXPECT_THAT(mesh->because, HasSubstr("3 of 12 in x 20 in, 2 side by side, 24 in"));
    // Layout and marking are those of the panel alone.
    EXPECT_THAT(line(t.materials, "goods")->because, HasSubstr("The layout of 1 piece takes"));
    const QuantityLine* sewn = line(t.work, "pieces to sew on");
    ASSERT_TRUE(sewn);
    EXPECT_EQ(sewn->amount, 4);
    // Thread: every seam with one inch sewn twice, at the ratio of the lockstitch.
    const double seams = 118 + 1 + 3 * (62 + 1) + 62 + 1;
    EXPECT_NEAR(line(t.materials, "thread")->amount,
                lockstitch_thread_ratio(3.175, 6 / kInch) * seams * kInch, 1e-6);
}

TEST(TakeOff, counts_adhesive_under_what_is_stuck_and_lays_own_goods_out) {
    AppliedPiece own = applied("a", 12, 10), stuck = applied("b", 6, 6);
    stuck.plan.stuck = true;
    stuck.sewn_on.reset();
    const Takeoff t =
        take_off({mat(1, Finish::bound)}, Goods{}, layout_of(1000, 1828.8), {}, {}, {own, stuck});
    EXPECT_NEAR(line(t.materials, "adhesive")->amount, 36 * kInch * kInch, 1e-9);
    EXPECT_EQ(line(t.materials, "adhesive")->unit, "mm2");
    EXPECT_EQ(line(t.work, "pieces to stick on")->amount, 1);
    EXPECT_EQ(line(t.work, "pieces to sew on")->amount, 1);
    EXPECT_THAT(line(t.materials, "goods")->because, HasSubstr("The layout of 3 pieces takes"));
}

TEST(TakeOff, new_snaps_want_studs_and_screws_on_the_deck) {
    Piece piece = mat(1, Finish::bound);
    piece.studs = {{"S", {}, false}, {"n1", {}, true}, {"n2", {}, true}};
    TakeoffSettings settings;
    settings.screws_per_stud = 3;
    const Takeoff t = take_off({piece}, Goods{}, layout_of(1000, 1828.8), settings);
    EXPECT_EQ(line(t.materials, "studs")->amount, 2);
    EXPECT_EQ(line(t.materials, "screws")->amount, 6);
    settings.screws_per_stud = 0;
    EXPECT_EQ(line(take_off({piece}, Goods{}, layout_of(1000, 1828.8), settings).materials, "screws"),
              nullptr);
}

}  // namespace
}  // namespace spile
