// DXF opened and audited by ezdxf, an independent reader (tests/export/read_dxf.py).
#include "export/dxf/dxf.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <sstream>

#include "core/geom/measure_of.h"
#include "export/dxf/dxf_text.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

using ::testing::AllOf;
using ::testing::Contains;
using ::testing::EndsWith;
using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::SizeIs;
using ::testing::StartsWith;

constexpr double reader_mm = 0.002;  // ezdxf flattens arcs to 0.001 mm

struct SeenLine {
    std::string layer;
    bool closed = false;
    int vertices = 0, bulges = 0;
    double area = 0;
    Box box;
};

struct Seen {
    std::vector<std::string> lines;
    std::vector<SeenLine> polylines;

    std::vector<SeenLine> on(const std::string& layer) const {
        std::vector<SeenLine> found;
        for (const SeenLine& p : polylines)
            if (p.layer == layer) found.push_back(p);
        return found;
    }
};

Seen read(const std::string& dxf) {
    Seen seen;
    seen.lines = sample::script("read_dxf.py", "'" + sample::written("drawing.dxf", dxf) + "'");
    for (const std::string& line : seen.lines) {
        std::istringstream in(line);
        std::string kind, closed;
        SeenLine p;
        in >> kind;
        if (kind != "polyline") continue;
        in >> p.layer >> closed >> p.vertices >> p.bulges >> p.area >> p.box.min.x >> p.box.min.y >>
            p.box.max.x >> p.box.max.y;
        p.closed = closed == "closed";
        seen.polylines.push_back(p);
    }
    return seen;
}

class Dxf : public testing::TestWithParam<DxfVersion> {};
INSTANTIATE_TEST_SUITE_P(Versions, Dxf, testing::Values(DxfVersion::r2000, DxfVersion::r12));

// One reading of one file, as a reader starts slowly.
TEST_P(Dxf, HoldsThePieceInMillimetresWithoutAFault) {
    const bool newer = GetParam() == DxfVersion::r2000;
    const Piece piece = sample::piece();
    const Seen seen = read(dxf_bytes(machine_drawing(piece, SeenFrom::face), GetParam()));
    EXPECT_THAT(seen.lines, Not(Contains(StartsWith("fault"))));
    EXPECT_THAT(seen.lines, Not(Contains(StartsWith("unexpected"))));
    EXPECT_THAT(seen.lines, Contains(newer ? "version AC1015" : "version AC1009"));
    if (newer) {
        EXPECT_THAT(seen.lines, Contains("header $INSUNITS 4"));
        EXPECT_THAT(seen.lines, Contains("header $MEASUREMENT 1"));
    }
    for (const char* layer :
         {"CUT_THROUGH", "BACKING_ONLY", "STITCH", "SLITS", "MARKS", "GOODS", "CHECK_100MM"})
        EXPECT_THAT(seen.lines, Contains(std::string("layer ") + layer));

    const auto cuts = seen.on("CUT_THROUGH");
    ASSERT_THAT(cuts, SizeIs(2));
    EXPECT_TRUE(cuts[0].closed && cuts[1].closed);
    EXPECT_EQ(cuts[0].bulges, 2);  // the hole: two half circles
    EXPECT_EQ(cuts[1].bulges, 1);
    EXPECT_EQ(cuts[1].vertices, 5);
    EXPECT_NEAR(cuts[0].area, area_mm2(piece.cut.face.holes[0]), 0.2);
    EXPECT_NEAR(cuts[1].area, area_mm2(piece.cut.face.outer), 1);  // arc 500 mm long, flattened
    EXPECT_NEAR(cuts[1].box.max.x, 850, reader_mm);
    EXPECT_NEAR(cuts[1].box.max.y, 500, reader_mm);

    const auto backing = seen.on("BACKING_ONLY");
    ASSERT_THAT(backing, SizeIs(2));
    EXPECT_FALSE(backing[1].closed);
    EXPECT_NEAR(backing[1].box.min.x, 25.4, reader_mm);
    EXPECT_THAT(seen.on("SLITS"), SizeIs(8));
    EXPECT_THAT(seen.on("STITCH"), SizeIs(2));
    EXPECT_TRUE(seen.on("STITCH")[0].closed);

    const auto square = seen.on("CHECK_100MM");
    ASSERT_THAT(square, SizeIs(1));
    EXPECT_TRUE(square[0].closed);
    EXPECT_NEAR(square[0].box.width(), 100, 1e-9);
    EXPECT_NEAR(square[0].box.height(), 100, 1e-9);
    EXPECT_LT(square[0].box.max.y, 0);
}

TEST_P(Dxf, SaysAndShowsTheSide) {
    const Seen face = read(dxf_bytes(machine_drawing(sample::piece(), SeenFrom::face), GetParam()));
    const Seen back = read(dxf_bytes(machine_drawing(sample::piece(), SeenFrom::back), GetParam()));
    EXPECT_THAT(back.lines, Contains(AllOf(StartsWith("text CHECK_100MM"), EndsWith("back, mirrored"))));
    EXPECT_THAT(back.lines, Contains(AllOf(StartsWith("text MARKS"), EndsWith("BACK, MIRRORED"))));
    EXPECT_THAT(face.lines, Contains(AllOf(StartsWith("text MARKS"), EndsWith("FACE"))));
    // The flag, the arrow and the sloping side: the open path from flag to head turns left from the face only.
    EXPECT_GT(face.on("MARKS")[0].area, 0);
    EXPECT_LT(back.on("MARKS")[0].area, 0);
    EXPECT_NEAR(face.on("CUT_THROUGH")[1].area, back.on("CUT_THROUGH")[1].area, 1e-3);
}

TEST(DxfText, IsAsciiThatReadsBackTheSame) {
    EXPECT_EQ(dxf_text("48 1\u20444 in"), "48 1/4 in");
    EXPECT_EQ(dxf_text("Łódź"), "\\U+0141\\U+00F3d\\U+017A");
    EXPECT_EQ(dxf_text("two\nlines\t"), "two lines ");
    EXPECT_EQ(dxf_text("100%%d ^J \\P"), "100\\U+0025\\U+0025d \\U+005EJ \\U+005CP");
    EXPECT_EQ(dxf_text("\xF0\x9F\x98\x80 \xFF"), "\\U+FFFD \\U+FFFD");

    Piece piece = sample::piece();
    piece.name = "Łódź\nbin & <deck> 漢 50%";
    const std::string dxf = dxf_bytes(machine_drawing(piece, SeenFrom::face));
    for (const char c : dxf)
        ASSERT_TRUE(c == '\r' || c == '\n' || (c >= ' ' && c < 0x7F)) << static_cast<int>(c);
    EXPECT_THAT(read(dxf).lines, Contains(EndsWith(" Łódź bin & <deck> 漢 50%")));
}

TEST(DxfRoll, HoldsTheGoodsAndEveryPiece) {
    std::vector<Piece> pieces = {sample::piece(), sample::piece()};
    pieces[1].id = "4";
    Layout layout;
    layout.placements = {{"3", 6350, 6350}, {"4", 900000, 6350}};
    layout.bought_mm = 1828.8;
    Goods goods;
    goods.usable_width_mm = 1800;
    const Seen seen = read(dxf_bytes(machine_drawing(pieces, layout, goods, SeenFrom::back)));
    EXPECT_THAT(seen.lines, Not(Contains(StartsWith("fault"))));
    ASSERT_THAT(seen.on("GOODS"), SizeIs(1));
    EXPECT_NEAR(seen.on("GOODS")[0].box.width(), 1828.8, 1e-9);
    EXPECT_NEAR(seen.on("GOODS")[0].box.height(), 1800, 1e-9);
    const auto cuts = seen.on("CUT_THROUGH");
    ASSERT_THAT(cuts, SizeIs(4));
    EXPECT_NEAR(cuts[3].box.min.x, 900, reader_mm);
    EXPECT_NEAR(cuts[3].box.max.y, 1800 - 6.35, reader_mm);
}

TEST(DxfRoll, NothingToDrawIsStillAFile) {
    MachineDrawing nothing;
    nothing.box.add(Vec2{0, 0});
    EXPECT_THAT(read(dxf_bytes(nothing)).lines, Not(Contains(StartsWith("fault"))));
}

}  // namespace
}  // namespace spile
