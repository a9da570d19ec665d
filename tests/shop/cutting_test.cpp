// From a job to the cut stock: what an offcut leaves, and which of what is in the rack is cut.
#include "shop/cutting.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/job/decisions.h"
#include "shop/choice.h"
#include "shop/price_lists.h"
#include "tests/shop/rack.h"

namespace spile::shop {
namespace {

using testing::HasSubstr;

/// A mat that is cut 22 x 26 in, 558.8 x 660.4 mm.
std::string mat_document() {
    return R"({"spile": 1, "title": "mat", "units": "in", "mark_on": "back",
        "goods": {"name": "woven vinyl, sand", "width": 72, "usable_width": 71, "gap": "1/4", "step": 36},
        "panels": [{"id": "a", "name": "mat", "mat": "20 x 24, turned"}]})";
}

/// One piece after the other along the roll: enough for these jobs, and without a search.
LayoutSolver in_a_row() {
    return [](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext&) {
        Layout layout;
        double x = goods.edge_gap();
        for (const LayoutPiece& piece : pieces) {
            layout.placements.push_back(
                {piece.id, std::llround(x * 1000), std::llround(goods.edge_gap() * 1000)});
            x += box_of(piece.outline).width() + goods.gap_mm;
        }
        measure_layout(pieces, goods, layout);
        return Result<Layout>::ok(std::move(layout));
    };
}
const SolverFor kInARow = [](const Job&) { return in_a_row(); };

/// The rack, with a job that can be laid out and one offcut for each outline.
struct Loft : Rack {
    explicit Loft(std::vector<Outline> outlines = {}) {
        mat = add_job(store, new_job(mat_document()))->id;
        if (outlines.empty()) return;
        AcceptLayout first = cut("first", 2'000'000);
        for (Outline& outline : outlines) first.left.push_back({std::move(outline)});
        offcuts = accept_layout(store, first)->offcuts;
    }
    void price() {
        const std::string list = R"({"prices": 1, "since": "2000-01-01", "currency": "USD",
            "goods": [{"name": "woven vinyl, sand", "price": "36.00", "per": 36}]})";
        const auto added = add_price_list(store, list, "pat");
        ASSERT_TRUE(added) << added.findings[0].says;
    }
    Result<Accepted> cut_mat(Id from_roll, Id from_offcut, bool best = false, bool again = false) {
        return cut_job(store, {mat, from_roll, from_offcut, best, again, "pat"}, kInARow);
    }
    Id mat = 0;
    std::vector<Id> offcuts;
};

Outline square(double side) {
    return corners({{0, 0}, {side, 0}, {side, side}, {0, side}});
}

TEST(Cutting, WhatACutOffcutLeavesGoesToTheRackAndComesBackWithIt) {
    Loft loft({square(1500)});
    const auto done = loft.cut_mat(0, loft.offcuts[0]);
    ASSERT_TRUE(done) << done.findings[0].says;
    ASSERT_EQ(done->offcuts.size(), 1u);
    const Offcut left = *read_offcut(loft.store, done->offcuts[0]);
    EXPECT_EQ(left.lot, "L1");
    EXPECT_EQ(left.from_job, loft.mat);
    EXPECT_EQ(left.state, OffcutState::in_rack);
    // All of 1500 x 1500 but the mat and its knife room; the corner it was cut from is gone for good.
    EXPECT_LT(left.area_mm2, 1500.0 * 1500 - 558.8 * 660.4);
    EXPECT_GT(left.area_mm2, 1500.0 * 1500 - 900 * 1000);
    EXPECT_GT(left.outline.size(), 4u);
    EXPECT_EQ(read_offcut(loft.store, loft.offcuts[0])->state, OffcutState::used);
    // Nothing is cut from what the first cut left: both go back.
    const std::string layout = list_layouts(loft.store, loft.mat)->front().id;
    ASSERT_TRUE(uncut_layout(loft.store, layout, "pat"));
    EXPECT_EQ(read_offcut(loft.store, loft.offcuts[0])->state, OffcutState::in_rack);
    EXPECT_EQ(read_offcut(loft.store, left.id)->state, OffcutState::gone);
    // Cut again and something taken from what it left: it stays cut.
    const auto again = loft.cut_mat(0, loft.offcuts[0]);
    ASSERT_TRUE(again) << again.findings[0].says;
    const Id other = add_job(loft.store, new_job(mat_document()))->id;
    ASSERT_TRUE(cut_job(loft.store, {other, 0, again->offcuts[0], false, false, "pat"}, kInARow));
    const std::string second = list_layouts(loft.store, loft.mat)->back().id;
    EXPECT_EQ(code_of(uncut_layout(loft.store, second, "pat")), "offcut-used");
    EXPECT_TRUE(audit_stock(loft.store));
}

TEST(Cutting, AJobCutFromAnOffcutHoldsNothingOfARoll) {
    Loft loft({square(1000)});
    ASSERT_TRUE(reserve(loft.store, loft.roll, loft.mat, 2'000'000, "pat"));
    ASSERT_TRUE(reserve(loft.store, loft.roll, loft.job, 1'000'000, "pat"));
    ASSERT_TRUE(loft.cut_mat(0, loft.offcuts[0]));
    EXPECT_EQ(read_roll(loft.store, loft.roll)->reserved_um, 1'000'000) << "the other job's stays";
}

TEST(Choice, AnOffcutThatServesComesFirstAndTheRollIsLeftWhole) {
    Loft loft({square(1000), square(700), square(500)});
    loft.price();
    const auto choices = stock_choices(loft.store, loft.mat, kInARow);
    ASSERT_TRUE(choices) << choices.findings[0].says;
    ASSERT_EQ(choices->size(), 4u);  // two offcuts, the roll, to buy; 500 holds no mat
    EXPECT_EQ(choices->at(0).offcut, loft.offcuts[0]) << "what is left of the large one can be used";
    EXPECT_EQ(choices->at(1).offcut, loft.offcuts[1]) << "all the rest of the small one is waste";
    EXPECT_EQ(choices->at(2).roll, loft.roll);
    EXPECT_TRUE(choices->at(3).roll == 0 && choices->at(3).offcut == 0);
    // 1000 x 1000 of a roll 71 in (1803.4 mm) wide is 554.5 mm of it, at 36.00 for 914.4: 21.83, half of it 10.92;
    // 700 x 700 is 271.7 mm, 10.70 and 5.35, and nothing 300 wide is left.
    EXPECT_EQ(choices->at(0).taken, 1092);
    EXPECT_EQ(choices->at(1).taken, 535);
    EXPECT_EQ(choices->at(1).left, 0);
    for (std::size_t i = 1; i < 4; ++i) EXPECT_LE(choices->at(i - 1).cost(), choices->at(i).cost());
    ASSERT_TRUE(loft.cut_mat(0, 0, true));
    EXPECT_EQ(read_offcut(loft.store, loft.offcuts[0])->state, OffcutState::used);
    EXPECT_EQ(read_roll(loft.store, loft.roll)->left_um, 8 * kMetre_um);
}

// Both lose the corner that the mat is cut from; what the large one would leave is larger, and all of it larger still.
TEST(Choice, AmongEqualsTheLargestRectangleStaysWhole) {
    Loft loft({corners({{0, 0}, {2500, 0}, {2500, 1500}, {0, 1500}}), square(1500)});
    const auto choices = stock_choices(loft.store, loft.mat, kInARow);
    ASSERT_TRUE(choices);
    EXPECT_NEAR(choices->at(0).taken_mm2 - choices->at(0).left_mm2,
                choices->at(1).taken_mm2 - choices->at(1).left_mm2, 1);
    EXPECT_EQ(choices->at(0).offcut, loft.offcuts[1]);
    EXPECT_EQ(choices->at(1).offcut, loft.offcuts[0]);
}

TEST(Choice, ARollsEndIsUsedUpButNotToWaste) {
    Loft loft;
    const Id end = receive_roll(loft.store, loft.goods, "L2", "", 900'000, "pat")->id;
    const Id waste = receive_roll(loft.store, loft.goods, "L3", "", 800'000, "pat")->id;
    ASSERT_TRUE(receive_roll(loft.store, loft.goods, "L4", "", 500'000, "pat"));
    const auto choices = stock_choices(loft.store, loft.mat, kInARow);
    ASSERT_TRUE(choices);
    std::vector<StockChoice> rolls;
    for (const StockChoice& choice : *choices)
        if (choice.roll) rolls.push_back(choice);
    ASSERT_EQ(rolls.size(), 3u) << "500 mm are too short";
    EXPECT_EQ(rolls[0].roll, end) << "330 mm stay usable, and no long roll is begun";
    EXPECT_EQ(rolls[1].roll, loft.roll);
    EXPECT_EQ(rolls[2].roll, waste) << "230 mm would be lost";
    EXPECT_THAT(rolls[2].because, HasSubstr("too little to use"));
}

// Large enough by their box and their area, and of no use.
TEST(Choice, ManyThatDoNotServeDoNotHideTheOneThatDoes) {
    Loft loft({square(900)});
    raw(loft.path,
        "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i+1 FROM n WHERE i<1200) INSERT INTO offcut "
        "SELECT NULL," +
            std::to_string(loft.goods) +
            ",'L1',NULL,'','[[0,0,0],[700,0,0],[700,300,0],[300,300,0],[300,1000,0],[0,1000,0]]',700000,"
            "1000000,420000,0,1 FROM n");
    const auto choices = stock_choices(loft.store, loft.mat, kInARow);
    ASSERT_TRUE(choices);
    EXPECT_EQ(choices->front().offcut, loft.offcuts[0]);
    const auto fits = offcuts_for(loft.store, loft.mat, kInARow);
    ASSERT_EQ(fits->size(), 1u);
    EXPECT_EQ(fits->front().id, loft.offcuts[0]);
}

// A search that ends where no less could be bought: a roll of the rack is not bought in steps.
TEST(Cutting, ARollLosesNoMoreThanTheShortestLayout) {
    Loft loft;
    const SolverFor to_the_step = [](const Job&) {
        return [](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext&) {
            Layout layout;
            const double x = goods.step_mm > 0 ? 200 : goods.edge_gap();
            for (const LayoutPiece& piece : pieces)
                layout.placements.push_back(
                    {piece.id, std::llround(x * 1000), std::llround(goods.edge_gap() * 1000)});
            measure_layout(pieces, goods, layout);
            return Result<Layout>::ok(std::move(layout));
        };
    };
    // 558.8 mm of mat, 6.35 mm at both ends.
    const auto choices = stock_choices(loft.store, loft.mat, to_the_step);
    ASSERT_TRUE(choices);
    for (const StockChoice& choice : *choices) EXPECT_NEAR(choice.layout.used_mm, 571.5, 0.001);
    EXPECT_NEAR(choices->back().layout.bought_mm, 914.4, 0.001) << "bought it is in steps all the same";
    ASSERT_TRUE(cut_job(loft.store, {loft.mat, loft.roll, 0, false, false, "pat"}, to_the_step));
    EXPECT_EQ(read_roll(loft.store, loft.roll)->left_um, 10 * kMetre_um - 571'500);
    // What the job keeps is cut as it was kept.
    ASSERT_TRUE(uncut_layout(loft.store, list_layouts(loft.store, loft.mat)->front().id, "pat"));
    const Revision before = *read_revision(loft.store, loft.mat);
    const Job job = *read_job(before.document);
    Layout kept;
    kept.placements = {{"a", 100'000, 6'350}};
    ASSERT_TRUE(append_revision(
        loft.store, {loft.mat, before.rev, write_said(keep_layout(job, kept)->said), {}, "pat", "kept"}));
    ASSERT_TRUE(cut_job(loft.store, {loft.mat, loft.roll, 0, false, false, "pat"}, to_the_step));
    EXPECT_EQ(read_roll(loft.store, loft.roll)->left_um, 10 * kMetre_um - 665'150);
}

TEST(Choice, WhatOthersHoldIsNotOffered) {
    Loft loft;
    ASSERT_TRUE(reserve(loft.store, loft.roll, loft.job, 9'800'000, "pat"));
    const auto refused = loft.cut_mat(0, 0, true);
    ASSERT_EQ(code_of(refused), "stock-short");
    EXPECT_THAT(refused.findings[0].to_do, HasSubstr("1 yd to buy"));
    EXPECT_EQ(job_head(loft.store, loft.mat)->rev, 1) << "nothing was written";
    EXPECT_EQ(code_of(loft.cut_mat(loft.roll, 0, true)), "stock-missing");
}

TEST(Choice, WhatIsSeenTogetherComesFromOneLot) {
    Loft loft;
    ASSERT_TRUE(loft.cut_mat(loft.roll, 0));
    const Id other = receive_roll(loft.store, loft.goods, "L2", "", 900'000, "pat")->id;
    // A spoiled piece is cut again: the other lot is cheaper to begin, and comes last of what can be cut.
    const auto choices = stock_choices(loft.store, loft.mat, kInARow);
    ASSERT_TRUE(choices);
    EXPECT_EQ(choices->front().lot, "L1");
    EXPECT_FALSE(choices->front().other_lot);
    for (const StockChoice& choice : *choices)
        EXPECT_EQ(choice.other_lot, choice.roll != loft.roll && !choice.offcut);
    ASSERT_TRUE(loft.cut_mat(0, 0, true, true));
    EXPECT_EQ(read_roll(loft.store, other)->left_um, 900'000);
}

}  // namespace
}  // namespace spile::shop
