// Of layouts that buy the same, the one whose pieces start on whole eighths.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "tests/base/repeats.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

using testing::IsEmpty;

constexpr double kEighth = 25.4 / 8;

Layout laid_out(const std::vector<LayoutPiece>& pieces, const Goods& goods, double places_mm,
                int rounds = 3) {
    SolveOptions options;
    options.rounds = rounds;
    options.places_mm = places_mm;
    const auto result = solve_layout(pieces, goods, options, RunContext{});
    EXPECT_TRUE(result);
    if (!result) return {};
    EXPECT_THAT(check_layout(pieces, goods, *result), IsEmpty());
    return *result;
}

/// Of the two figures that say where each piece starts, how many are whole steps to a micrometre.
int whole_figures(const std::vector<LayoutPiece>& pieces, const Layout& layout, double step_mm) {
    int whole = 0;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const Vec2 at = box_of(roll_from_piece(layout.placements[i])(pieces[i].outline)).min;
        for (const double v : {at.x, at.y})
            whole += std::fabs(v - step_mm * std::round(v / step_mm)) <= 0.001;
    }
    return whole;
}

// Three mats of odd widths beside one another with room to spare: each starts on a whole eighth, and no goods are lost.
TEST(WholePlaces, AreTakenWhereThereIsRoom) {
    const std::vector<LayoutPiece> pieces{mat("1", 700, 401.3), mat("2", 700, 402.1), mat("3", 650, 403.7)};
    const Goods goods = goods_of(1828.8, 6.35);
    const Layout anywhere = laid_out(pieces, goods, 0), whole = laid_out(pieces, goods, kEighth);
    EXPECT_LT(whole_figures(pieces, anywhere, kEighth), 6);
    EXPECT_EQ(whole_figures(pieces, whole, kEighth), 6);
    EXPECT_EQ(whole.used_mm, anywhere.used_mm);
    EXPECT_EQ(whole_figures(pieces, laid_out(pieces, goods_of(1800, 6), 1), 1), 6);
}

TEST(WholePlaces, BuyNoMoreAndLengthenNothingProved) {
    int before = 0, after = 0;
    const auto sets = static_cast<std::uint64_t>(test::repeats(12));
    for (std::uint64_t seed = 1; seed <= sets; ++seed)
        for (const Turning turning : {Turning::one_way, Turning::quarter}) {
            Goods goods = goods_of(1400, 6.35);
            goods.turning = turning;
            goods.flaws = {{"1", {{300, 200}, {340, 260}}}};
            auto pieces = panels(4 + static_cast<int>(seed % 5), seed);
            if (seed % 3 == 0) pieces[1].pin = Placement{"2", 900'001, 133'003};
            const Layout anywhere = laid_out(pieces, goods, 0), whole = laid_out(pieces, goods, kEighth);
            EXPECT_EQ(whole.bought_mm, anywhere.bought_mm) << seed;
            EXPECT_LE(whole.used_mm, anywhere.used_mm + 2 * kEighth) << seed;
            if (anywhere.used_mm - anywhere.bound_mm <= kProvedWithin_mm) {
                EXPECT_LE(whole.used_mm, anywhere.used_mm + 0.001);
            }
            if (pieces[1].pin) {
                EXPECT_EQ(whole.placements[1], *pieces[1].pin);
            }
            before += whole_figures(pieces, anywhere, kEighth);
            after += whole_figures(pieces, whole, kEighth);
        }
    EXPECT_GT(after, 2 * before);
}

// An exact fit across leaves none a whole eighth but the first.
TEST(WholePlaces, GiveWayToAnExactFit) {
    const std::vector<LayoutPiece> pieces{mat("1", 700, 401.3), mat("2", 700, 402.1)};
    Goods goods = goods_of(6.35 * 3 + 401.3 + 402.1, 6.35);
    goods.step_mm = 0;
    EXPECT_NEAR(laid_out(pieces, goods, kEighth).used_mm, 700 + 2 * 6.35, 0.001);
}

// What carries a pattern keeps its place in it.
TEST(WholePlaces, LeaveThePatternAlone) {
    Goods goods = goods_of(1500, 5);
    goods.repeat.along_mm = 101;
    auto pieces = panels(4, 5);
    for (LayoutPiece& piece : pieces) piece.cloth = "sole";
    EXPECT_EQ(laid_out(pieces, goods, kEighth).placements, laid_out(pieces, goods, 0).placements);
}

}  // namespace
}  // namespace spile
