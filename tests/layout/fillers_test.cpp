// Fillers: small saleable pieces in what a layout leaves beside the panels.
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "tests/base/repeats.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

Filler round_one(std::string name, double diameter_mm, int most) {
    Filler filler{std::move(name)};
    filler.diameter_mm = diameter_mm;
    filler.most = most;
    return filler;
}

Filler oblong(std::string name, double along, double across, int most, bool any_way = false) {
    return {std::move(name), along, across, 0, most, any_way};
}

Result<Layout> solved(const std::vector<LayoutPiece>& pieces, const Goods& goods) {
    SolveOptions options;
    options.rounds = 1;
    return solve_layout(pieces, goods, options, {});
}

bool refused_as(const std::vector<Finding>& findings, const std::string& code) {
    for (const Finding& f : findings)
        if (f.code == code) return true;
    return false;
}

// Closed form: goods of 1920 with a gap of 10, a panel of 600 x 1000. Beside it 900 less a gap are left across, which hold
// two squares of 290 along its 600, three times across. Behind it 380 along are bought too, but stay whole.
TEST(Fillers, fill_what_is_left_beside_the_panels) {
    Goods goods = goods_of(1920, 10);
    goods.step_mm = 1000;
    goods.fillers = {oblong("mat", 290, 290, 100)};
    const Result<Layout> layout = solved({mat("1", 600, 1000)}, goods);
    ASSERT_TRUE(layout);
    EXPECT_EQ(layout->bought_mm, 1000);
    EXPECT_EQ(layout->fillers.size(), 2u * 3u);
    EXPECT_EQ(filler_words(goods, *layout), "6 of mat");
    EXPECT_TRUE(check_layout({mat("1", 600, 1000)}, goods, *layout).empty());
}

TEST(Fillers, change_no_place_and_no_length) {
    for (int seed = 1; seed <= test::repeats(3); ++seed) {
        const std::vector<LayoutPiece> pieces = panels(5, static_cast<std::uint64_t>(seed));
        Goods goods = goods_of(1828.8, 6.35);
        const Result<Layout> bare = solved(pieces, goods);
        goods.fillers = {round_one("coaster", 101.6, 40), oblong("step mat", 610, 457, 4),
                         oblong("strip", 700, 80, 5, true)};
        const Result<Layout> filled = solved(pieces, goods);
        ASSERT_TRUE(bare && filled);
        EXPECT_EQ(bare->placements, filled->placements) << seed;
        EXPECT_EQ(bare->used_mm, filled->used_mm);
        EXPECT_EQ(bare->bought_mm, filled->bought_mm);
        EXPECT_GT(filled->fillers.size(), 0u) << seed;
        const std::vector<Finding> faults = check_layout(pieces, goods, *filled);
        EXPECT_TRUE(faults.empty()) << faults.front().says;
        for (const Placement& p : filled->fillers)
            if (filler_name(p) != "strip") {
                EXPECT_EQ(p.turns, 0) << p.piece;  // the goods are laid one way
            }
        // The same again, and beside pieces that are all pinned.
        EXPECT_EQ(solved(pieces, goods)->fillers, filled->fillers);
        std::vector<LayoutPiece> pinned = pieces;
        for (std::size_t i = 0; i < pinned.size(); ++i) pinned[i].pin = filled->placements[i];
        const Result<Layout> kept = solved(pinned, goods);
        ASSERT_TRUE(kept);
        EXPECT_EQ(kept->placements, filled->placements);
        EXPECT_EQ(kept->fillers, filled->fillers);
    }
}

// Room of 300 x 80 beside the panel and none behind it: a strip of 80 x 300 lies there only when its direction does not matter.
TEST(Fillers, are_turned_only_where_their_direction_does_not_matter) {
    Goods goods = goods_of(1000, 0);
    goods.step_mm = 300;
    const std::vector<LayoutPiece> one{mat("1", 300, 920)};
    goods.fillers = {oblong("strip", 80, 300, 1)};
    EXPECT_TRUE(solved(one, goods)->fillers.empty());
    goods.fillers[0].any_way = true;
    const Result<Layout> turned = solved(one, goods);
    ASSERT_EQ(turned->fillers.size(), 1u);
    EXPECT_EQ(turned->fillers[0].turns % 2, 1);
    EXPECT_TRUE(check_layout(one, goods, *turned).empty());
    goods.fillers[0].any_way = false;
    EXPECT_TRUE(refused_as(check_layout(one, goods, *turned), "layout-turn"));
}

TEST(Fillers, keep_off_flaws_and_lie_in_holes) {
    Goods goods = goods_of(1000, 10);
    goods.step_mm = 1000;
    LayoutPiece frame = mat("1", 980, 980);
    Outline hole = rectangle({300, 300}, {750, 750});
    frame.outline.holes = {reversed(hole)};
    goods.fillers = {round_one("disc", 370, 3)};
    const Result<Layout> layout = solved({frame}, goods);
    ASSERT_TRUE(layout);
    EXPECT_EQ(layout->fillers.size(), 1u);  // in the hole
    // One disc either side of the flaw; without it two would lie nearer together.
    goods.flaws = {{"stain", {{490, 700}, {510, 720}}}};
    const std::vector<LayoutPiece> only{mat("1", 980, 480)};
    const Result<Layout> beside = solved(only, goods);
    ASSERT_TRUE(beside);
    EXPECT_TRUE(check_layout(only, goods, *beside).empty());
    EXPECT_EQ(beside->fillers.size(), 2u);
}

// What the book counts as left of a cut offcut knows of no fillers; and the layout must be sound all the same.
TEST(Fillers, are_none_on_an_offcut) {
    Goods goods = goods_of(1000, 10);
    goods.outline = polygon({{0, 0}, {1800, 0}, {1800, 1000}, {0, 900}});
    goods.length_mm = 1800;
    goods.fillers = {oblong("mat", 200, 200, 4)};
    const std::vector<LayoutPiece> one{mat("1", 500, 600)};
    const Result<Layout> layout = solved(one, goods);
    ASSERT_TRUE(layout);
    EXPECT_TRUE(layout->fillers.empty());
    EXPECT_TRUE(check_layout(one, goods, *layout).empty());
}

TEST(Fillers, the_checker_refuses_what_is_not_legal) {
    Goods goods = goods_of(1000, 10);
    goods.step_mm = 1000;
    goods.fillers = {oblong("mat", 200, 200, 2)};
    const std::vector<LayoutPiece> one{mat("1", 980, 500)};
    Layout layout = *solved(one, goods).value;
    ASSERT_EQ(layout.fillers.size(), 2u);
    ASSERT_TRUE(check_layout(one, goods, layout).empty());
    Layout on_panel = layout;
    on_panel.fillers[0].y_um = 300'000;
    EXPECT_TRUE(refused_as(check_layout(one, goods, on_panel), "layout-overlap"));
    Layout long_one = layout;
    long_one.fillers[0].x_um = 795'000;  // ends at 995, 10 are kept to the end of what is used
    EXPECT_TRUE(refused_as(check_layout(one, goods, long_one), "layout-filler"));
    Layout stranger = layout;
    stranger.fillers[0].piece = "filler/mat/3";
    EXPECT_TRUE(refused_as(check_layout(one, goods, stranger), "layout-piece-unknown"));
    Layout twice = layout;
    twice.fillers[1] = twice.fillers[0];
    EXPECT_TRUE(refused_as(check_layout(one, goods, twice), "layout-piece-twice"));
}

}  // namespace
}  // namespace spile
