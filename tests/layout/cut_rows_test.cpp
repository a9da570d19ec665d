// Straight cuts across: counted on layouts made by hand, preferred among layouts of one length and never bought with a longer one.
#include "core/layout/solve/cut_rows.h"

#include <gtest/gtest.h>

#include "core/layout/check/check.h"
#include "core/layout/solve/solve.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

constexpr std::int64_t kMm = static_cast<std::int64_t>(lay::kUnitsPerMm);

/// Mats two abreast, one column 500 and 300 long, the other 300 and 500: 800 and the gap, without a straight cut.
struct Staggered {
    std::vector<LayoutPiece> pieces{mat("1", 500, 400), mat("2", 300, 400), mat("3", 300, 400),
                                    mat("4", 500, 400)};
    Goods goods = goods_cut_anywhere(820, 5);
    lay::Prepared prepared = lay::prepare(pieces, goods, Resolution{0.1});
    lay::Spots spots = prepared.fixed;

    Staggered() {
        const std::pair<int, int> at[] = {{0, 0}, {505, 0}, {0, 405}, {305, 405}};
        for (std::size_t i = 0; i < 4; ++i) spots[i].at = {at[i].first * kMm, at[i].second * kMm};
    }
    int cuts(const lay::Spots& of) const { return lay::straight_cuts(prepared.problem, of, goods.gap_mm); }
};

TEST(CutRows, AStaggeredLayoutIsPutInRowsOfTheSameLength) {
    const Staggered s;
    EXPECT_EQ(s.cuts(s.spots), 0);
    const lay::Spots rows = lay::in_rows(s.prepared, s.spots, s.goods.gap_mm);
    EXPECT_EQ(s.cuts(rows), 1);
    EXPECT_EQ(lay::length_of(s.prepared.problem, rows), lay::length_of(s.prepared.problem, s.spots));
    EXPECT_TRUE(lay::legal(lay::FitTable(s.prepared.problem), rows, 805 * kMm));
}

// Rows that are longer are no gain: the end of the roll stays whole.
TEST(CutRows, NothingIsLengthened) {
    Staggered s;
    s.pieces[3] = mat("4", 480, 400);
    s.pieces[2] = mat("3", 320, 400);
    s.prepared = lay::prepare(s.pieces, s.goods, Resolution{0.1});
    s.spots = s.prepared.fixed;
    const std::pair<int, int> at[] = {{0, 0}, {505, 0}, {0, 405}, {325, 405}};
    for (std::size_t i = 0; i < 4; ++i) s.spots[i].at = {at[i].first * kMm, at[i].second * kMm};
    ASSERT_EQ(lay::length_of(s.prepared.problem, s.spots), 805 * kMm);  // rows take 500 + 5 + 320
    EXPECT_EQ(lay::in_rows(s.prepared, s.spots, s.goods.gap_mm), s.spots);
}

// A gap less than the knife's room is no cut.
TEST(CutRows, ACutNeedsTheGap) {
    Staggered s;
    s.spots[2].at = {505 * kMm, 405 * kMm};
    s.spots[3].at = {0, 405 * kMm};
    EXPECT_EQ(s.cuts(s.spots), 1);
    s.spots[2].at.x -= kMm / 100;
    EXPECT_EQ(s.cuts(s.spots), 0);
}

// Whatever is laid out stays legal, by any number of threads the same.
TEST(CutRows, EveryLayoutOfMatsIsLegal) {
    for (std::uint64_t seed = 1; seed <= 24; ++seed) {
        lay::Random random(seed);
        std::vector<LayoutPiece> mats;
        while (mats.size() < 9) {
            const double along = 200 + 25 * static_cast<double>(random.below(20)),
                         across = 200 + 25 * static_cast<double>(random.below(16));
            for (std::uint64_t same = 1 + random.below(3); same > 0; --same)
                mats.push_back(mat(std::to_string(mats.size() + 1), along, across));
        }
        const Goods goods =
            goods_cut_anywhere(1400, seed % 2 ? 6.35 : 0, seed % 3 ? Turning::one_way : Turning::quarter);
        SolveOptions options;
        options.rounds = 2;
        const auto one = solve_layout(mats, goods, options, RunContext{});
        options.threads = 2;
        const auto two = solve_layout(mats, goods, options, RunContext{});
        ASSERT_TRUE(one && two);
        EXPECT_TRUE(check_layout(mats, goods, *one).empty()) << seed;
        EXPECT_EQ(one->placements, two->placements);
        EXPECT_LE(one->bound_mm, one->used_mm);
    }
}

}  // namespace
}  // namespace spile
