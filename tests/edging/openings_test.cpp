// Openings that are not round through edging: closed forms, narrow ones, and folded.
#include <algorithm>
#include <iostream>

#include "tests/edging/folding.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;
using testing_folds::fold_hole;
using testing_folds::FoldWants;
using testing_folds::wants_of;
using Form = OpeningPlan::Form;

/// A sealed panel of 2000 x 2000 about the origin with that opening in it.
Result<std::vector<Piece>> cut(const OpeningPlan& opening, const FinishSettings& settings = {},
                               const std::map<std::string, Vec2>& more = {}) {
    std::map<std::string, Vec2> points{
        {"A", {-1000, -1000}}, {"B", {1000, -1000}}, {"C", {1000, 1000}}, {"D", {-1000, 1000}}};
    points.insert(more.begin(), more.end());
    PanelInput in = panel_of({"A", "B", "C", "D"});
    in.openings.push_back(opening);
    auto panels = shaped({in}, survey_of(points), settings);
    auto pieces = edge_pieces(*panels, settings, RunContext{});
    pieces.findings.insert(pieces.findings.begin(), panels.findings.begin(), panels.findings.end());
    return pieces;
}

OpeningPlan box(double length, double width, double radius, Finish finish = Finish::turned) {
    return box_opening(length, width, radius, finish);
}

double area_of(const Outline& hole) {
    return -area_mm2(hole);
}

TEST(EdgingOpenings, ATurnedSlotByClosedForm) {
    // A stadium of radius 60 and 200 between its middles: turned by h its face cut is one of radius 60 - h.
    const auto pieces = cut(box(320, 120, 60));
    ASSERT_TRUE(pieces && pieces->size() == 1);
    const Piece& p = pieces->front();
    const double h = kIn;
    ASSERT_EQ(p.cut.face.holes.size(), 1u);
    const auto stadium = [](double r) { return kPi * r * r + 2 * r * 200; };
    EXPECT_NEAR(area_of(p.cut.face.holes[0]), stadium(60 - h), 1e-6);
    EXPECT_NEAR(area_of(p.cut.backing.holes[0]), stadium(60), 1e-6);
    EXPECT_DOUBLE_EQ(p.holes[0].turn_mm, h);
    EXPECT_NEAR(p.holes[0].rim_mm, 2 * kPi * 60 + 400, 1e-9);
    const auto seam = std::find_if(p.seams.begin(), p.seams.end(),
                                   [](const Seam& s) { return s.name == "round the hole"; });
    ASSERT_NE(seam, p.seams.end());
    EXPECT_NEAR(seam->length_mm, 2 * kPi * (60 + 6.35) + 400, 1e-9);
    EXPECT_TRUE(p.slits.empty());
    EXPECT_FALSE(p.flap_cuts.empty());
    EXPECT_EQ(p.flap_cuts[0].at, "hole");
}

TEST(EdgingOpenings, BoundAndSealedByClosedForm) {
    FinishSettings settings;
    const double g = settings.binding_growth_mm;
    auto pieces = cut(box(400, 300, 100, Finish::bound));
    const auto rounded = [](double grown) {
        return (400 + 2 * grown) * (300 + 2 * grown) - (4 - kPi) * (100 + grown) * (100 + grown);
    };
    EXPECT_NEAR(area_of(pieces->front().cut.face.holes[0]), rounded(g), 1e-6);
    EXPECT_NEAR(area_of(pieces->front().cut.backing.holes[0]), rounded(g), 1e-6);
    EXPECT_NEAR(pieces->front().binding_mm, 2 * (200 + 100) + 2 * kPi * 100 + settings.binding_overlap_mm,
                1e-9);
    pieces = cut(box(400, 300, 0, Finish::sealed));
    EXPECT_NEAR(area_of(pieces->front().cut.face.holes[0]), 400 * 300, 1e-6);
    EXPECT_TRUE(pieces->front().flap_cuts.empty());
}

TEST(EdgingOpenings, TheBackingIsCutFartherOutByTheFace) {
    FinishSettings settings;
    settings.face_thickness_mm = 2;
    const auto pieces = cut(box(400, 300, 0), settings);
    EXPECT_NEAR(area_of(pieces->front().cut.backing.holes[0]), 404 * 304, 1e-6);
    OpeningPlan post;
    post.id = "post";
    post.diameter_mm = 200;
    const auto round = cut(post, settings);
    EXPECT_NEAR(round->front().holes[0].backing_cut_diameter_mm, 204, 1e-9);
}

TEST(EdgingOpenings, ANarrowOneIsTurnedByLess) {
    // 60 wide: the face cut keeps 1 in, so 17.3 is left to fold back on each side.
    auto pieces = cut(box(300, 60, 0));
    EXPECT_NEAR(pieces->front().holes[0].turn_mm, (60 - kIn) / 2, 0.01);
    // 50 wide: 12.3 is less than the stitch needs (1/2 in).
    pieces = cut(box(300, 50, 0));
    const Finding* f = find(pieces.findings, "hole-too-small-to-turn");
    ASSERT_TRUE(f);
    EXPECT_NEAR(number(*f, "flap"), (50 - kIn) / 2, 0.01);
    EXPECT_EQ(pieces->front().holes[0].finish, Finish::sealed);
}

TEST(EdgingOpenings, WhatIsAlikeAtEveryCornerIsSaidOnce) {
    // Corners of 10 go round an inside curve of 10 of the goods: the fold stretches too much at each of the four.
    const auto pieces = cut(box(400, 300, 10));
    int said = 0;
    for (const Finding& f : pieces.findings) {
        if (f.code != "fold-stretches") continue;
        ++said;
        EXPECT_NE(f.says.find("at 3 other places of it"), std::string::npos) << f.says;
    }
    EXPECT_EQ(said, 1) << codes(pieces.findings);
}

TEST(EdgingOpenings, FlapsThatMeetAreSaid) {
    FinishSettings settings;
    std::map<std::string, Vec2> points{{"A", {0, 0}}, {"B", {600, 0}}, {"C", {600, 400}}, {"D", {0, 400}}};
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::turned);
    OpeningPlan o = box(500, 300, 0);  // 50 to the edges; two turns take 50.8
    o.centre_mm = {300, 200};
    in.openings.push_back(o);
    const auto panels = shaped({in}, survey_of(points), settings);
    const auto pieces = edge_pieces(*panels, settings, RunContext{});
    const Finding* f = find(pieces.findings, "flaps-meet");
    ASSERT_TRUE(f) << codes(pieces.findings);
    EXPECT_NEAR(number(*f, "distance"), 50 - kIn, 1e-9);
}

/// A free outline about the origin, its corners at any angle, some rounded, some of its sides curved.
OpeningPlan random_free(Dice& dice, std::map<std::string, Vec2>& points) {
    OpeningPlan o;
    o.id = "hole";
    o.form = Form::free;
    const int n = dice.whole(3, 6);
    for (int i = 0; i < n; ++i) {
        const double angle = 2 * kPi * (i + dice.between(-0.25, 0.25)) / n, r = dice.between(150, 500);
        const std::string name = "P" + std::to_string(i);
        points[name] = {r * std::cos(angle), r * std::sin(angle)};
        o.outline.push_back({name, dice.chance(0.3) ? dice.between(5, 60) : 0});
    }
    return o;
}

TEST(EdgingOpenings, RimsOfEveryFormFold) {
    Dice dice(4711);
    int judged = 0, turned_away = 0, flaps = 0;
    const int count = testing_folds::how_many(120);
    for (int i = 0; i < count; ++i) {
        FinishSettings settings;
        settings.mitred_corners = i % 3 == 0;
        if (i % 5 == 0) settings.backing_thickness_mm = 4, settings.face_thickness_mm = 1.5;
        std::map<std::string, Vec2> points;
        OpeningPlan o;
        if (i % 3 == 0) {
            const double width = dice.between(60, 400);
            o = box(dice.between(100, 600), width, 0);
            if (dice.chance(0.7)) o.radius_mm = dice.between(0.1, 0.5) * std::min(o.length_mm, width);
            o.turn_deg = dice.between(0, 360);
        } else {
            o = random_free(dice, points);
        }
        const auto pieces = cut(o, settings, points);
        bool refused = !pieces || pieces->empty() || pieces->front().holes.empty();
        for (const char* code : {"turn-sticks-out", "flaps-meet", "flap-too-narrow-to-cut",
                                 "step-too-short-to-turn", "hole-too-small-to-turn"})
            refused = refused || find(pieces.findings, code);
        const Finding* narrowed = find(pieces.findings, "turn-narrowed");
        if (refused || (narrowed && narrowed->severity == Severity::look)) {
            ++turned_away;
            continue;
        }
        ++judged;
        const auto folding = fold_hole(pieces->front(), 0, wants_of(settings));
        flaps += folding.flaps;
        EXPECT_EQ(said(folding), "") << "opening " << i;
    }
    std::cout << judged << " openings with " << flaps << " flaps folded, " << turned_away << " refused\n";
    EXPECT_GT(judged, count * 3 / 5);
}

TEST(EdgingOpenings, ATurnedRimEndsAtItsBoundSlit) {
    // The rim is an edge of the panel then, of several arcs that run on: moved, their ends differ by rounding, which once made the
    // face line look tangled.
    for (double radius = 40; radius <= 200; radius += 20)
        for (const double gap : {2.0, 4.0, 6.0}) {
            OpeningPlan post;
            post.id = "post";
            post.diameter_mm = 2 * radius;
            post.finish = Finish::turned;
            post.slit = SlitPlan{"A", "B", gap, Finish::bound};
            const FinishSettings settings;
            const auto pieces = cut(post, settings);
            ASSERT_TRUE(pieces && pieces->size() == 1) << radius << " " << gap << codes(pieces.findings);
            const Piece& piece = pieces->front();
            EXPECT_TRUE(piece.cut.face.holes.empty());
            EXPECT_TRUE(faults_of(piece.cut.face.outer).empty());
            // Ends run along the wall of the slit where that is within the facet of their rays.
            // What is cut away in the middle is the circle less the turn, and the slit between: wider by the growth on each side at the rim,
            // and narrower along the rays of the flaps' ends.
            const double inner = radius - kIn, half = gap / 2 + settings.binding_growth_mm;
            const double y = std::sqrt(radius * radius - half * half), share = inner / radius;
            const double slit = 2 * half * (1000 - y);
            const double flaps = half * (1 + share) * (y - share * y);
            const double angle = 2 * std::asin(half / radius);
            const double segment = inner * inner / 2 * (angle - std::sin(angle));
            EXPECT_NEAR(area_mm2(piece.cut.face.outer),
                        2000.0 * 2000 - slit - flaps - (kPi * inner * inner - segment),
                        settings.facet_mm * settings.turn_mm)
                << radius << " " << gap;
            EXPECT_TRUE(std::any_of(piece.seams.begin(), piece.seams.end(), [](const Seam& seam) {
                return seam.name == "turned edge post 2 post 3" && !seam.closed;
            }));
        }
}

TEST(EdgingOpenings, TheOracleSeesPlantedFaultsInRims) {
    const auto pieces = cut(box(400, 300, 80));
    const FoldWants wants = wants_of({});
    ASSERT_TRUE(fold_hole(pieces->front(), 0, wants).faults.empty());
    // A relief cut forgotten.
    Piece piece = pieces->front();
    piece.flap_cuts.erase(piece.flap_cuts.begin() + 2);
    EXPECT_FALSE(fold_hole(piece, 0, wants).faults.empty());
    // The face cut 1 mm too large.
    piece = pieces->front();
    for (Vertex& v : piece.cut.face.holes[0].vertices) v.p = v.p + 1.0 * unit(v.p - piece.holes[0].centre_mm);
    EXPECT_FALSE(fold_hole(piece, 0, wants).faults.empty());
    // A slit cut through to the fold.
    piece = pieces->front();
    piece.flap_cuts[0].path.vertices.back().p =
        piece.flap_cuts[0].path.vertices.back().p +
        5.0 * unit(piece.flap_cuts[0].path.vertices.back().p - piece.flap_cuts[0].path.vertices.front().p);
    EXPECT_FALSE(fold_hole(piece, 0, wants).faults.empty());
}

}  // namespace
}  // namespace spile
