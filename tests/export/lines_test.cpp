// What a cutting machine is given, before any format.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/geom/tolerance.h"
#include "export/lines/machine_drawing.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

using ::testing::ElementsAre;
using ::testing::SizeIs;

std::vector<MachineLine> of(const MachineDrawing& drawing, Purpose purpose, const std::string& piece = "3") {
    std::vector<MachineLine> lines;
    for (const MachineLine& line : drawing.lines)
        if (line.purpose == purpose && line.piece == piece) lines.push_back(line);
    return lines;
}

/// Twice the signed area of the corner from the flag over the tail to the head: > 0 turns left.
double turn_of_mark(const MachineDrawing& drawing) {
    for (const MachineLine& line : drawing.lines)
        if (line.name == "flag and arrow") {
            const auto& v = line.vertices;
            return cross(v[1].p - v[0].p, v[2].p - v[1].p);
        }
    ADD_FAILURE() << "no mark";
    return 0;
}

TEST(MachineDrawing, FromTheFaceThePieceIsAsItIs) {
    const Piece piece = sample::piece();
    const MachineDrawing drawing = machine_drawing(piece, SeenFrom::face);
    const auto cuts = of(drawing, Purpose::cut_through);
    ASSERT_THAT(cuts, SizeIs(2));
    EXPECT_EQ(cuts[0].name, "hole 1");
    EXPECT_EQ(cuts[1].name, "outside");
    EXPECT_EQ(Outline{cuts[1].vertices}, piece.cut.face.outer);
    EXPECT_GT(turn_of_mark(drawing), 0);
    EXPECT_EQ(drawing.box.min, (Vec2{0, 0}));
    EXPECT_NEAR(drawing.box.max.x, 850, noise_mm(850));  // chord 500, bulge 0.2: rise 50
    EXPECT_EQ(drawing.box.max.y, 500);
    EXPECT_THAT(of(drawing, Purpose::slits), SizeIs(8));
    EXPECT_THAT(of(drawing, Purpose::stitch), SizeIs(2));
    EXPECT_TRUE(of(drawing, Purpose::stitch)[0].closed);
    EXPECT_THAT(of(drawing, Purpose::stitch)[0].vertices,
                SizeIs(2));  // a circle, its first point not repeated
}

TEST(MachineDrawing, FromTheBackEverythingIsMirroredByRollingOver) {
    const Piece piece = sample::piece();
    const MachineDrawing face = machine_drawing(piece, SeenFrom::face);
    const MachineDrawing back = machine_drawing(piece, SeenFrom::back);
    EXPECT_LT(turn_of_mark(back), 0);
    EXPECT_EQ(back.box.min, face.box.min);
    EXPECT_NEAR(back.box.max.x, face.box.max.x, noise_mm(850));
    EXPECT_EQ(back.box.max.y, face.box.max.y);
    const BackFromFace over{250};  // half the height
    ASSERT_EQ(face.lines.size(), back.lines.size());
    for (std::size_t i = 0; i < face.lines.size(); ++i) {
        const MachineLine& a = face.lines[i];
        const MachineLine& b = back.lines[i];
        EXPECT_EQ(a.name, b.name);
        EXPECT_EQ(a.purpose, b.purpose);
        if (a.closed)
            EXPECT_EQ(over(Outline{a.vertices}), Outline{b.vertices});
        else
            EXPECT_EQ(over(Path{a.vertices}).vertices, b.vertices);
    }
    // Areas do not change, nor do counter-clockwise outsides and clockwise holes.
    const auto cuts = of(back, Purpose::cut_through);
    EXPECT_NEAR(area_mm2(Outline{cuts[1].vertices}), area_mm2(piece.cut.face.outer), 1e-6);
    EXPECT_LT(area_mm2(Outline{cuts[0].vertices}), 0);
}

TEST(MachineDrawing, TheSideStandsInTitleFileNameAndOnThePiece) {
    EXPECT_STREQ(words_for(SeenFrom::back), "back, mirrored");
    EXPECT_STREQ(file_word(SeenFrom::back), "back-mirrored");
    const MachineDrawing back = machine_drawing(sample::piece(), SeenFrom::back);
    EXPECT_EQ(back.title, "piece 3 round the post, back, mirrored");
    ASSERT_THAT(back.texts, SizeIs(3));
    EXPECT_EQ(back.texts[0].utf8, "3");
    EXPECT_EQ(back.texts[1].utf8, "round the post");
    EXPECT_EQ(back.texts[2].utf8, "BACK, MIRRORED");
    EXPECT_EQ(machine_drawing(sample::piece(), SeenFrom::face).texts[2].utf8, "FACE");

    Piece piece = sample::piece();
    piece.name = "a name far too long to be read on the piece when it is written small enough to fit";
    const MachineDrawing face = machine_drawing(piece, SeenFrom::face);
    ASSERT_THAT(face.texts, SizeIs(2));
    EXPECT_EQ(face.texts[0].utf8, "3");
}

TEST(MachineDrawing, TheBackingIsCutOnlyWhereItIsItsOwnLine) {
    const auto backing = of(machine_drawing(sample::piece(), SeenFrom::face), Purpose::backing_only);
    ASSERT_THAT(backing, SizeIs(2));
    EXPECT_EQ(backing[0].name, "hole 1");
    EXPECT_TRUE(backing[0].closed);
    EXPECT_EQ(backing[1].name, "outside, stretch 1");
    EXPECT_FALSE(backing[1].closed);
    ASSERT_THAT(backing[1].vertices, SizeIs(2));
    EXPECT_EQ(backing[1].vertices[0].p, (Vec2{25.4, 362.7}));
    EXPECT_EQ(backing[1].vertices[1].p, (Vec2{25.4, 0}));
}

TEST(MachineDrawing, APieceBoundAllRoundHasNoBackingLine) {
    Piece piece = sample::piece();
    piece.cut.backing = piece.cut.face;
    EXPECT_THAT(of(machine_drawing(piece, SeenFrom::face), Purpose::backing_only), SizeIs(0));
}

TEST(MachineDrawing, APieceTurnedAllRoundHasAWholeBackingLine) {
    Piece piece = sample::piece();
    piece.cut.backing = {rectangle({100, 50}, {700, 300}), {}};
    const auto backing = of(machine_drawing(piece, SeenFrom::face), Purpose::backing_only);
    ASSERT_THAT(backing, SizeIs(1));
    EXPECT_TRUE(backing[0].closed);
    EXPECT_EQ(backing[0].name, "outside");
}

TEST(MachineDrawing, TheOutsideIsCutLast) {
    for (const SeenFrom side : {SeenFrom::face, SeenFrom::back}) {
        const MachineDrawing drawing = machine_drawing(sample::piece(), side);
        for (std::size_t i = 1; i < drawing.lines.size(); ++i)
            EXPECT_LE(drawing.lines[i - 1].purpose, drawing.lines[i].purpose);
        EXPECT_EQ(drawing.lines.back().name, "outside");
    }
}

TEST(MachineDrawing, TheMarkAndItsWordsStandWellInside) {
    for (const SeenFrom side : {SeenFrom::face, SeenFrom::back}) {
        const MachineDrawing drawing = machine_drawing(sample::piece(), side);
        const auto cuts = of(drawing, Purpose::cut_through);
        const Region face{Outline{cuts[1].vertices}, {Outline{cuts[0].vertices}}};
        for (const MachineLine& line : of(drawing, Purpose::marks))
            for (const Vertex& v : line.vertices) EXPECT_EQ(side_of(face, v.p), Side::inside) << line.name;
        for (const MachineText& text : drawing.texts) EXPECT_EQ(side_of(face, text.at_mm), Side::inside);
    }
}

struct Roll {
    std::vector<Piece> pieces;
    Layout layout;
    Goods goods;
};

Roll roll() {
    Roll r;
    r.pieces = {sample::piece(), sample::piece()};
    r.pieces[1].id = "4";
    r.pieces[1].number = 4;
    r.layout.placements = {{"4", 6350, 6350}, {"3", 1000000, 900000}};
    r.layout.bought_mm = 2 * 914.4;
    r.goods.usable_width_mm = 1800;
    return r;
}

TEST(MachineDrawing, TheRollHoldsEveryPieceInItsPlace) {
    const Roll r = roll();
    const MachineDrawing drawing = machine_drawing(r.pieces, r.layout, r.goods, SeenFrom::face);
    const auto goods = of(drawing, Purpose::goods, "");
    ASSERT_THAT(goods, SizeIs(1));
    EXPECT_EQ(Outline{goods[0].vertices}, rectangle({0, 0}, {1828.8, 1800}));
    EXPECT_EQ(of(drawing, Purpose::cut_through, "3")[1].vertices[0].p, (Vec2{1000, 900}));
    EXPECT_EQ(of(drawing, Purpose::cut_through, "4")[1].vertices[0].p, (Vec2{6.35, 6.35}));
    EXPECT_EQ(drawing.title, "roll, 2 pieces, face");
}

TEST(MachineDrawing, TheRollFromTheBackKeepsTheCutEndAndSwapsTheSelvedges) {
    const Roll r = roll();
    const MachineDrawing drawing = machine_drawing(r.pieces, r.layout, r.goods, SeenFrom::back);
    const MachineLine outside = of(drawing, Purpose::cut_through, "4")[1];
    Box box;
    for (const Vertex& v : outside.vertices) box.add(v.p);
    EXPECT_EQ(box.min.x, 6.35);                           // as far from the cut end as before
    EXPECT_NEAR(1800 - box.max.y, 6.35, noise_mm(1800));  // and from the same selvedge, now the upper one
    EXPECT_LT(turn_of_mark(drawing), 0);
    EXPECT_EQ(drawing.box.min, (Vec2{0, 0}));
}

TEST(MachineDrawing, EveryWordHasItsName) {
    EXPECT_THAT((std::vector<std::string>{layer_for(Purpose::goods), layer_for(Purpose::marks),
                                          layer_for(Purpose::stitch), layer_for(Purpose::slits),
                                          layer_for(Purpose::backing_only), layer_for(Purpose::cut_through)}),
                ElementsAre("GOODS", "MARKS", "STITCH", "SLITS", "BACKING_ONLY", "CUT_THROUGH"));
    EXPECT_STREQ(words_for(Purpose::cut_through), "cut through");
}

}  // namespace
}  // namespace spile
