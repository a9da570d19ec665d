// Turned edges folded on the computer: flaps lie inside, nowhere more than two, no edge bare.
#include "tests/edging/folding.h"

#include "core/geom/offset.h"

namespace spile {
namespace {
using namespace testing_panels;

std::vector<Piece> cut(const std::vector<PanelInput>& in, const Survey& survey,
                       const FinishSettings& settings = {}) {
    const auto panels = shaped(in, survey, settings);
    auto pieces = edge_pieces(*panels, settings, RunContext{});
    return *pieces;
}

/// Wide enough everywhere that flaps of edges which are no neighbours do not meet.
bool roomy(const Piece& piece, double turn) {
    const auto core = offset(piece.net.outer, -1.2 * turn, {Join::round});
    const auto around = offset(piece.net.outer, 1.2 * turn, {Join::round});
    return core.size() == 1 && around.size() == 1;
}

TEST(Folding, RandomPanelsOfEveryAngle) {
    Dice dice(31337);
    const FinishSettings settings;
    int folded = 0, corners = 0, curves = 0;
    for (int i = 0; i < 2500; ++i) {
        RandomOptions options;
        options.mixed_finishes = i % 3 == 0;
        options.corner_radius = i % 4 == 1 ? 60 : 0;
        options.least_edge = 200;
        RandomPanel random = random_panel(dice, options);
        if (!options.mixed_finishes) {
            for (EdgePlan& e : random.in.edges) e.finish = Finish::turned;
        }
        for (EdgePlan& e : random.in.edges) e.clearance_mm = 5;
        for (const Piece& piece : cut({random.in}, random.survey, settings)) {
            if (!roomy(piece, settings.turn_mm)) continue;
            ++folded;
            for (const ReliefCut& r : piece.relief) {
                (r.kind == ReliefCut::Kind::corner_notch || r.kind == ReliefCut::Kind::corner_slit
                     ? corners
                     : curves) += 1;
                ASSERT_TRUE(r.notch.empty() || area_mm2(r.notch) > 0) << i;
            }
            const FoldFaults faults = fold(piece, settings, dice, 120);
            ASSERT_EQ(faults.sticking_out, 0) << "panel " << i << ": " << faults.worst_out << " mm at "
                                              << faults.at_out.x << ", " << faults.at_out.y;
            ASSERT_EQ(faults.bare, 0)
                << "panel " << i << " at " << faults.at_bare.x << ", " << faults.at_bare.y;
            ASSERT_EQ(faults.thick, 0)
                << "panel " << i << " at " << faults.at_thick.x << ", " << faults.at_thick.y;
            ASSERT_EQ(faults.faceted, 0) << "panel " << i;
        }
    }
    EXPECT_GT(folded, 1000);
    EXPECT_GT(corners, 3000);
    EXPECT_GT(curves, 3000);
}

}  // namespace
}  // namespace spile
