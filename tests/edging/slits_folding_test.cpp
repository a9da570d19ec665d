// Whole panels with openings in them and slits to their edge, folded: outer edge, rims, and rims beside a slit.
#include <algorithm>
#include <iostream>

#include "tests/edging/folding.h"
#include "tests/edging/open_panels.h"
#include "tests/edging/polygons.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;
using testing_folds::Flaw;
using testing_folds::fold;
using testing_folds::fold_hole;
using testing_folds::Folding;
using testing_folds::FoldWants;
using testing_folds::how_many;
using testing_folds::open_panel;
using testing_folds::OpenPanel;
using testing_folds::wants_of;

bool refused(const std::vector<Finding>& findings) {
    for (const char* code :
         {"turns-collide", "turn-sticks-out", "flaps-meet", "growth-eats-panel", "no-room-to-stitch",
          "flap-too-narrow-to-cut", "step-too-short-to-turn", "hole-too-small-to-turn", "slit-blocked",
          "opening-outside", "opening-at-edge", "openings-meet", "slit-turned"})
        if (find(findings, code)) return true;
    const Finding* narrowed = find(findings, "turn-narrowed");
    return narrowed && narrowed->severity == Severity::look;
}

/// The outer edge and every turned hole.
std::string faults_of_piece(const Piece& piece, const FoldWants& wants, int& flaps) {
    const Folding outer = fold(piece, wants);
    std::string all = said(outer);
    flaps += outer.flaps;
    for (std::size_t h = 0; h < piece.holes.size(); ++h) {
        if (piece.holes[h].finish != Finish::turned) continue;
        const Folding hole = fold_hole(piece, h, wants);
        if (!hole.faults.empty()) all += piece.holes[h].id + ": " + said(hole);
        flaps += hole.flaps;
    }
    return all;
}

Result<std::vector<Piece>> made(const RandomPanel& panel, const FinishSettings& settings) {
    auto panels = shaped({panel.in}, panel.survey, settings);
    Result<std::vector<Piece>> pieces;
    if (panels) pieces = edge_pieces(*panels, settings, RunContext{});
    pieces.findings.insert(pieces.findings.begin(), panels.findings.begin(), panels.findings.end());
    return pieces;
}

/// That the program says what is wrong with the opening "bad", with its number.
std::string unsaid(const Flaw& flaw, const std::vector<Finding>& findings) {
    for (const Finding& f : findings)
        if (f.code == flaw.code && f.subject.id == "1/bad")
            for (const Quantity& q : f.numbers)
                if (q.name == flaw.number && std::fabs(q.value - flaw.mm) < 1e-3) return "";
    return flaw.code + ": " + flaw.number + " " + std::to_string(flaw.mm) + " not in " + codes(findings);
}

void fold_random(std::uint64_t seed, int count, bool mixed) {
    Dice dice(seed);
    int judged = 0, turned_away = 0, flawed = 0, flaps = 0, slits = 0;
    for (int i = 0; i < count; ++i) {
        const OpenPanel open = open_panel(dice, mixed);
        FinishSettings settings;
        settings.mitred_corners = i % 3 == 0;
        if (i % 4 == 0) settings.backing_thickness_mm = 4, settings.face_thickness_mm = 1.5;
        const auto pieces = made(open.panel, settings);
        if (!open.flaw.code.empty()) {
            EXPECT_EQ(unsaid(open.flaw, pieces.findings), "") << "panel " << i;
            ++flawed;
            continue;
        }
        if (!pieces || pieces->empty() || refused(pieces.findings)) {
            ++turned_away;
            continue;
        }
        ++judged;
        for (const Finding& f : pieces.findings) slits += f.code == "slit-runs";
        const std::string faults = faults_of_piece(pieces->front(), wants_of(settings), flaps);
        EXPECT_EQ(faults, "") << "panel " << i;
    }
    std::cout << judged << " panels with " << slits << " slits and " << flaps << " flaps folded, " << flawed
              << " with a flaw that was said, " << turned_away << " refused\n";
    EXPECT_GT(judged, count * 7 / 10);
    EXPECT_GT(slits, judged / 3);
}

TEST(FoldingSlits, RandomPanelsWithOpeningsAllTurned) {
    fold_random(2024, how_many(40), false);
}

TEST(FoldingSlits, RandomPanelsWithOpeningsOfMixedFinishes) {
    fold_random(99, how_many(40), true);
}

/// A panel with a post that runs to its edge and a round hole that does not.
RandomPanel sound() {
    RandomPanel panel{survey_of({{"A", {0, 0}},
                                 {"B", {1200, 0}},
                                 {"C", {1200, 800}},
                                 {"D", {0, 800}},
                                 {"S", {300, 400}},
                                 {"T", {800, 420}}}),
                      panel_of({"A", "B", "C", "D"}, Finish::turned)};
    OpeningPlan post;
    post.id = "post";
    post.at = "S";
    post.diameter_mm = 240;
    post.slit = SlitPlan{"D", "A", 4, Finish::sealed};
    OpeningPlan hole;
    hole.id = "hole";
    hole.at = "T";
    hole.diameter_mm = 140;
    panel.in.openings = {post, hole};
    return panel;
}

TEST(FoldingSlits, TheOracleSeesPlantedFaults) {
    const auto pieces = made(sound(), {});
    ASSERT_TRUE(pieces && pieces->size() == 1) << codes(pieces.findings);
    const FoldWants wants = wants_of({});
    const auto faults = [&](const Piece& piece) {
        int flaps = 0;
        return faults_of_piece(piece, wants, flaps);
    };
    ASSERT_EQ(faults(pieces->front()), "");
    const Piece& good = pieces->front();
    const auto rim = std::find_if(good.edges.begin(), good.edges.end(),
                                  [](const EdgeReport& e) { return e.from == "post 2"; });
    ASSERT_NE(rim, good.edges.end());
    const Vec2 post = good.piece_from_boat(Vec2{300, 400});

    // The rim's flap trimmed by 1 mm, and left 1 mm too wide.
    for (const double by : {1.0, -1.0}) {
        Piece piece = good;
        const double inner = 120 - 25.4;
        for (Vertex& v : piece.cut.face.outer.vertices)
            if (std::fabs(distance(v.p, post) - inner) < 8) v.p = v.p + by * unit(v.p - post);
        EXPECT_NE(faults(piece), "") << by;
    }
    // A relief cut of the rim forgotten.
    Piece piece = good;
    const auto cut = std::find_if(piece.flap_cuts.begin(), piece.flap_cuts.end(),
                                  [](const FlapCut& c) { return c.at == "post 2 post 3"; });
    ASSERT_NE(cut, piece.flap_cuts.end());
    piece.flap_cuts.erase(cut + 2);
    EXPECT_NE(faults(piece), "");
    // One cut through to the fold.
    piece = good;
    for (FlapCut& c : piece.flap_cuts)
        if (c.at == "post 2 post 3") {
            Vec2& root = c.path.vertices.back().p;
            root = root + 4.0 * unit(root - post);
            break;
        }
    EXPECT_NE(faults(piece), "");
    // Folded to the wrong side: its cuts in the goods instead of the flap.
    piece = good;
    for (FlapCut& c : piece.flap_cuts)
        if (c.at == "post 2 post 3")
            for (Vertex& v : c.path.vertices) v.p = post + (240 - distance(v.p, post)) * unit(v.p - post);
    EXPECT_NE(faults(piece), "");
    // The same of the round hole: its face cut, a slit forgotten, a slit too long.
    piece = good;
    for (Vertex& v : piece.cut.face.holes[0].vertices) v.p = v.p + 1.0 * unit(v.p - piece.holes[0].centre_mm);
    EXPECT_NE(faults(piece), "");
    piece = good;
    piece.slits.erase(piece.slits.begin() + 1);
    EXPECT_NE(faults(piece), "");
    piece = good;
    Vec2& root = piece.slits[0].vertices.back().p;
    root = root + 4.0 * unit(root - piece.holes[0].centre_mm);
    EXPECT_NE(faults(piece), "");
}

/// One opening with a slit of 4 mm, sealed, to the left edge of a panel.
RandomPanel with_a_slit(OpeningPlan opening, double gap) {
    RandomPanel panel{
        survey_of({{"A", {0, 0}}, {"B", {900, 0}}, {"C", {900, 800}}, {"D", {0, 800}}, {"S", {300, 400}}}),
        panel_of({"A", "B", "C", "D"}, Finish::turned)};
    opening.at = "S";
    opening.slit = SlitPlan{"D", "A", gap, Finish::sealed};
    panel.in.openings = {opening};
    return panel;
}

TEST(FoldingSlits, AFlapIsNotAskedForAcrossASlit) {
    OpeningPlan box = box_opening(200, 200, 0, Finish::turned);
    box.turn_deg = 20;  // the slit comes to a side of it at 70 degrees
    const auto pieces = made(with_a_slit(box, 4), {});
    ASSERT_TRUE(pieces && pieces->size() == 1 && !refused(pieces.findings)) << codes(pieces.findings);
    int flaps = 0;
    EXPECT_EQ(faults_of_piece(pieces->front(), wants_of({}), flaps), "");
}

/// The half circles of a rim meet 0.3 mm beside the slit: a part as short had no room for the end of its flap, and a stop said
/// that there were no goods for both turns.
TEST(FoldingSlits, ASlitMayComeToTheRimBesideAJointOfItsHalves) {
    const double radius = 120, gap = 4, beside = 0.3;
    RandomPanel panel = sound();
    // The left edge leans so that the slit, square to it, leaves the joint so far outside its side.
    const double lean = (gap / 2 + beside) / radius;
    for (const double way : {1.0, -1.0}) {
        panel.survey.points["D"] = {Vec2{-way * 800 * lean, 800}, {}};
        const auto pieces = made(panel, {});
        ASSERT_TRUE(pieces && pieces->size() == 1 && !refused(pieces.findings)) << codes(pieces.findings);
        const Outline& net = pieces->front().net.outer;
        for (std::size_t k = 0; k < net.size(); ++k)
            EXPECT_TRUE(net.edge(k).straight() || length_of(net.edge(k)) > radius) << k;
        int flaps = 0;
        EXPECT_EQ(faults_of_piece(pieces->front(), wants_of({}), flaps), "");
    }
}

/// A slit that comes to the rim 1 degree from square: prolonged, it takes 25.4 tan(1 degree) = 0.44 mm, less than the facet,
/// of the flap on its wide side. Another 1 1/2 mm, of either, is too much.
TEST(FoldingSlits, AFlapEndsAlongTheSlitProlongedButNoShorter) {
    FinishSettings settings;
    settings.backing_thickness_mm = 4;
    OpeningPlan box = box_opening(200, 200, 0, Finish::turned);
    box.turn_deg = 1;
    const auto pieces = made(with_a_slit(box, 4), settings);
    ASSERT_TRUE(pieces && pieces->size() == 1 && !refused(pieces.findings)) << codes(pieces.findings);
    const FoldWants wants = wants_of(settings);
    int flaps = 0;
    ASSERT_EQ(faults_of_piece(pieces->front(), wants, flaps), "");
    for (const double side : {1.0, -1.0}) {
        Piece piece = pieces->front();
        const Vec2 middle = piece.piece_from_boat(Vec2{300, 400});
        int moved = 0;
        for (Vertex& v : piece.cut.face.outer.vertices) {
            const Vec2 from = v.p - middle;
            if (from.x > 0 || norm(from) > 80 || from.y * side < 0 || std::fabs(from.y) > 10) continue;
            v.p = v.p + Vec2{0, 1.5 * side};
            ++moved;
        }
        EXPECT_EQ(moved, 1);
        EXPECT_NE(faults_of_piece(piece, wants, flaps), "") << side;
    }
}

/// Clipper's unions turn a part round now and then; two such sets laid over one another then lose what they share.
TEST(FoldingSlits, ThePartsOfTheOracleGoOneWayAndTheirHolesTheOther) {
    using namespace testing_folds;
    const Paths ring{ints({{0, 0}, {0, 9}, {9, 9}, {9, 0}}), ints({{2, 2}, {7, 2}, {7, 7}, {2, 7}}),
                     ints({{4, 4}, {4, 5}, {5, 5}, {5, 4}})};
    EXPECT_DOUBLE_EQ(area(oriented(ring)), 81 - 25 + 1);
}

}  // namespace
}  // namespace spile
