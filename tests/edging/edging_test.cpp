// Pieces against closed forms and against common practice.
#include "core/edging/piece.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

Result<std::vector<Piece>> edged(const std::vector<PanelInput>& in, const Survey& survey,
                                 const FinishSettings& settings = {}) {
    auto panels = shaped(in, survey, settings);
    EXPECT_TRUE(panels);
    auto pieces = edge_pieces(*panels, settings, RunContext{});
    pieces.findings.insert(pieces.findings.begin(), panels.findings.begin(), panels.findings.end());
    return pieces;
}

Result<std::vector<Piece>> mat(double x, double y, Finish finish, double radius = 0,
                               const std::vector<OpeningPlan>& openings = {}) {
    PanelInput in;
    in.id = "mat";
    in.name = "step mat";
    in.size_x_mm = x;
    in.size_y_mm = y;
    in.mat_finish = finish;
    in.corner_radius_mm = radius;
    in.openings = openings;
    return edged({in}, rectangle_survey(1, 1));
}

double width(const Region& r) {
    return box_of(r).width();
}
double height(const Region& r) {
    return box_of(r).height();
}

TEST(Edging, ATurnedMatOf24By36) {
    // Common practice, no source: finished 24 x 36 in turned -> face 26 x 38 in, backing 24 x 36 in.
    const auto pieces = mat(24 * kIn, 36 * kIn, Finish::turned);
    ASSERT_TRUE(pieces);
    EXPECT_TRUE(pieces.findings.empty()) << codes(pieces.findings);
    ASSERT_EQ(pieces->size(), 1u);
    const Piece& p = pieces->front();
    EXPECT_EQ(p.number, 1);
    EXPECT_EQ(p.name, "step mat");
    EXPECT_NEAR(width(p.cut.face), 26 * kIn, 1e-9);
    EXPECT_NEAR(height(p.cut.face), 38 * kIn, 1e-9);
    EXPECT_NEAR(width(p.cut.backing), 24 * kIn, 1e-9);
    EXPECT_NEAR(height(p.cut.backing), 36 * kIn, 1e-9);
    EXPECT_EQ(box_of(p.cut.face).min, (Vec2{0, 0}));
    EXPECT_NEAR(box_of(p.net).min.x, kIn, 1e-9);
    EXPECT_NEAR(box_of(p.net).min.y, kIn, 1e-9);
    EXPECT_NEAR(p.area_mm2, 26 * 38 * kIn * kIn, 1e-6);
    EXPECT_EQ(p.binding_mm, 0);
    ASSERT_EQ(p.edges.size(), 4u);
    EXPECT_NEAR(p.edges[0].net_length_mm, 24 * kIn, 1e-9);
    EXPECT_NEAR(p.edges[0].cut_length_mm, 26 * kIn, 1e-9);
    // Each edge sewn 1/4 in inside, from stitch line to stitch line.
    ASSERT_EQ(p.seams.size(), 4u);
    EXPECT_EQ(p.seams[0].name, "turned edge A B");
    EXPECT_NEAR(p.seams[0].length_mm, 23.5 * kIn, 1e-9);
    EXPECT_FALSE(p.seams[0].closed);
}

TEST(Edging, APostHoleOf2In) {
    // Common practice, no source (trade.md): 2 in post -> net and backing circle 2 1/2 in, face cut 1 in, slits from
    // the face cut outward to 1/4 in short of the backing edge, stitch circle 3 in.
    const auto pieces = mat(24 * kIn, 36 * kIn, Finish::bound, 2 * kIn,
                            {{"post", "", 2 * kIn, kIn / 4, Finish::turned, {300, 400}}});
    ASSERT_TRUE(pieces);
    EXPECT_TRUE(pieces.findings.empty()) << codes(pieces.findings);
    const Piece& p = pieces->front();
    ASSERT_EQ(p.holes.size(), 1u);
    const HoleReport& hole = p.holes.front();
    EXPECT_EQ(hole.finish, Finish::turned);
    EXPECT_NEAR(hole.net_diameter_mm, 2.5 * kIn, 1e-9);
    EXPECT_NEAR(hole.backing_cut_diameter_mm, 2.5 * kIn, 1e-9);
    EXPECT_NEAR(hole.face_cut_diameter_mm, 1 * kIn, 1e-9);
    EXPECT_NEAR(hole.slit_outer_diameter_mm, 2 * kIn, 1e-9);
    EXPECT_NEAR(hole.stitch_diameter_mm, 3 * kIn, 1e-9);
    EXPECT_EQ(hole.centre_mm, p.piece_from_boat(Vec2{300, 400}));
    ASSERT_EQ(p.cut.face.holes.size(), 1u);
    EXPECT_NEAR(area_mm2(p.cut.face.holes[0]), -kPi * 0.25 * kIn * kIn, 1e-9);
    EXPECT_NEAR(area_mm2(p.cut.backing.holes[0]), -kPi * 1.5625 * kIn * kIn, 1e-9);
    EXPECT_EQ(p.cut.face.holes[0].vertices[0].tag, -2);
    ASSERT_EQ(p.slits.size(), static_cast<std::size_t>(hole.slits));
    for (const Path& slit : p.slits) {
        EXPECT_NEAR(distance(slit.vertices[0].p, hole.centre_mm), 0.5 * kIn, 1e-9);
        EXPECT_NEAR(distance(slit.vertices[1].p, hole.centre_mm), 1 * kIn, 1e-9);
    }
    const Seam& seam = p.seams.back();
    EXPECT_EQ(seam.name, "round the post");
    EXPECT_TRUE(seam.closed);
    EXPECT_NEAR(seam.length_mm, kPi * 3 * kIn, 1e-9);
}

// One edge left long: both cut lines lie so much further out there and nowhere else; net line and seams stay.
TEST(Edging, AnEdgeLeftLongMovesOnlyItsCutLines) {
    for (const Finish finish : {Finish::bound, Finish::turned, Finish::sealed}) {
        for (const double radius : {0.0, 60.0}) {
            PanelInput in = panel_of({"A", "B", "C", "D"}, finish, 0, radius);
            const auto plain = edged({in}, rectangle_survey(1000, 600));
            in.edges[1].left_long_mm = 30;
            const auto left = edged({in}, rectangle_survey(1000, 600));
            ASSERT_TRUE(plain && left && plain->size() == 1 && left->size() == 1);
            EXPECT_EQ(codes(left.findings), codes(plain.findings));
            const Piece &p = plain->front(), &l = left->front();
            EXPECT_NEAR(width(l.cut.face), width(p.cut.face) + 30, 1e-9);
            EXPECT_NEAR(width(l.cut.backing), width(p.cut.backing) + 30, 1e-9);
            EXPECT_NEAR(height(l.cut.face), height(p.cut.face), 1e-9);
            EXPECT_NEAR(width(l.net), width(p.net), 1e-9);
            EXPECT_NEAR(box_of(l.net).min.x, box_of(p.net).min.x, 1e-9);
            ASSERT_EQ(l.seams.size(), p.seams.size());
            for (std::size_t i = 0; i < l.seams.size(); ++i)
                EXPECT_NEAR(l.seams[i].length_mm, p.seams[i].length_mm, 1e-9);
            EXPECT_NEAR(l.edges[0].cut_length_mm, p.edges[0].cut_length_mm + 30, 1e-9);
            EXPECT_NEAR(l.edges[1].cut_length_mm, p.edges[1].cut_length_mm, 1e-9);
            EXPECT_NEAR(l.edges[1].net_length_mm, p.edges[1].net_length_mm, 1e-9);
            EXPECT_EQ(l.edges[1].plan.left_long_mm, 30);
            // The two corners beside it are square: r is the radius of the cut line.
            const double r = radius == 0 ? 0 : finish == Finish::bound ? radius - kIn / 16 : radius;
            EXPECT_NEAR(area_mm2(l.cut.backing) - area_mm2(p.cut.backing),
                        30 * height(p.cut.backing) + 2 * (1 - kPi / 4) * r * r, 1e-6);
        }
    }
}

TEST(Edging, SlitsAreEvenAtLeastEightAndKeepTheFacet) {
    for (const double r : {5.0, 20.0, 31.75, 100.0, 400.0}) {
        for (const double facet : {0.3, 0.8, 2.0}) {
            FinishSettings settings;
            settings.facet_mm = facet;
            PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 60);
            in.openings.push_back({"hole", "", 2 * r, 0, Finish::turned, {500, 500}});
            settings.turned_hole_face_mm = 2;
            settings.stitch_from_edge_mm = 1;
            settings.slit_short_mm = 1;
            const auto pieces = edged({in}, rectangle_survey(1000, 1000), settings);
            const HoleReport& hole = pieces->front().holes.front();
            EXPECT_EQ(hole.slits % 2, 0);
            EXPECT_GE(hole.slits, 8);
            const double chord = 2 * r * std::sin(kPi / hole.slits);
            const double sagitta = r - std::sqrt(r * r - chord * chord / 4);
            EXPECT_LE(sagitta, facet * 1.01) << r;  // w^2 / 8R is the sagitta of a flat arc
            if (hole.slits > 8) {
                const double fewer = 2 * r * std::sin(kPi / (hole.slits - 2));
                EXPECT_GT(r - std::sqrt(r * r - fewer * fewer / 4), facet * 0.98) << r;
            }
        }
    }
}

TEST(Edging, AWideTurnedHoleIsTurnedLikeAnEdge) {
    const auto pieces = mat(900, 900, Finish::bound, 60, {{"base", "", 300, 0, Finish::turned, {450, 450}}});
    const HoleReport& hole = pieces->front().holes.front();
    EXPECT_NEAR(hole.face_cut_diameter_mm, 300 - 2 * kIn, 1e-9);
}

TEST(Edging, AHoleTooSmallToTurnSaysWhatWouldWork) {
    const auto pieces =
        mat(600, 400, Finish::bound, 60, {{"rod", "", kIn, kIn / 4, Finish::turned, {300, 200}}});
    const Finding* f = find(pieces.findings, "hole-too-small-to-turn");
    ASSERT_NE(f, nullptr) << codes(pieces.findings);
    EXPECT_EQ(f->severity, Severity::stop);
    EXPECT_EQ(f->subject, (Subject{"opening", "mat/rod"}));
    EXPECT_NEAR(number(*f, "flap"), 0.25 * kIn, 1e-9);
    EXPECT_NEAR(number(*f, "least"), 0.5 * kIn, 1e-9);
    EXPECT_NEAR(number(*f, "largest face cut"), 0.5 * kIn, 1e-9);
    EXPECT_EQ(pieces->front().holes.front().slits, 0);
}

TEST(Edging, ABoundRectangle) {
    const double w = 600, h = 400, r = 2 * kIn;
    const FinishSettings s;
    const auto pieces = mat(w, h, Finish::bound, r, {{"base", "", 180, 5, Finish::bound, {300, 200}}});
    EXPECT_TRUE(pieces.findings.empty()) << codes(pieces.findings);
    const Piece& p = pieces->front();
    const double g = s.binding_growth_mm;
    EXPECT_NEAR(width(p.cut.face), w - 2 * g, 1e-9);
    EXPECT_NEAR(height(p.cut.face), h - 2 * g, 1e-9);
    EXPECT_EQ(p.cut.face.outer, p.cut.backing.outer);
    // Moved in by g, the radius is r - g; the hole grows by g.
    const double hole = 95 + g;
    EXPECT_NEAR(p.area_mm2, (w - 2 * g) * (h - 2 * g) - (4 - kPi) * (r - g) * (r - g) - kPi * hole * hole,
                1e-6);
    EXPECT_NEAR(p.holes[0].face_cut_diameter_mm, 2 * hole, 1e-9);
    EXPECT_NEAR(p.holes[0].net_diameter_mm, 190, 1e-9);
    const double round = 2 * (w + h) - (8 - 2 * kPi) * r;
    EXPECT_NEAR(p.binding_mm, round + s.binding_overlap_mm + kPi * 190 + s.binding_overlap_mm, 1e-6);
    ASSERT_EQ(p.seams.size(), 2u);
    EXPECT_EQ(p.seams[0].name, "binding, all round");
    EXPECT_TRUE(p.seams[0].closed);
    EXPECT_NEAR(p.seams[0].length_mm, round - 2 * kPi * s.stitch_from_edge_mm, 1e-6);
    EXPECT_EQ(p.seams[0].path.vertices.front().p, p.seams[0].path.vertices.back().p);
    EXPECT_NEAR(p.seams[1].length_mm, kPi * (190 + 2 * s.stitch_from_edge_mm), 1e-9);
}

TEST(Edging, BindingStartsInTheMiddleOfTheLeastSeenStraightEdge) {
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound, 0, 60);
    in.edges[0].situation = Situation::free;
    in.edges[2].situation = Situation::joint;
    const auto pieces = edged({in}, rectangle_survey(900, 400));
    const Piece& p = pieces->front();
    const Vec2 start = inverse(p.piece_from_boat)(p.seams[0].path.vertices.front().p);
    EXPECT_NEAR(start.x, 900 - 6.35, 1e-9);  // B C is a wall, and the first of two alike
    EXPECT_NEAR(start.y, 200, 1e-9);
    EXPECT_EQ(p.seams[0].path.vertices.front().tag, 1);  // the edge it says so by
}

TEST(Edging, EachRunKnowsItsBinding) {
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound);
    in.edges[1].finish = Finish::sealed;
    in.edges[3].finish = Finish::sealed;
    in.openings = {{"post", "", 200, 0, Finish::bound, {300, 200}}};
    const auto pieces = edged({in}, rectangle_survey(600, 400));
    const Piece& p = pieces->front();
    ASSERT_EQ(p.seams.size(), 3u);
    const double lap = FinishSettings{}.binding_overlap_mm;
    EXPECT_NEAR(p.seams[0].binding_mm, 600 + lap, 1e-9);
    EXPECT_NEAR(p.seams[1].binding_mm, 600 + lap, 1e-9);
    EXPECT_NEAR(p.seams[2].binding_mm, kPi * 200 + lap, 1e-9);
    EXPECT_NEAR(p.binding_mm, p.seams[0].binding_mm + p.seams[1].binding_mm + p.seams[2].binding_mm, 1e-9);
    EXPECT_LT(p.seams[2].path.vertices.front().tag, 0);  // no edge of the panel
}

TEST(Edging, SealedEdgesAreCutAtTheNetLineAndNotSewn) {
    const auto pieces = mat(600, 400, Finish::sealed);
    const Piece& p = pieces->front();
    EXPECT_EQ(p.cut.face.outer, p.net.outer);
    EXPECT_EQ(p.cut.backing.outer, p.net.outer);
    EXPECT_TRUE(p.seams.empty());
    EXPECT_EQ(p.binding_mm, 0);
}

TEST(Edging, MixedFinishesMeetExactlyAtTheCorners) {
    // Turned fore and aft edges (x = 0 and x = w), bound long sides.
    const double w = 600, h = 400;
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::bound);
    in.edges[1].finish = in.edges[3].finish = Finish::turned;
    const auto pieces = edged({in}, rectangle_survey(w, h));
    EXPECT_TRUE(pieces.findings.empty()) << codes(pieces.findings);
    const Piece& p = pieces->front();
    const FinishSettings s;
    const double g = s.binding_growth_mm, t = s.turn_mm, q = s.stitch_from_edge_mm;
    EXPECT_EQ(p.cut.face.outer.size(), 4u);
    EXPECT_NEAR(width(p.cut.face), w + 2 * t, 1e-9);
    EXPECT_NEAR(height(p.cut.face), h - 2 * g, 1e-9);
    EXPECT_NEAR(width(p.cut.backing), w, 1e-9);
    EXPECT_NEAR(height(p.cut.backing), h - 2 * g, 1e-9);
    ASSERT_EQ(p.seams.size(), 4u);
    EXPECT_NEAR(p.binding_mm, 2 * (w + s.binding_overlap_mm), 1e-9);
    for (const Seam& seam : p.seams) {
        EXPECT_FALSE(seam.closed);
        const bool binding = seam.name.find("binding") == 0;
        EXPECT_NEAR(seam.length_mm, binding ? w - 2 * q : h - 2 * q, 1e-9) << seam.name;
    }
}

TEST(Edging, SeamsRunOutAtSealedEdges) {
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::turned);
    in.edges[1].finish = Finish::sealed;
    const auto pieces = edged({in}, rectangle_survey(600, 400));
    const Piece& p = pieces->front();
    ASSERT_EQ(p.seams.size(), 3u);
    for (const Seam& seam : p.seams) {
        const double expected = seam.name == "turned edge D A" ? 400 - 2 * 6.35 : 600 - 6.35;
        EXPECT_NEAR(seam.length_mm, expected, 1e-9) << seam.name;
    }
    EXPECT_NEAR(width(p.cut.face), 600 + kIn, 1e-9);
}

TEST(Edging, ARoundedTurnedPanelIsSewnAllRoundInOne) {
    const auto pieces = mat(600, 400, Finish::turned, 80);
    const Piece& p = pieces->front();
    ASSERT_EQ(p.seams.size(), 1u);
    EXPECT_EQ(p.seams[0].name, "turned edge, all round");
    EXPECT_TRUE(p.seams[0].closed);
    const FinishSettings s;
    const double grown = 80 + s.turn_mm;
    EXPECT_NEAR(p.area_mm2, (600 + 2 * kIn) * (400 + 2 * kIn) - (4 - kPi) * grown * grown, 1e-6);
}

/// A regular polygon of n sides about the origin by its apothem.
PanelInput regular(int n, double apothem, Finish finish, double clearance, Survey& survey) {
    std::map<std::string, Vec2> points;
    std::vector<std::string> names;
    const double r = apothem / std::cos(kPi / n);
    for (int i = 0; i < n; ++i) {
        names.push_back("P" + std::to_string(i));
        points[names.back()] = {r * std::cos(2 * kPi * i / n), r * std::sin(2 * kPi * i / n)};
    }
    survey = survey_of(points);
    return panel_of(names, finish, clearance);
}

TEST(Edging, RegularPolygonsByClosedForm) {
    const FinishSettings s;
    for (int n = 3; n <= 12; ++n) {
        for (const Finish finish : {Finish::bound, Finish::turned, Finish::sealed}) {
            Survey survey;
            const PanelInput in = regular(n, 400, finish, 5, survey);
            const auto pieces = edged({in}, survey);
            ASSERT_EQ(pieces->size(), 1u);
            const double outside = finish == Finish::bound    ? -s.binding_growth_mm
                                   : finish == Finish::turned ? s.turn_mm
                                                              : 0;
            const auto area = [&](double apothem) { return n * apothem * apothem * std::tan(kPi / n); };
            const Piece& p = pieces->front();
            EXPECT_NEAR(p.area_mm2, area(395 + outside), 1e-6) << n;
            EXPECT_NEAR(area_mm2(p.cut.backing), area(395 + std::min(outside, 0.0)), 1e-6) << n;
            EXPECT_NEAR(area_mm2(p.net), area(395), 1e-6) << n;
            for (const EdgeReport& e : p.edges) {
                EXPECT_NEAR(e.net_length_mm, 2 * 395 * std::tan(kPi / n), 1e-9);
                EXPECT_NEAR(e.cut_length_mm, 2 * (395 + outside) * std::tan(kPi / n), 1e-9);
            }
        }
    }
}

TEST(Edging, ADiscAndASlotByClosedForm) {
    const FinishSettings s;
    const double r = 400, c = 5;
    // The disc: three arcs of a third each.
    Survey disc = survey_of({{"A", {r, 0}},
                             {"B", {r * std::cos(2 * kPi / 3), r * std::sin(2 * kPi / 3)}},
                             {"C", {r * std::cos(4 * kPi / 3), r * std::sin(4 * kPi / 3)}}});
    const char* names[] = {"A", "B", "C"};
    for (int i = 0; i < 3; ++i) {
        const std::string from = names[i], to = names[(i + 1) % 3];
        disc.curves.push_back(
            {from, to, {{disc.points[from].boat_mm, disc.points[to].boat_mm, std::tan(kPi / 6), 0}}});
    }
    // The slot: 600 between the middles of two half circles of radius 300.
    Survey slot = rectangle_survey(600, 600);
    slot.curves.push_back({"B", "C", {{{600, 0}, {600, 600}, 1, 0}}});
    slot.curves.push_back({"D", "A", {{{0, 600}, {0, 0}, 1, 0}}});
    for (const Finish finish : {Finish::bound, Finish::turned, Finish::sealed}) {
        const double outside = finish == Finish::bound    ? -s.binding_growth_mm
                               : finish == Finish::turned ? s.turn_mm
                                                          : 0;
        auto pieces = edged({panel_of({"A", "B", "C"}, finish, c)}, disc);
        ASSERT_EQ(pieces->size(), 1u) << codes(pieces.findings);
        const double R = r - c + outside;
        EXPECT_NEAR(pieces->front().area_mm2, kPi * R * R, 1e-6);
        EXPECT_NEAR(pieces->front().edges[0].cut_length_mm, 2 * kPi * R / 3, 1e-6);
        pieces = edged({panel_of({"A", "B", "C", "D"}, finish, c)}, slot);
        ASSERT_EQ(pieces->size(), 1u) << codes(pieces.findings);
        const double S = 300 - c + outside;
        EXPECT_NEAR(pieces->front().area_mm2, kPi * S * S + 600 * 2 * S, 1e-6);
        EXPECT_NEAR(width(pieces->front().cut.face), 600 + 2 * S, 1e-9);
    }
}

TEST(Edging, PiecesLieBowToTheRightWithTheirFaceUp) {
    const Survey survey = rectangle_survey(600, 400);
    PanelInput one = panel_of({"A", "B", "C", "D"}, Finish::turned);
    one.id = "fore";
    one.studs = {};
    const auto pieces = edged({one}, survey);
    const Piece& p = pieces->front();
    EXPECT_EQ(p.piece_from_boat.cos, 1);
    EXPECT_EQ(p.piece_from_boat.sin, 0);
    EXPECT_EQ(p.piece_from_boat.turn(Vec2{1, 0}), (Vec2{1, 0}));
    EXPECT_EQ(box_of(p.cut.face).min, (Vec2{0, 0}));
    EXPECT_GT(area_mm2(p.cut.face.outer), 0);
}

TEST(Edging, NumbersFollowThePanels) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["E"] = {{610, 0}, {}};
    survey.points["F"] = {{610, 400}, {}};
    survey.points["G"] = {{1200, 0}, {}};
    survey.points["H"] = {{1200, 400}, {}};
    FinishSettings s;
    s.binding_growth_mm = 6;
    PanelInput one = panel_of({"A", "B", "C", "D"}), thin = panel_of({"B", "E", "F", "C"}, Finish::bound),
               three = panel_of({"E", "G", "H", "F"});
    thin.id = "thin";
    three.id = "three";
    const auto pieces = edged({one, thin, three}, survey, s);
    ASSERT_EQ(pieces->size(), 2u);
    EXPECT_EQ((*pieces)[0].number, 1);
    EXPECT_EQ((*pieces)[1].number, 3);
    const Finding* f = find(pieces.findings, "growth-eats-panel");
    ASSERT_NE(f, nullptr);
    EXPECT_EQ(f->subject, (Subject{"panel", "thin"}));
}

TEST(Edging, StudsAndHolesMoveWithThePiece) {
    Survey survey = rectangle_survey(600, 400);
    survey.points["S1"] = {{100, 150}, {}};
    PanelInput in = panel_of({"A", "B", "C", "D"}, Finish::turned);
    in.studs = {"S1"};
    const auto pieces = edged({in}, survey);
    EXPECT_NEAR(pieces->front().studs[0].at_mm.x, 100 + kIn, 1e-9);
    EXPECT_NEAR(pieces->front().studs[0].at_mm.y, 150 + kIn, 1e-9);
}

TEST(Edging, TurnsThatNeedTheSameGoodsAreNamed) {
    // A slot 30 mm wide and 200 deep in the side of a turned panel: two turns of 25.4 do not fit into it.
    const Survey survey = survey_of({{"A", {0, 0}},
                                     {"B", {600, 0}},
                                     {"C", {600, 400}},
                                     {"D", {330, 400}},
                                     {"E", {330, 200}},
                                     {"F", {300, 200}},
                                     {"G", {300, 400}},
                                     {"H", {0, 400}}});
    const std::vector<std::string> corners = {"A", "B", "C", "D", "E", "F", "G", "H"};
    const auto pieces = edged({panel_of(corners, Finish::turned)}, survey);
    const Finding* f = find(pieces.findings, "turns-collide");
    ASSERT_NE(f, nullptr) << codes(pieces.findings);
    EXPECT_EQ(f->severity, Severity::stop);
    EXPECT_EQ(find(edged({panel_of(corners, Finish::bound)}, survey).findings, "turns-collide"), nullptr);
    // Wide enough, there is no such finding.
    Survey wide = survey;
    wide.points["F"].boat_mm.x = wide.points["G"].boat_mm.x = 270;
    EXPECT_EQ(find(edged({panel_of(corners, Finish::turned)}, wide).findings, "turns-collide"), nullptr);
}

TEST(Edging, FoldedBackGoodsOfAHoleMeetTheTurnOfAnEdge) {
    auto pieces = mat(600, 400, Finish::turned, 0, {{"post", "", 50, 5, Finish::turned, {300, 70}}});
    const Finding* f = find(pieces.findings, "flaps-meet");
    ASSERT_NE(f, nullptr) << codes(pieces.findings);
    EXPECT_EQ(f->severity, Severity::look);
    // Net radius 30, face cut 25.4 across: the flap of 17.3 reaches 47.3 from the middle.
    EXPECT_NEAR(number(*f, "distance"), 70 - 47.3, 1e-9);
    pieces = mat(600, 400, Finish::turned, 0, {{"post", "", 50, 5, Finish::turned, {300, 73}}});
    EXPECT_EQ(find(pieces.findings, "flaps-meet"), nullptr);
}

}  // namespace
}  // namespace spile
