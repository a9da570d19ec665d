// Match marks on the goods: those of two neighbours are one line in the boat, seen from the face and from the back.
#include "core/edging/piece.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

constexpr double kMicron = 1e-3;

/// Two panels that share the curved line from E to B.
std::vector<PanelInput> two_panels(Finish one, Finish other) {
    std::vector<PanelInput> two{panel_of({"A", "B", "E", "F"}, one, 4),
                                panel_of({"B", "C", "D", "E"}, other, 4)};
    two[1].id = "2";
    for (PanelInput& p : two)
        for (EdgePlan& e : p.edges) {
            if ((e.from != "B" || e.to != "E") && (e.from != "E" || e.to != "B")) continue;
            e.situation = Situation::joint;
            e.clearance_mm = 0.8;
        }
    return two;
}

Survey room() {
    Survey survey = survey_of({{"A", {0, 0}},
                               {"B", {900, 0}},
                               {"C", {2000, 0}},
                               {"D", {2000, 1800}},
                               {"E", {980, 1800}},
                               {"F", {0, 1800}}});
    survey.curves.push_back({"E", "B", {{{980, 1800}, {900, 0}, 0.1, 0}}});
    return survey;
}

TEST(MatchStrokes, OfBothNeighboursMeetInTheBoatAlsoMirrored) {
    const FinishSettings finish;
    for (const Finish one : {Finish::bound, Finish::turned, Finish::sealed})
        for (const Finish other : {Finish::bound, Finish::turned, Finish::sealed}) {
            const auto panels = shaped(two_panels(one, other), room());
            ASSERT_TRUE(panels && panels->size() == 2) << codes(panels.findings);
            const auto pieces = edge_pieces(*panels, finish, RunContext{});
            ASSERT_TRUE(pieces && pieces->size() == 2) << codes(pieces.findings);
            ASSERT_EQ(pieces->at(0).match_strokes.size(), 2u);
            ASSERT_EQ(pieces->at(1).match_strokes.size(), 2u);
            for (std::size_t i = 0; i < 2; ++i) {
                std::vector<Vec2> boat, from_back;
                for (const Piece& p : *pieces) {
                    const MatchStroke& m = p.match_strokes[i];
                    EXPECT_EQ(m.name, "M" + std::to_string(i + 1));
                    EXPECT_EQ(m.other, p.id == "1" ? "2" : "1");
                    EXPECT_LT(nearest_on(p.cut.face.outer, m.from_mm).distance, kMicron);
                    EXPECT_EQ(side_of(p.cut.face, m.to_mm), Side::inside);
                    const Rigid boat_from_piece = inverse(p.piece_from_boat);
                    const BackFromFace back{37};
                    for (const Vec2 at : {m.from_mm, m.to_mm}) {
                        boat.push_back(boat_from_piece(at));
                        // Chalked on the back, cut, rolled over again and laid.
                        from_back.push_back(boat_from_piece(back(back(at))));
                    }
                }
                // One line for all four ends, and the panel's own place on it.
                const MatchMark& mark = panels->at(0).match_marks[i];
                for (const std::vector<Vec2>* ends : {&boat, &from_back})
                    for (const Vec2 p : *ends)
                        EXPECT_LT(std::fabs(cross(mark.inward, p - mark.at_mm)), kMicron) << mark.name;
                // Bare beyond what covers the back of the goods.
                const double covered = one == Finish::turned  ? finish.turn_mm
                                       : one == Finish::bound ? finish.binding_width_mm / 2
                                                              : 0;
                EXPECT_NEAR(dot(mark.inward, boat[1] - mark.at_mm), 0.8 + covered + kIn / 2, kMicron);
            }
        }
}

TEST(MatchStrokes, AcrossASlitStandOppositeOneAnother) {
    Survey survey = room();
    survey.points["S"] = {{500, 900}, {}};
    PanelInput in = panel_of({"A", "B", "E", "F"});
    OpeningPlan post;
    post.id = "post";
    post.at = "S";
    post.diameter_mm = 200;
    post.finish = Finish::turned;
    post.slit = SlitPlan{"F", "A", 3, Finish::bound};
    in.openings.push_back(post);
    const auto panels = shaped({in}, survey);
    const auto pieces = edge_pieces(*panels, {}, RunContext{});
    ASSERT_TRUE(pieces && pieces->size() == 1) << codes(pieces.findings);
    const auto& strokes = pieces->front().match_strokes;
    ASSERT_EQ(strokes.size(), 2u);
    EXPECT_EQ(strokes[0].name, strokes[1].name);
    // The slit as cut is wider than its gap by the growth of both bindings.
    EXPECT_NEAR(distance(strokes[0].from_mm, strokes[1].from_mm), 3 + 2 * FinishSettings{}.binding_growth_mm,
                kMicron);
    EXPECT_LT(norm(unit(strokes[0].to_mm - strokes[0].from_mm) + unit(strokes[1].to_mm - strokes[1].from_mm)),
              1e-9);
}

}  // namespace
}  // namespace spile
