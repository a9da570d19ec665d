// Flaps folded on the computer: over every angle, over random panels, and with faults planted.
#include "tests/edging/folding.h"

#include <algorithm>
#include <cstdlib>
#include <iostream>

#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;
using testing_folds::fold;
using testing_folds::Folding;
using testing_folds::FoldWants;
using testing_folds::how_many;
using testing_folds::wants_of;

/// Refused by a finding: the oracle need not agree, nobody folds it as drawn.
bool refused(const std::vector<Finding>& findings) {
    for (const char* code : {"turns-collide", "turn-sticks-out", "flaps-meet", "growth-eats-panel",
                             "no-room-to-stitch", "flap-too-narrow-to-cut", "step-too-short-to-turn"})
        if (find(findings, code)) return true;
    const Finding* narrowed = find(findings, "turn-narrowed");
    return narrowed && narrowed->severity == Severity::look;  // less than the stitch needs
}

Result<std::vector<Piece>> made(const RandomPanel& panel, const FinishSettings& settings) {
    const auto panels = shaped({panel.in}, panel.survey, settings);
    if (!panels) return {};
    return edge_pieces(*panels, settings, RunContext{});
}

/// A panel with a corner of `degrees` at V, its two edges 600 long, closed round behind; bulges of the two edges.
RandomPanel corner_panel(double degrees, double bulge_before, double bulge_after) {
    const double a = degrees * kPi / 180;
    const auto at = [](double r, double w) { return Vec2{r * std::cos(w), r * std::sin(w)}; };
    // The panel lies between directions 0 and a; V at the origin.
    std::map<std::string, Vec2> points{{"V", {0, 0}}, {"A", at(600, 0)}, {"Z", at(600, a)}};
    std::vector<std::string> names{"V", "A"};
    const int between = degrees > 180 ? 4 : 1;
    for (int i = 1; i <= between; ++i) {
        const std::string name = "B" + std::to_string(i);
        points[name] = at(between > 1 ? 1300 : 900, a * i / (between + 1));
        names.push_back(name);
    }
    names.push_back("Z");
    RandomPanel made{survey_of(points), panel_of(names, Finish::turned)};
    if (bulge_after != 0)
        made.survey.curves.push_back({"V", "A", {{points["V"], points["A"], bulge_after, 0}}});
    if (bulge_before != 0)
        made.survey.curves.push_back({"Z", "V", {{points["Z"], points["V"], bulge_before, 0}}});
    return made;
}

TEST(Folding, CornersOfEveryAngle) {
    int judged = 0, turned_away = 0;
    for (const bool mitred : {false, true}) {
        FinishSettings settings;
        settings.mitred_corners = mitred;
        for (double degrees = 20; degrees <= 340; degrees += std::getenv("SPILE_FOLDS") ? 2 : 20) {
            for (const double before : {0.0, 0.15, -0.15}) {
                for (const double after : {0.0, 0.15, -0.15}) {
                    // A bulge turns its edge by half its sweep, 2 atan(bulge).
                    const double there = degrees + 2 * (std::atan(before) + std::atan(after)) * 180 / kPi;
                    if (there < 20 || there > 340 || std::fabs(there - 180) < 1) continue;
                    const auto pieces = made(corner_panel(degrees, before, after), settings);
                    if (!pieces || pieces->empty() || refused(pieces.findings)) {
                        ++turned_away;
                        continue;
                    }
                    ++judged;
                    const Folding folding = fold(pieces->front(), wants_of(settings));
                    EXPECT_TRUE(folding.faults.empty())
                        << degrees << " degrees, bulges " << before << " " << after
                        << (mitred ? ", mitred: " : ": ") << said(folding);
                }
            }
        }
    }
    EXPECT_GT(judged, 250) << turned_away;
}

/// Its first tab folds on a chord that begins nearer the edge beside it than the curve does.
TEST(Folding, TheFirstTabOfACurveStaysInsideTheEdgeBesideIt) {
    for (double degrees = 40; degrees <= 70; degrees += 5) {
        RandomPanel panel = corner_panel(degrees, 0, 0.23);
        for (EdgePlan& e : panel.in.edges) e.finish = e.from == "V" ? Finish::turned : Finish::sealed;
        const auto pieces = made(panel, {});
        ASSERT_TRUE(pieces && pieces->size() == 1);
        EXPECT_EQ(said(fold(pieces->front(), wants_of({}))), "") << degrees;
    }
}

/// Folds `count` random panels; at least three in five must be folded, the rest refused by name.
void fold_random(std::uint64_t seed, int count, bool mixed) {
    Dice dice(seed);
    int judged = 0, turned_away = 0, flaps = 0;
    for (int i = 0; i < count; ++i) {
        RandomOptions options;
        options.corner_radius = i % 4 == 0 ? dice.between(5, 90) : 0;
        options.mixed_finishes = mixed;
        RandomPanel panel = random_panel(dice, options);
        if (!mixed)
            for (EdgePlan& e : panel.in.edges) e.finish = Finish::turned;
        FinishSettings settings;
        settings.mitred_corners = i % 3 == 0;
        if (i % 5 == 0) settings.backing_thickness_mm = 4, settings.face_thickness_mm = 1.5;
        const auto pieces = made(panel, settings);
        if (!pieces || pieces->empty() || refused(pieces.findings)) {
            ++turned_away;
            continue;
        }
        ++judged;
        const Folding folding = fold(pieces->front(), wants_of(settings));
        flaps += folding.flaps;
        EXPECT_TRUE(folding.faults.empty()) << "panel " << i << ": " << said(folding);
    }
    std::cout << judged << " panels with " << flaps << " flaps folded, " << turned_away << " refused\n";
    EXPECT_GT(judged, count * 3 / 5);
}

TEST(Folding, RandomPanelsAllTurned) {
    fold_random(1234, how_many(100), false);
}

TEST(Folding, RandomPanelsOfMixedFinishes) {
    fold_random(77, how_many(100), true);
}

Piece sound(double degrees) {
    const FinishSettings settings;
    const auto pieces = made(corner_panel(degrees, 0, 0), settings);
    EXPECT_TRUE(pieces && pieces->size() == 1);
    EXPECT_TRUE(fold(pieces->front(), wants_of(settings)).faults.empty());
    return pieces->front();
}

FlapCut& cut_at(Piece& piece, const std::string& at) {
    for (FlapCut& cut : piece.flap_cuts)
        if (cut.at == at) return cut;
    ADD_FAILURE() << "no cut at " << at;
    return piece.flap_cuts.front();
}

TEST(Folding, SeesPlantedFaults) {
    const FoldWants wants = wants_of({});
    // The face trimmed by 1 mm along one edge.
    Piece piece = sound(100);
    for (std::size_t k = 0; k < piece.cut.face.outer.size(); ++k) {
        if (piece.cut.face.outer.vertices[k].tag != 0) continue;
        const Vec2 in = left_of(direction_at(piece.cut.face.outer.edge(k), 0));
        auto& v = piece.cut.face.outer.vertices;
        v[k].p = v[k].p + in;
        v[(k + 1) % v.size()].p = v[(k + 1) % v.size()].p + in;
    }
    EXPECT_FALSE(fold(piece, wants).faults.empty());
    // A corner notch forgotten.
    for (const double degrees : {50.0, 70.0, 90.0}) {
        piece = sound(degrees);
        piece.flap_cuts.erase(piece.flap_cuts.begin() + (&cut_at(piece, "V") - piece.flap_cuts.data()));
        EXPECT_FALSE(fold(piece, wants).faults.empty()) << degrees;
    }
    // Flaps that end square at a sharp corner.
    piece = sound(50);
    const Vec2 v = piece.piece_from_boat(Vec2{0, 0});
    const double w = 50 * kPi / 180, far = 2 * kIn, m = kIn / 4;
    const Vec2 out_after{0, -1}, out_before{-std::sin(w), std::cos(w)};
    cut_at(piece, "V").path.vertices = {{v + far * out_before, 0, 0},
                                        {v + m * out_before, 0, 0},
                                        {v + m * out_after, 0, 0},
                                        {v + far * out_after, 0, 0}};
    EXPECT_FALSE(fold(piece, wants).faults.empty());
    // A slit of an inside corner cut to the corner.
    piece = sound(250);
    cut_at(piece, "V").path.vertices.back().p =
        lerp(cut_at(piece, "V").path.vertices.back().p, piece.piece_from_boat(Vec2{0, 0}), 0.4);
    EXPECT_FALSE(fold(piece, wants).faults.empty());
    // A piece folded to the wrong side: cut lines of the other hand.
    piece = sound(70);
    const double wide = box_of(piece.cut.face).width();
    const auto flipped = [&](Vec2 p) { return Vec2{wide - p.x, p.y}; };
    for (FlapCut& cut : piece.flap_cuts)
        for (Vertex& vertex : cut.path.vertices) vertex.p = flipped(vertex.p);
    Outline face;
    for (const Vertex& vertex : reversed(piece.cut.face.outer).vertices)
        face.vertices.push_back({flipped(vertex.p), vertex.bulge, vertex.tag});
    piece.cut.face.outer = face;
    EXPECT_FALSE(fold(piece, wants).faults.empty());
    // A relief cut forgotten, on outside and inside curves.
    for (const double bulge : {0.15, -0.15}) {
        const auto pieces = made(corner_panel(100, bulge, 0), {});
        piece = pieces->front();
        EXPECT_TRUE(fold(piece, wants).faults.empty());
        const auto relief = std::find_if(
            piece.flap_cuts.begin(), piece.flap_cuts.end(),
            [](const FlapCut& c) { return c.kind == FlapCut::Kind::notch || c.kind == FlapCut::Kind::slit; });
        ASSERT_NE(relief, piece.flap_cuts.end());
        piece.flap_cuts.erase(relief + 1);
        EXPECT_FALSE(fold(piece, wants).faults.empty()) << bulge;
    }
}

}  // namespace
}  // namespace spile
