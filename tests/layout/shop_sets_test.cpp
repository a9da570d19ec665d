// The shop's sets of bench/shop are the panels they say they are.
#include <gtest/gtest.h>

#include "bench/strip_json.h"
#include "core/layout/solve/prepare.h"
#include "tests/layout/pieces.h"

namespace spile {
namespace {

class ShopSet : public testing::TestWithParam<int> {};

TEST_P(ShopSet, IsThePanelsItSays) {
    const int n = GetParam();
    const bool sisters = n == 250;  // fifty boats of five panels
    const StripInstance set = read_strip_instance(std::string(SPILE_SOURCE_DIR) + "/bench/shop/panels-" +
                                                  std::to_string(n) + ".json");
    const Goods goods;
    EXPECT_NEAR(set.width, goods.usable_width_mm - 2 * goods.edge_gap() + goods.gap_mm, 1e-4);
    const std::vector<LayoutPiece> pieces = panels(sisters ? 5 : n, 77);
    ASSERT_EQ(set.items.size(), pieces.size());
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        EXPECT_EQ(set.items[i].demand, sisters ? 50 : 1);
        EXPECT_EQ(set.items[i].quarter_turns, std::vector<int>{0});
        const lay::Shape shape =
            lay::shape_of(pieces[i].outline, goods.gap_mm / 2, Resolution{0.5}, lay::Cover::whole);
        ASSERT_EQ(set.items[i].polygon.size(), shape.outer.size());
        for (std::size_t k = 0; k < shape.outer.size(); ++k) {
            EXPECT_NEAR(set.items[i].polygon[k].x, static_cast<double>(shape.outer[k].x) / lay::kUnitsPerMm, 1e-3);
            EXPECT_NEAR(set.items[i].polygon[k].y, static_cast<double>(shape.outer[k].y) / lay::kUnitsPerMm, 1e-3);
        }
    }
}

INSTANTIATE_TEST_SUITE_P(Sets, ShopSet, testing::Values(5, 12, 40, 250));

}  // namespace
}  // namespace spile
