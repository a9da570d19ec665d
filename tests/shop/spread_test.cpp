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

TEST(Spread, FillsTheFirstLengthsAndLeavesTheRestToTheLast) {
    const std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 500, 400), mat("3", 300, 200)};
    const Goods goods = goods_of(500, 5);
    const std::vector<Stretch> lengths{{"offcut 1", "L", 0, rectangle({0, 0}, {320, 220})},
                                       {"roll 1", "L", 600, {}},
                                       {"roll 2", "L", 5000, {}}};
    const auto layout = spread(pieces, goods, lengths, search());
    ASSERT_TRUE(layout);
    EXPECT_THAT(check_layout(pieces, goods, *layout), IsEmpty());
    EXPECT_EQ(layout->placements[0].stretch, 1);
    EXPECT_EQ(layout->placements[1].stretch, 2);
    EXPECT_EQ(layout->placements[2].stretch, 0);
    EXPECT_FALSE(spread(pieces, goods, {lengths[0], lengths[1]}, search()));
    // What carries one pattern stays on one length.
    std::vector<LayoutPiece> cloth = pieces;
    for (LayoutPiece& piece : cloth) piece.cloth = "cockpit";
    Goods striped = goods;
    striped.repeat.along_mm = 50;
    const auto together = spread(cloth, striped, lengths, search());
    ASSERT_TRUE(together);
    EXPECT_EQ(together->stretches.size(), 1u);
    EXPECT_EQ(together->stretches[0].name, "roll 2");
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
    ASSERT_EQ(choices->size(), 2u);
    const StockChoice& both = (*choices)[0].more.empty() ? (*choices)[1] : (*choices)[0];
    ASSERT_EQ(both.more.size(), 1u);
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

TEST(Spread, TwoLotsAreNeverMixedForAChoice) {
    ShortRolls loft;
    ASSERT_TRUE(count_roll(loft.store, loft.short_2, 0, "sold", "pat"));
    ASSERT_TRUE(receive_roll(loft.store, loft.goods, "L2", "a", 900'000, "pat"));
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    ASSERT_TRUE(choices);
    for (const StockChoice& choice : *choices) EXPECT_TRUE(choice.more.empty());
    EXPECT_EQ(code_of(cut_job(loft.store, {loft.job, 0, 0, true, false, "pat"}, kSearch)), "stock-short");
}

TEST(Spread, AKeptLayoutIsCutFromTheLengthsItNames) {
    ShortRolls loft;
    const auto choices = stock_choices(loft.store, loft.job, kSearch);
    const auto several =
        std::find_if(choices->begin(), choices->end(), [](const StockChoice& c) { return !c.more.empty(); });
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
