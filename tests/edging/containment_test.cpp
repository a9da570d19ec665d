// Random panels: the face contains the backing, both stay what their finish says.
#include "core/edging/piece.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

/// The first point of `inner` that lies outside `outer` by more than noise, if any.
bool contains(const Region& outer, const Region& inner, double tolerance) {
    const auto inside = [&](const Outline& line) {
        for (std::size_t k = 0; k < line.size(); ++k) {
            for (int i = 0; i < 6; ++i) {
                const Vec2 p = point_at(line.edge(k), i / 6.0);
                if (side_of(outer, p) != Side::outside) continue;
                double off = nearest_on(outer.outer, p).distance;
                for (const Outline& hole : outer.holes) off = std::min(off, nearest_on(hole, p).distance);
                if (off > tolerance) return false;
            }
        }
        return true;
    };
    if (!inside(inner.outer)) return false;
    for (const Outline& hole : inner.holes) {
        if (!inside(hole)) return false;
    }
    // No hole of the outer one may open inside the inner one's goods.
    for (const Outline& hole : outer.holes) {
        for (std::size_t k = 0; k < hole.size(); ++k) {
            const Vec2 p = midpoint_of(hole.edge(k));
            if (side_of(inner, p) != Side::inside) continue;
            double off = nearest_on(inner.outer, p).distance;
            for (const Outline& h : inner.holes) off = std::min(off, nearest_on(h, p).distance);
            if (off > tolerance) return false;
        }
    }
    return true;
}

Result<std::vector<Piece>> random_pieces(Dice& dice, const RandomOptions& options) {
    RandomPanel random = random_panel(dice, options);
    const Finish finishes[] = {Finish::bound, Finish::turned, Finish::sealed};
    const int holes = dice.whole(0, 2);
    for (int i = 0; i < holes; ++i) {
        random.in.openings.push_back({"h" + std::to_string(i),
                                      "",
                                      dice.between(40, 200),
                                      dice.between(0, 8),
                                      finishes[dice.whole(0, 2)],
                                      {dice.between(-200, 200), dice.between(-200, 200)}});
    }
    const auto panels = shaped({random.in}, random.survey);
    return edge_pieces(*panels, FinishSettings{}, RunContext{});
}

TEST(Containment, TheFaceContainsTheBackingAndTheNetRegionWhereTurned) {
    Dice dice(4711);
    int turned = 0, bound = 0;
    for (int i = 0; i < 3000; ++i) {
        RandomOptions options;
        options.mixed_finishes = i % 2 == 0;
        options.corner_radius = i % 3 == 0 ? 40 : 0;
        const auto pieces = random_pieces(dice, options);
        ASSERT_TRUE(pieces);
        for (const Piece& p : *pieces) {
            ASSERT_TRUE(contains(p.cut.face, p.cut.backing, 1e-6)) << "panel " << i;
            ASSERT_TRUE(contains(p.net, p.cut.backing, 1e-6)) << "panel " << i;
            ASSERT_TRUE(faults_of(p.cut.face.outer).empty()) << "panel " << i;
            ASSERT_TRUE(faults_of(p.cut.backing.outer).empty()) << "panel " << i;
            bool all_bound = true, all_turned = true;
            for (const EdgeReport& e : p.edges) {
                all_bound = all_bound && e.plan.finish == Finish::bound;
                all_turned = all_turned && e.plan.finish == Finish::turned;
            }
            if (all_bound) {
                ++bound;
                ASSERT_EQ(p.cut.face.outer, p.cut.backing.outer) << "panel " << i;
            }
            if (all_turned) {
                ++turned;
                ASSERT_TRUE(contains({p.cut.face.outer, {}}, {p.net.outer, {}}, 1e-6)) << "panel " << i;
            }
            const Box box = box_of(p.cut.face);
            ASSERT_NEAR(box.min.x, 0, 1e-9);
            ASSERT_NEAR(box.min.y, 0, 1e-9);
            ASSERT_NEAR(p.area_mm2, area_mm2(p.cut.face), 1e-6 * p.area_mm2);
        }
    }
    EXPECT_GT(turned, 300);
    EXPECT_GT(bound, 300);
}

// Rounded corners beside edges left long: once trimmed, all of the panel is there to be rounded and finished. One finish all
// round: between two, cut lines step within the growth of the binding, and the step leans by the edge that is moved.
TEST(Containment, WhatIsLeftLongHoldsThePanelThatIsMadeOfIt) {
    Dice dice(23);
    int judged = 0, square = 0;
    for (int i = 0; i < 300; ++i) {
        RandomOptions options;
        options.mixed_finishes = false;
        options.corner_radius = 40;
        RandomPanel random = random_panel(dice, options);
        const auto made = [&] {
            return edge_pieces(*shaped({random.in}, random.survey), FinishSettings{}, RunContext{});
        };
        const auto plain = made();
        for (std::size_t k = 0; k < random.in.edges.size(); k += 3) random.in.edges[k].left_long_mm = 25;
        const auto left = made();
        if (!plain || !left || plain->size() != 1 || left->size() != 1) continue;
        ++judged;
        const Piece &p = plain->front(), &l = left->front();
        const Rigid there = translation(l.piece_from_boat(Vec2{}) - p.piece_from_boat(Vec2{}));
        EXPECT_TRUE(contains(l.cut.backing, there(p.cut.backing), 1e-6)) << "panel " << i;
        EXPECT_TRUE(faults_of(l.cut.face.outer).empty()) << "panel " << i;
        if (l.cut.backing.outer.size() < p.cut.backing.outer.size()) ++square;
    }
    EXPECT_GT(judged, 200);
    EXPECT_GT(square, 100);
}

TEST(Containment, TheOracleSeesAPlantedFault) {
    Dice dice(5);
    for (int i = 0; i < 20; ++i) {
        const auto pieces = random_pieces(dice, {});
        for (const Piece& p : *pieces) {
            Region small = p.cut.face;
            Vec2& corner = small.outer.vertices.front().p;
            const Vec2 inward = unit(midpoint_of(small.outer.edge(small.outer.size() / 2)) - corner);
            corner = corner + 60 * inward;
            EXPECT_FALSE(contains(small, p.cut.face, 1e-6));
        }
    }
}

}  // namespace
}  // namespace spile
