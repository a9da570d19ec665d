// The legal place nearest to where a piece was dragged.
#include "core/layout/check/nearest.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/layout/check/check.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

bool legal_with(const std::vector<LayoutPiece>& pieces, const Goods& goods, Layout layout, std::size_t moved,
                const Placement& at) {
    layout.placements[moved] = at;
    measure_layout(pieces, goods, layout);
    return check_layout(pieces, goods, layout).empty();
}

// Mat 2 is dragged over mat 1 and past it: the room behind is nearer than where it came from. Closed form: 1 ends at 410, the gap
// is 10, so 420.
TEST(Nearest, LiesBeyondWhatStoodInTheWay) {
    const std::vector<LayoutPiece> pieces{mat("1", 400, 900), mat("2", 300, 300), mat("3", 200, 900)};
    const Goods goods = goods_of(920, 10);
    Layout layout;
    layout.placements = {{"1", 410'000, 10'000}, {"2", 100'000, 10'000}, {"3", 1'600'000, 10'000}};
    ASSERT_TRUE(legal_with(pieces, goods, layout, 1, layout.placements[1]));
    const auto near = nearest_legal(pieces, goods, layout, 1, 800'000, 300'000);
    ASSERT_TRUE(near);
    EXPECT_NEAR(near->move_mm().x, 820, 0.1);
    EXPECT_NEAR(near->move_mm().y, 300, 0.1);
    EXPECT_TRUE(legal_with(pieces, goods, layout, 1, *near));
    // Off the goods: back to the selvedge.
    const auto edge = nearest_legal(pieces, goods, layout, 1, 900'000, 900'000);
    ASSERT_TRUE(edge);
    EXPECT_NEAR(edge->move_mm().x, 900, 0.1);
    EXPECT_NEAR(edge->move_mm().y, 610, 0.1);
}

// What carries a pattern goes by whole repeats: 200 along, 150 across with a half drop.
TEST(Nearest, KeepsToThePatternItCarries) {
    std::vector<LayoutPiece> pieces{mat("1", 180, 140), mat("2", 180, 140)};
    for (LayoutPiece& piece : pieces) piece.cloth = "sole";
    Goods goods = goods_of(1000, 5);
    goods.repeat = {200, 150, 100};
    Layout layout;
    layout.placements = {{"1", 5'000, 5'000}, {"2", 205'000, 5'000}};
    ASSERT_TRUE(legal_with(pieces, goods, layout, 1, layout.placements[1]));
    const auto near = nearest_legal(pieces, goods, layout, 1, 520'000, 140'000);
    ASSERT_TRUE(near);
    EXPECT_EQ(*near, (Placement{"2", 505'000, 155'000}));
    // On mat 1 it cannot lie; one row on, half a repeat along, is the next place.
    const auto beside = nearest_legal(pieces, goods, layout, 1, 6'000, 10'000);
    ASSERT_TRUE(beside);
    EXPECT_EQ(*beside, (Placement{"2", 105'000, 155'000}));
    // Only along: free across.
    goods.repeat = {200, 0, 0};
    const auto across = nearest_legal(pieces, goods, layout, 1, 14'000, 100'000);
    ASSERT_TRUE(across);
    EXPECT_EQ(across->x_um, 5'000);
    EXPECT_NEAR(across->move_mm().y, 150, 0.1);
}

// Dragged about among panels with bowed sides: legal always, and hardly farther than the nearest of a lattice that is legal.
TEST(Nearest, IsHardlyFartherThanALattice) {
    lay::Random random(7);
    for (std::uint64_t seed = 1; seed <= 3; ++seed) {
        const std::vector<LayoutPiece> pieces = panels(4, seed);
        const Goods goods = goods_of(1500, 6.35);
        Layout layout;
        for (std::size_t i = 0; i < pieces.size(); ++i)
            layout.placements.push_back(
                {pieces[i].id, static_cast<std::int64_t>(i) * 1'250'000 + 10'000, 10'000});
        ASSERT_TRUE(legal_with(pieces, goods, layout, 0, layout.placements[0]));
        for (int k = 0; k < 5; ++k) {
            const auto x = static_cast<std::int64_t>(3'500'000 * random.share());
            const auto y = static_cast<std::int64_t>(900'000 * random.share());
            const auto near = nearest_legal(pieces, goods, layout, 1, x, y);
            double least = 1e300;
            for (int i = -5; i <= 5; ++i)
                for (int j = -5; j <= 5; ++j) {
                    const Placement at{"2", x + i * 80'000, y + j * 80'000};
                    if (legal_with(pieces, goods, layout, 1, at))
                        least = std::min(least, std::hypot(80.0 * i, 80.0 * j));
                }
            if (least > 1e299) continue;
            ASSERT_TRUE(near) << seed << " " << k;
            EXPECT_TRUE(legal_with(pieces, goods, layout, 1, *near));
            const double away =
                std::hypot(static_cast<double>(near->x_um - x), static_cast<double>(near->y_um - y)) / 1000;
            EXPECT_LE(away, 1.15 * least + 0.1) << seed << " " << k;
        }
    }
}

}  // namespace
}  // namespace spile
