// Goods, rolls, offcuts and the cutting of them.
#include <gmock/gmock.h>

#include <random>

#include "core/geom/measure_of.h"
#include "tests/shop/rack.h"

namespace spile::shop {
namespace {

using testing::HasSubstr;

TEST(Goods, AreNamedAndSayTheirWidth) {
    Rack rack;
    EXPECT_EQ(code_of(save_goods(rack.store, {0, "", R"({"width": 72})", ""})), "name-missing");
    for (const char* wrong : {"", "{", "[]", "3", R"({"length": 3})"})
        EXPECT_EQ(code_of(save_goods(rack.store, {0, "x", wrong, ""})), "goods-refused") << wrong;
    EXPECT_EQ(code_of(save_goods(rack.store, {99, "x", R"({"width": 72})", ""})), "not-there");
    EXPECT_EQ(code_of(save_goods(rack.store, {0, "woven vinyl, sand", R"({"width": 54})", ""})),
              "goods-known");
    ASSERT_TRUE(save_goods(rack.store, {0, "carpet", R"({"width": "2 m"})", "from the mill"}));
    EXPECT_EQ(find_goods(rack.store, "MILL")->size(), 1u);
    EXPECT_EQ(find_goods(rack.store, "")->size(), 2u);
    EXPECT_EQ(code_of(remove_goods(rack.store, rack.goods)), "refers-to-it");
    EXPECT_TRUE(remove_goods(rack.store, find_goods(rack.store, "carpet")->front().id));
}

TEST(Rolls, AreReceivedOnceAndCounted) {
    Rack rack;
    const auto again = receive_roll(rack.store, rack.goods, "L1", "a", kMetre_um, "pat");
    EXPECT_EQ(code_of(again), "roll-known");
    for (std::int64_t wrong : {std::int64_t{0}, std::int64_t{-1}, 1'000'000'001 * std::int64_t{1000}})
        EXPECT_EQ(code_of(receive_roll(rack.store, rack.goods, "L2", "", wrong, "pat")), "length-refused");
    EXPECT_EQ(code_of(receive_roll(rack.store, 77, "L2", "", kMetre_um, "pat")), "not-there");
    ASSERT_TRUE(reserve(rack.store, rack.roll, rack.job, 4 * kMetre_um, "pat"));
    EXPECT_EQ(code_of(count_roll(rack.store, rack.roll, 3 * kMetre_um, "", "pat")), "reserved");
    EXPECT_EQ(count_roll(rack.store, rack.roll, 9'700'000, "the tape says so", "pat")->left_um, 9'700'000);
    const auto moves = list_movements(rack.store, rack.roll);
    ASSERT_EQ(moves->size(), 2u);
    EXPECT_EQ(moves->front().um, -300'000);
    EXPECT_STREQ(movement_word(moves->front().kind), "counted");
    EXPECT_EQ(*audit_stock(rack.store), 1u);
}

TEST(Rolls, WhatIsReservedIsGoneForOthers) {
    Rack rack;
    const Id other = add_job(rack.store, new_job(document("other")))->id;
    EXPECT_EQ(reserve(rack.store, rack.roll, other, 7 * kMetre_um, "pat")->reserved_um, 7 * kMetre_um);
    // Again for the same job: instead, not besides.
    EXPECT_EQ(reserve(rack.store, rack.roll, other, 8 * kMetre_um, "pat")->reserved_um, 8 * kMetre_um);
    const auto short_of = reserve(rack.store, rack.roll, rack.job, 2'500'000, "pat");
    EXPECT_EQ(code_of(short_of), "short-of-roll");
    EXPECT_THAT(short_of.findings[0].says,
                HasSubstr("8000.0 mm (315.0 in) are reserved for others; 2500.0 mm (98.4 in) are wanted"));
    EXPECT_EQ(stock_of(rack.store, "woven vinyl, sand", rack.job)->longest_free_um, 2 * kMetre_um);
    EXPECT_EQ(stock_of(rack.store, "woven vinyl, sand", other)->longest_free_um, 10 * kMetre_um);
    EXPECT_FALSE(stock_of(rack.store, "silk", other)->known);
    EXPECT_EQ(code_of(accept_layout(rack.store, rack.cut("l1", 2'500'000))), "short-of-roll");
    EXPECT_EQ(job_head(rack.store, rack.job)->rev, 1);  // neither
    ASSERT_TRUE(accept_layout(rack.store, rack.cut("l1", 2'000'000)));
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, 8 * kMetre_um);
    EXPECT_EQ(reserve(rack.store, rack.roll, other, 0, "pat")->reserved_um, 0);
    EXPECT_EQ(*audit_stock(rack.store), 1u);
}

TEST(Accept, CutsTheRollOnceAndSavesWhatIsLeft) {
    Rack rack;
    ASSERT_TRUE(reserve(rack.store, rack.roll, rack.job, 3 * kMetre_um, "pat"));
    AcceptLayout accept = rack.cut("l1", 2'345'678);
    accept.left = {{corners({{100, 200}, {700, 200}, {700, 900}, {100, 900}})},
                   {corners({{0, 0}, {400, 0}, {0, 300}})}};
    const auto done = accept_layout(rack.store, accept);
    ASSERT_TRUE(done) << done.findings[0].says;
    EXPECT_EQ(done->job.rev, 2);
    EXPECT_EQ(read_revision(rack.store, rack.job)->document, accept.document);
    const Roll roll = *read_roll(rack.store, rack.roll);
    EXPECT_EQ(roll.left_um, 10 * kMetre_um - 2'345'678);
    EXPECT_EQ(roll.reserved_um, 0);
    ASSERT_EQ(done->offcuts.size(), 2u);
    const Offcut offcut = *read_offcut(rack.store, done->offcuts[0]);
    EXPECT_EQ(offcut.length_um, 600'000);
    EXPECT_EQ(offcut.width_um, 700'000);
    EXPECT_DOUBLE_EQ(offcut.area_mm2, 600.0 * 700);
    EXPECT_EQ(offcut.lot, "L1");
    EXPECT_EQ(box_of(offcut.outline).min.x, 0);  // brought to the origin
    // Sent again: known, nothing moves.
    accept.base_rev = 2;
    EXPECT_EQ(code_of(accept_layout(rack.store, accept)), "layout-known");
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, roll.left_um);
    // On an old revision: told, nothing moves.
    AcceptLayout old = rack.cut("l2", 1000);
    old.base_rev = 1;
    EXPECT_EQ(code_of(accept_layout(rack.store, old)), "job-changed-since");
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, roll.left_um);
    AcceptLayout neither = rack.cut("l3", 1000);
    neither.roll = 0;
    EXPECT_EQ(code_of(accept_layout(rack.store, neither)), "stock-missing");
    EXPECT_EQ(code_of(accept_layout(rack.store, rack.cut("l4", 0))), "length-refused");
    EXPECT_EQ(code_of(accept_layout(rack.store, rack.cut("", 1000))), "layout-refused");
    AcceptLayout no_outline = rack.cut("l5", 1000);
    no_outline.left = {{Outline{}}};
    EXPECT_EQ(code_of(accept_layout(rack.store, no_outline)), "offcut-refused");
    EXPECT_EQ(*audit_stock(rack.store), 1u);
}

TEST(Accept, OtherGoodsThanTheJobsAreRefusedWithBothNames) {
    Rack rack;
    AcceptLayout accept = rack.cut("l1", 1000);
    accept.document = document("sole", R"(, "goods": {"name": "carpet, grey"})");
    const auto other = accept_layout(rack.store, accept);
    ASSERT_EQ(code_of(other), "goods-differ");
    EXPECT_THAT(other.findings[0].says, HasSubstr("Roll 1 is \"woven vinyl, sand\""));
    EXPECT_THAT(other.findings[0].says, HasSubstr("laid out in \"carpet, grey\""));
    accept.document = document("sole");
    EXPECT_EQ(code_of(accept_layout(rack.store, accept)), "goods-differ");
    // Nothing has moved, no revision was made.
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, 10 * kMetre_um);
    EXPECT_EQ(job_head(rack.store, rack.job)->rev, 1);
    // From an offcut too.
    AcceptLayout first = rack.cut("l2", 2'000'000);
    first.left = {{corners({{0, 0}, {600, 0}, {600, 700}, {0, 700}})}};
    const Id offcut = accept_layout(rack.store, first)->offcuts[0];
    AcceptLayout second = rack.cut("l3", 0);
    second.roll = 0;
    second.offcut = offcut;
    second.document = document("sole", R"(, "goods": {"name": "carpet, grey"})");
    EXPECT_EQ(code_of(accept_layout(rack.store, second)), "goods-differ");
    second.document = sand_document("sole");
    EXPECT_EQ(code_of(accept_layout(rack.store, second)), "");
    EXPECT_TRUE(audit_stock(rack.store));
}

TEST(Accept, NothingIsCutFromAnUncheckedCopy) {
    Rack rack;
    raw(rack.path, "UPDATE job SET unchecked=1");
    EXPECT_EQ(code_of(accept_layout(rack.store, rack.cut("l1", 1000))), "job-unchecked");
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, 10 * kMetre_um);
}

TEST(Accept, TakenBackIsAsBefore) {
    Rack rack;
    AcceptLayout accept = rack.cut("l1", 2'000'000);
    accept.left = {{corners({{0, 0}, {600, 0}, {600, 700}, {0, 700}})}};
    const Id offcut = accept_layout(rack.store, accept)->offcuts[0];
    EXPECT_EQ(code_of(take_back_layout(rack.store, "l9", 2, document("sole"), "pat")), "layout-not-there");
    // Another job is cut from what the first left.
    AcceptLayout second = rack.cut("l2", 0);
    second.roll = 0;
    second.offcut = offcut;
    ASSERT_TRUE(accept_layout(rack.store, second));
    EXPECT_EQ(code_of(accept_layout(rack.store,
                                    [&] {
                                        AcceptLayout twice = rack.cut("l3", 0);
                                        twice.roll = 0;
                                        twice.offcut = offcut;
                                        return twice;
                                    }())),
              "offcut-not-there");
    EXPECT_EQ(code_of(take_back_layout(rack.store, "l1", 3, document("sole"), "pat")), "offcut-used");
    ASSERT_TRUE(take_back_layout(rack.store, "l2", 3, document("sole"), "pat"));
    EXPECT_EQ(read_offcut(rack.store, offcut)->state, OffcutState::in_rack);
    ASSERT_TRUE(take_back_layout(rack.store, "l1", 4, document("sole"), "pat"));
    EXPECT_EQ(read_offcut(rack.store, offcut)->state, OffcutState::gone);
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, 10 * kMetre_um);
    EXPECT_EQ(code_of(take_back_layout(rack.store, "l1", 5, document("sole"), "pat")), "layout-not-there");
    EXPECT_EQ(*audit_stock(rack.store), 1u);
}

TEST(Offcuts, AreOfferedSmallestFirst) {
    Rack rack;
    AcceptLayout accept = rack.cut("l1", 2'000'000);
    for (double side : {900.0, 500.0, 700.0})
        accept.left.push_back({corners({{0, 0}, {side, 0}, {side, side}, {0, side}})});
    ASSERT_TRUE(accept_layout(rack.store, accept));
    OffcutQuery query;
    query.goods = rack.goods;
    query.least_length_um = 600'000;
    const auto found = find_offcuts(rack.store, query);
    ASSERT_EQ(found->size(), 2u);
    EXPECT_EQ(found->front().length_um, 700'000);
    query.lot = "L2";
    EXPECT_TRUE(find_offcuts(rack.store, query)->empty());
    ASSERT_TRUE(discard_offcut(rack.store, found->front().id, "torn", "pat"));
    EXPECT_EQ(code_of(discard_offcut(rack.store, found->front().id, "torn", "pat")), "offcut-not-there");
    EXPECT_EQ(code_of(discard_offcut(rack.store, 99, "", "pat")), "not-there");
}

// What happens to the roll is added up here a second time, by the rules alone.
TEST(Stock, RandomStepsNeverGoBelowNothing) {
    Rack rack;
    const Id other = add_job(rack.store, new_job(document("other")))->id;
    std::mt19937 random(7);
    const auto upto = [&](std::int64_t most) { return static_cast<std::int64_t>(random() % (most + 1)); };
    std::int64_t left = 10 * kMetre_um, held[2] = {0, 0};
    std::vector<std::pair<std::string, std::int64_t>> cuts;
    int refused = 0;
    for (int step = 0; step < 300; ++step) {
        const bool mine = upto(1) == 0;
        const std::int64_t um = upto(4 * kMetre_um) + 1, others = held[mine ? 1 : 0];
        switch (upto(3)) {
            case 0: {
                const bool free = um <= left - others;
                EXPECT_EQ(
                    static_cast<bool>(reserve(rack.store, rack.roll, mine ? rack.job : other, um, "pat")),
                    free);
                if (free) held[mine ? 0 : 1] = um;
                refused += !free;
                break;
            }
            case 1: {
                AcceptLayout accept = rack.cut("l" + std::to_string(step), um);
                const bool free = um <= left - held[1];
                EXPECT_EQ(static_cast<bool>(accept_layout(rack.store, accept)), free);
                if (free) {
                    left -= um;
                    held[0] = 0;
                    cuts.push_back({accept.layout, um});
                }
                refused += !free;
                break;
            }
            case 2:
                if (cuts.empty()) break;
                ASSERT_TRUE(take_back_layout(rack.store, cuts.back().first,
                                             job_head(rack.store, rack.job)->rev, document("sole"), "pat"));
                left += cuts.back().second;
                cuts.pop_back();
                break;
            default: {
                const bool enough = um >= held[0] + held[1];
                EXPECT_EQ(static_cast<bool>(count_roll(rack.store, rack.roll, um, "", "pat")), enough);
                if (enough) left = um;
            }
        }
        const Roll roll = *read_roll(rack.store, rack.roll);
        ASSERT_EQ(roll.left_um, left) << step;
        ASSERT_EQ(roll.reserved_um, held[0] + held[1]) << step;
        ASSERT_GE(roll.left_um, roll.reserved_um) << step;
    }
    EXPECT_GT(refused, 20);
    EXPECT_EQ(*audit_stock(rack.store), 1u);
}

TEST(Stock, AnAuditSeesAPlantedFault) {
    Rack rack;
    ASSERT_TRUE(accept_layout(rack.store, rack.cut("l1", 2'000'000)));
    raw(rack.path, "UPDATE roll SET left_um=left_um+1");
    const auto found = audit_stock(rack.store);
    ASSERT_EQ(code_of(found), "stock-wrong");
    EXPECT_THAT(found.findings[0].says, HasSubstr("by its movements"));
}

TEST(Stock, TheBookItselfKeepsItsRules) {
    Rack rack;
    EXPECT_NE(raw_code(rack.path, "UPDATE roll SET left_um=-1"), 0);
    EXPECT_NE(raw_code(rack.path, "INSERT INTO payment VALUES(1,1,'2026-01-01',0,'USD','','',0)"), 0);
}

}  // namespace
}  // namespace spile::shop
