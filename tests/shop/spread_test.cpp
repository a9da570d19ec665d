// A set over several lengths of the rack: chosen in money, kept, cut all or none, and taken back.
#include "shop/spread.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "shop/choice.h"
#include "shop/cutting.h"
#include "shop/offcuts.h"
#include "shop/price_lists.h"
#include "shop/sending.h"
#include "tests/layout/pieces.h"
#include "tests/shop/rack.h"

namespace spile::shop {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

LayoutSolver search() {
    return [](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& run) {
        SolveOptions options;
        options.rounds = 4;
        return solve_layout(pieces, goods, options, run);
    };
}
const SolverFor kSearch = [](const Job&) { return search(); };

/// The best over an offcut of 320 x 220 mm, a roll of 600 mm and one of `longer_mm`, all of one lot, without a price.
std::optional<SpreadSet> over_three(const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                    double longer_mm) {
    Offcut offcut;
    offcut.outline = rectangle({0, 0}, {320, 220});
    offcut.area_mm2 = 320.0 * 220;
    Roll short_roll, long_roll;
    short_roll.left_um = 600'000;
    long_roll.left_um = std::llround(longer_mm * 1000);
    const std::vector<StockLength> lengths{{{"offcut 1", "L", 0, offcut.outline}, nullptr, &offcut},
                                           {{"roll 1", "L", 600, {}}, &short_roll, nullptr},
                                           {{"roll 2", "L", longer_mm, {}}, &long_roll, nullptr}};
    const Worth worth(goods, {});
    return Spreading(pieces, goods, lengths, worth, search(), std::nullopt).best({true, true, true});
}

TEST(Spread, WhatFitsAnOffcutLiesThereAndTheRestWhereItGoes) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400), mat("3", 300, 200)};
    const Goods goods = goods_of(500, 5);
    const auto one_each = over_three(pieces, goods, 1000);
    ASSERT_TRUE(one_each);
    EXPECT_THAT(check_layout(pieces, goods, one_each->layout), IsEmpty());
    EXPECT_THAT(one_each->lengths, ElementsAre(0, 1, 2)) << "1000 mm do not hold both of 500";
    EXPECT_EQ(one_each->layout.placements[2].stretch, 0);
    EXPECT_NE(one_each->layout.placements[0].stretch, one_each->layout.placements[1].stretch);
    const auto two = over_three(pieces, goods, 1400);
    ASSERT_TRUE(two);
    EXPECT_THAT(two->lengths, ElementsAre(0, 2)) << "of 600 mm 90 would be lost";
    EXPECT_FALSE(over_three(pieces, goods, 400));
    // What carries one pattern stays on one length.
    std::vector<LayoutPiece> cloth = pieces;
    for (LayoutPiece& piece : cloth) piece.cloth = "cockpit";
    Goods striped = goods;
    striped.repeat.along_mm = 50;
    const auto together = over_three(cloth, striped, 5000);
    ASSERT_TRUE(together);
    EXPECT_THAT(together->lengths, ElementsAre(2));
}

// So cheap that every way comes to nothing. Apart the two leave a larger rectangle, but that is one more length to spread and cut.
TEST(Spread, AmongWaysEqualInMoneyTheOneOverFewerLengths) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 600), mat("2", 900, 300)};
    const Goods goods = goods_of(1000, 0);
    Roll one, other;
    one.left_um = other.left_um = 2'000'000;
    const std::vector<StockLength> lengths{{{"roll 1", "L", 2000, {}}, &one, nullptr},
                                           {{"roll 2", "L", 2000, {}}, &other, nullptr}};
    const Worth worth(goods, {{1, 100'000'000, 0}});
    const auto set = Spreading(pieces, goods, lengths, worth, search(), std::nullopt).best({true, true});
    ASSERT_TRUE(set);
    EXPECT_EQ(set->loss.money, 0);
    EXPECT_EQ(set->lengths.size(), 1u);
}

// Ten more than are moved one by one: the largest stay together, the small ones still find the offcut.
TEST(Spread, OfManyPiecesTheLargestStayTogether) {
    std::vector<LayoutPiece> pieces;
    for (int k = 0; k < 18; ++k)
        pieces.push_back(mat(std::to_string(k), k == 17 ? 300 : 440 + k, k == 17 ? 200 : 400));
    const Goods goods = goods_of(500, 5);
    const auto set = over_three(pieces, goods, 20000);
    ASSERT_TRUE(set);
    EXPECT_THAT(check_layout(pieces, goods, set->layout), IsEmpty());
    EXPECT_EQ(set->lengths.front(), 0u);
    EXPECT_EQ(set->layout.placements[17].stretch, 0);
}

TEST(Loss, AmongEqualsInMoneyTheLargestRectangleStaysWhole) {
    const Loss small_cut{100, {400}, {900}}, large_cut{100, {1500}, {2000}};
    EXPECT_TRUE(small_cut.better_than(large_cut)) << "2000 stays whole";
    EXPECT_FALSE(large_cut.better_than(small_cut));
    EXPECT_TRUE((Loss{100, {700, 100}, {}}).better_than({100, {600, 500}, {}})) << "not their sum";
    EXPECT_TRUE((Loss{100, {700, 200}, {}}).better_than({100, {700, 100}, {}}));
    EXPECT_TRUE((Loss{99, {}, {2000}}).better_than({100, {}, {}})) << "money first";
    EXPECT_FALSE((Loss{100, {700}, {}}).better_than({100, {700}, {}}));
    // One more length is one more to fetch, spread and cut.
    EXPECT_TRUE((Loss{100, {}, {2000}, 1}).better_than({100, {700}, {}, 2})) << "before the rack";
    EXPECT_TRUE((Loss{99, {}, {}, 3}).better_than({100, {}, {}, 1})) << "after the money";
}

/// Eight mats of their own, of which no two are alike, and fourteen short rolls of four lots.
struct FourteenShortRolls : Book {
    explicit FourteenShortRolls(const std::vector<std::string>& mats) {
        const Id goods = save_goods(store, {0, "woven vinyl", R"({"width": 72})", ""})->id;
        for (int k = 1; k <= 14; ++k)
            receive_roll(store, goods, "L" + std::to_string(k % 4), std::to_string(k), (30 + 3 * k) * 25'400,
                         "pat");
        std::string panels;
        for (const std::string& size : mats)
            panels += (panels.empty() ? "" : ", ") + (R"({"id": ")" + std::to_string(panels.size())) +
                      R"(", "mat": ")" + size + R"(, sealed"})";
        job = add_job(store, new_job(R"({"spile": 1, "title": "mats", "units": "in", "mark_on": "back",
            "goods": {"name": "woven vinyl", "width": 72, "usable_width": "71 1/2", "gap": "1/4", "step": 36},
            "panels": [)" + panels + "]}"))
                  ->id;
    }
    Id job = 0;
};

// Six hundred tries were spent on what looked cheaper, and all that was offered was to buy.
TEST(Spread, EightMatsFindTheirWayOverManyShortRolls) {
    FourteenShortRolls loft(
        {"24 x 36", "30 x 36", "24 x 40", "28 x 33", "20 x 36", "24 x 26", "22 x 46", "34 x 36"});
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    ASSERT_TRUE(choices) << choices.findings[0].says;
    EXPECT_TRUE(choices->front().in_rack());
    EXPECT_LE(choices->front().more.size(), 3u);
    EXPECT_THAT(choices.findings, IsEmpty());
}

// Where nothing is ever proved or found, what takes no search is offered, and that it may not be the cheapest is said.
TEST(Spread, WhereTriesRunOutAnObviousWayIsOfferedAndTheyAreSaid) {
    FourteenShortRolls loft(
        {"37 x 31", "30 x 39", "38 x 28", "32 x 37", "38 x 25", "34 x 28", "32 x 29", "24 x 28"});
    const SolverFor lost = [](const Job&) -> LayoutSolver {
        return [](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& run) {
            if (pieces.size() == 8) return search()(pieces, goods, run);  // else the job itself has none
            return Result<Layout>::refuse({"lost", Severity::stop, {}, {}, "", "", ""});
        };
    };
    const auto choices = stock_choices(loft.store, loft.job, lost);
    ASSERT_TRUE(choices);
    ASSERT_EQ(choices.findings.size(), 1u);
    EXPECT_EQ(choices.findings[0].code, "choice-unsettled");
    EXPECT_THAT(choices.findings[0].says, HasSubstr("14 lengths of the rack"));
    EXPECT_THAT(choices.findings[0].says, HasSubstr("at most 600 are made"));
    EXPECT_TRUE(choices->front().in_rack());
    const auto done = cut_job(loft.store, {loft.job, 0, 0, true, false, "pat"}, lost);
    ASSERT_TRUE(done);
    ASSERT_EQ(done.findings.size(), 1u) << "said where it is cut, too";
    EXPECT_EQ(done.findings[0].code, "choice-unsettled");
}

TEST(LargestRectangle, OfARectangleIsAllOfItAndOfAnEllItsLargerArm) {
    EXPECT_NEAR(largest_rectangle_mm2(rectangle({0, 0}, {1000, 600})), 600'000, 1);
    const Outline ell = corners({{0, 0}, {1000, 0}, {1000, 300}, {400, 300}, {400, 800}, {0, 800}});
    EXPECT_NEAR(largest_rectangle_mm2(ell), 400 * 800, 1000 * 25);
    EXPECT_LE(largest_rectangle_mm2(ell), 400 * 800);
}

/// Three mats of 20 x 24 in; two rolls of one lot too short for three, a long one of another lot.
struct ShortRolls : Book {
    ShortRolls() {
        goods = save_goods(store, {0, "woven vinyl, sand", R"({"width": 30})", ""})->id;
        short_1 = receive_roll(store, goods, "L1", "a", 1'300'000, "pat")->id;
        short_2 = receive_roll(store, goods, "L1", "b", 900'000, "pat")->id;
        job = add_job(store, new_job(R"({"spile": 1, "title": "mats", "units": "in", "mark_on": "back",
            "goods": {"name": "woven vinyl, sand", "width": 30, "gap": "1/4", "step": 36},
            "panels": [{"id": "1", "mat": "20 x 24, sealed"}, {"id": "2", "mat": "20 x 24, sealed"},
                       {"id": "3", "mat": "20 x 24, sealed"}]})"))
                  ->id;
    }
    Id goods = 0, short_1 = 0, short_2 = 0, job = 0;
};

TEST(Spread, ASetThatNoLengthHoldsIsCutFromTwoAndGoesBackToBoth) {
    ShortRolls loft;
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    ASSERT_TRUE(choices) << choices.findings[0].says;
    ASSERT_EQ(choices->size(), 3u) << "both rolls, one of them and a purchase, all bought";
    const auto in_rack =
        std::find_if(choices->begin(), choices->end(), [](const StockChoice& c) { return c.in_rack(); });
    ASSERT_NE(in_rack, choices->end());
    const StockChoice& both = *in_rack;
    ASSERT_EQ(both.more.size(), 1u);
    EXPECT_GT(both.more[0].used_um, 500'000) << "what is cut from the second roll is said too";
    EXPECT_THAT(both.because, HasSubstr("all of one lot"));
    EXPECT_THAT(both.kept_layout, HasSubstr("stretches"));

    const auto done = cut_job(loft.store, {loft.job, 0, 0, true, false, "pat"}, kSearch);
    ASSERT_TRUE(done) << done.findings[0].says;
    const auto layouts = list_layouts(loft.store, loft.job);
    ASSERT_EQ(layouts->size(), 1u);
    const AcceptedLayout& cut = layouts->front();
    ASSERT_EQ(cut.more.size(), 1u);
    EXPECT_NE(cut.roll, cut.more[0].roll);
    EXPECT_EQ(read_roll(loft.store, loft.short_1)->left_um + read_roll(loft.store, loft.short_2)->left_um,
              2'200'000 - cut.used_um - cut.more[0].used_um);
    EXPECT_TRUE(audit_stock(loft.store));
    // Kept with the lengths by name; read again it is proved on them.
    const Job kept = *read_job(read_revision(loft.store, loft.job)->document);
    ASSERT_TRUE(kept.kept_layout);
    EXPECT_EQ(kept.kept_layout->stretches.size(), 2u);
    const Derived derived = run_job(kept, {}, {});
    ASSERT_TRUE(derived.layout);
    for (const Finding& f : derived.findings) EXPECT_EQ(f.code.find("kept-layout"), f.code.npos) << f.says;

    ASSERT_TRUE(uncut_layout(loft.store, cut.id, "pat"));
    EXPECT_EQ(read_roll(loft.store, loft.short_1)->left_um, 1'300'000);
    EXPECT_EQ(read_roll(loft.store, loft.short_2)->left_um, 900'000);
    EXPECT_TRUE(audit_stock(loft.store));
}

TEST(Spread, AQuoteCallsShortWhatNoRollHoldsButNotWhatIsCutAlready) {
    ShortRolls loft;
    ASSERT_TRUE(add_price_list(loft.store,
                               R"({"prices": 1, "since": "2026-01-01", "currency": "USD", "units": "in",
            "goods": [{"name": "woven vinyl, sand", "price": "38.00", "per": 36}],
            "labour_per_hour": "65.00", "margin": "35"})",
                               "pat"));
    const auto codes = [&] {
        const auto draft =
            draft_paper(loft.store, {SentKind::quote, loft.job, "2026-03-01", false, {}, "pat"}, kSearch);
        std::vector<std::string> out;
        for (const Finding& f : draft.findings) out.push_back(f.code);
        return out;
    };
    EXPECT_THAT(codes(), ElementsAre("short-of-roll", "shop-unnamed", "customer-unnamed"));
    ASSERT_TRUE(cut_job(loft.store, {loft.job, 0, 0, true, false, "pat"}, kSearch));
    EXPECT_THAT(codes(), ElementsAre("shop-unnamed", "customer-unnamed"));
}

TEST(Spread, MatsMayBeOfSeveralLots) {
    ShortRolls loft;
    ASSERT_TRUE(count_roll(loft.store, loft.short_2, 0, "sold", "pat"));
    const Id of_other = receive_roll(loft.store, loft.goods, "L2", "a", 900'000, "pat")->id;
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    ASSERT_TRUE(choices);
    const auto mixed = std::find_if(choices->begin(), choices->end(),
                                    [](const StockChoice& c) { return c.lot == "L1, L2" && c.in_rack(); });
    ASSERT_NE(mixed, choices->end());
    EXPECT_THAT(mixed->because, HasSubstr("What is seen together is of one lot: piece 1 from lot L"));
    const auto done = cut_job(loft.store, {loft.job, 0, 0, true, false, "pat"}, kSearch);
    ASSERT_TRUE(done) << done.findings[0].says;
    EXPECT_LT(read_roll(loft.store, loft.short_1)->left_um, 1'300'000);
    EXPECT_LT(read_roll(loft.store, of_other)->left_um, 900'000);
    // A spoiled piece is cut from those lots again before it is cut from a third.
    ASSERT_TRUE(receive_roll(loft.store, loft.goods, "L3", "a", 9'000'000, "pat"));
    const auto again = stock_choices(loft.store, loft.job, kSearch);
    for (const StockChoice& choice : *again)
        EXPECT_EQ(choice.other_lot, choice.lot != "L1" && choice.lot != "L2" && choice.lot != "L1, L2");
}

TEST(Spread, AKeptLayoutIsCutFromTheLengthsItNames) {
    ShortRolls loft;
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    const auto several =
        std::find_if(choices->begin(), choices->end(), [](const StockChoice& c) { return c.in_rack(); });
    ASSERT_NE(several, choices->end());
    const Revision before = *read_revision(loft.store, loft.job);
    JsonValue said = read_job(before.document)->said;
    said.set("kept_layout", *parse_json(several->kept_layout));
    ASSERT_TRUE(append_revision(loft.store, {loft.job, before.rev, write_said(said), {}, "pat", "kept"}));
    const LayoutSolver none;
    const auto done =
        cut_job(loft.store, {loft.job, 0, 0, false, false, "pat"}, [&](const Job&) { return none; });
    ASSERT_TRUE(done) << done.findings[0].says;
    EXPECT_EQ(list_layouts(loft.store, loft.job)->front().more.size(), 1u);
    EXPECT_TRUE(audit_stock(loft.store));
}

TEST(Spread, WhatIsStillToBuyIsCutFromTheRollThatCame) {
    ShortRolls loft;
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    const auto buys = std::find_if(choices->begin(), choices->end(), [](const StockChoice& c) {
        return c.to_buy_mm > 0 && (c.roll || c.offcut);
    });
    ASSERT_NE(buys, choices->end());
    EXPECT_THAT(buys->because, HasSubstr("1 yd to buy"));
    EXPECT_DOUBLE_EQ(buys->to_buy_mm, 914.4);
    const Revision before = *read_revision(loft.store, loft.job);
    JsonValue said = read_job(before.document)->said;
    said.set("kept_layout", *parse_json(buys->kept_layout));
    ASSERT_TRUE(append_revision(loft.store, {loft.job, before.rev, write_said(said), {}, "pat", "kept"}));
    const Derived derived = run_job(*read_job(write_said(said)), {}, {});
    ASSERT_TRUE(derived.layout);
    EXPECT_EQ(derived.layout->stretches.back().name, kToBuy);
    EXPECT_DOUBLE_EQ(derived.layout->to_buy_mm, 914.4);
    ASSERT_TRUE(derived.takeoff);
    EXPECT_THAT(derived.takeoff->materials[0].because, HasSubstr("1 yd of it has still to be bought"));
    const auto early = cut_job(loft.store, {loft.job, 0, 0, false, false, "pat"}, kSearch);
    ASSERT_EQ(code_of(early), "goods-to-buy");
    EXPECT_THAT(early.findings[0].says, HasSubstr("1 yd is still to buy"));
    const Id came = receive_roll(loft.store, loft.goods, "L9", "", 914'400, "pat")->id;
    const auto done = cut_job(loft.store, {loft.job, came, 0, false, false, "pat"}, kSearch);
    ASSERT_TRUE(done) << done.findings[0].says;
    EXPECT_LT(read_roll(loft.store, came)->left_um, 914'400);
    EXPECT_EQ(list_layouts(loft.store, loft.job)->front().more.back().roll, came);
    const Job kept = *read_job(read_revision(loft.store, loft.job)->document);
    EXPECT_EQ(kept.kept_layout->stretches.back().lot, "L9");
    EXPECT_TRUE(audit_stock(loft.store));
}

TEST(Spread, OneShortLengthAndNothingIsCut) {
    Rack rack;
    const Id other = receive_roll(rack.store, rack.goods, "L1", "b", 1'000'000, "pat")->id;
    AcceptLayout accept = rack.cut("l1", 2'000'000);
    accept.more = {{other, 0, 1'500'000, {}}};
    EXPECT_EQ(code_of(accept_layout(rack.store, accept)), "short-of-roll");
    EXPECT_EQ(read_roll(rack.store, rack.roll)->left_um, 10'000'000) << "all or none";
    accept.more = {{rack.roll, 0, 1'000, {}}};
    EXPECT_EQ(code_of(accept_layout(rack.store, accept)), "stock-twice");
    accept.more = {{0, 0, 1'000, {}}};
    EXPECT_EQ(code_of(accept_layout(rack.store, accept)), "stock-missing");
    accept.more = {{other, 0, 1'000'000, {{corners({{0, 0}, {400, 0}, {400, 400}, {0, 400}})}}}};
    const auto done = accept_layout(rack.store, accept);
    ASSERT_TRUE(done);
    EXPECT_EQ(done->offcuts.size(), 1u);
    EXPECT_EQ(read_roll(rack.store, other)->left_um, 0);
    EXPECT_TRUE(audit_stock(rack.store));
}

TEST(Spread, AnOffcutGoesFirstWhereThatIsCheaper) {
    ShortRolls loft;
    ASSERT_TRUE(receive_roll(loft.store, loft.goods, "L1", "long", 9'000'000, "pat"));
    // An offcut of the same lot that holds one mat; the roll alone holds all three.
    AcceptLayout first;
    first.job = add_job(loft.store, new_job(document("other")))->id;
    first.base_rev = job_head(loft.store, first.job)->rev;
    first.document = sand_document("other");
    first.layout = "first";
    first.roll = loft.short_1;
    first.used_um = 700'000;
    first.left = {{corners({{0, 0}, {560, 0}, {560, 660}, {0, 660}})}};
    first.by = "pat";
    const auto left = accept_layout(loft.store, first);
    ASSERT_TRUE(left) << left.findings[0].says;
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    ASSERT_TRUE(choices);
    const StockChoice& best = choices->front();
    ASSERT_FALSE(best.more.empty());
    bool offcut = best.offcut == left->offcuts[0];
    for (const CutFrom& from : best.more) offcut = offcut || from.offcut == left->offcuts[0];
    EXPECT_TRUE(offcut);
    ASSERT_TRUE(cut_job(loft.store, {loft.job, 0, 0, true, false, "pat"}, kSearch));
    EXPECT_EQ(read_offcut(loft.store, left->offcuts[0])->state, OffcutState::used);
}

}  // namespace
}  // namespace spile::shop
