// SVG read as a general XML document by tests/export/read_svg.py.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <map>
#include <sstream>

#include "core/geom/measure_of.h"
#include "core/paper/text_layout.h"
#include "export/qr/qr.h"
#include "export/svg/cut_svg.h"
#include "export/svg/page_svg.h"
#include "export/svg/svg_words.h"
#include "tests/export/sample.h"

namespace spile {
namespace {

using ::testing::Contains;
using ::testing::HasSubstr;

struct SeenPath {
    std::string group, name;
    bool closed = false;
    int arcs = 0;
    double area = 0;
    Box box;
    double turn = 0;
};

struct Seen {
    std::vector<std::string> lines;
    std::vector<SeenPath> paths;

    const SeenPath& path(const std::string& group, const std::string& name) const {
        for (const SeenPath& p : paths)
            if (p.group == group && p.name == name) return p;
        ADD_FAILURE() << "no " << group << " " << name;
        static const SeenPath none;
        return none;
    }
};

Seen read(const std::string& svg) {
    Seen seen;
    seen.lines = sample::script("read_svg.py", "'" + sample::written("drawing.svg", svg) + "'");
    for (const std::string& line : seen.lines) {
        std::istringstream in(line);
        std::string kind, closed;
        SeenPath p;
        in >> kind;
        if (kind != "path") continue;
        in >> p.group >> p.name >> closed >> p.arcs >> p.area >> p.box.min.x >> p.box.min.y >> p.box.max.x >>
            p.box.max.y >> p.turn;
        p.closed = closed == "closed";
        seen.paths.push_back(p);
    }
    return seen;
}

TEST(CutSvg, IsAsLargeAsThePiece) {
    const Seen seen = read(cut_svg(machine_drawing(sample::piece(), SeenFrom::face)));
    EXPECT_THAT(seen.lines, Contains("size 850 500 mm"));
    EXPECT_THAT(seen.lines, Contains("viewBox 0 0 850 500"));
    const Box& box = seen.path("CUT_THROUGH", "outside").box;
    EXPECT_NEAR(box.width(), 850, svg_error_mm);
    EXPECT_NEAR(box.height(), 500, svg_error_mm);
}

TEST(CutSvg, HoldsTheLinesOfThePieceByPurpose) {
    const Piece piece = sample::piece();
    const Seen seen = read(cut_svg(machine_drawing(piece, SeenFrom::face)));
    for (const char* group : {"CUT_THROUGH", "BACKING_ONLY", "STITCH", "SLITS", "MARKS"})
        EXPECT_THAT(seen.lines, Contains(std::string("group ") + group));
    const SeenPath& outside = seen.path("CUT_THROUGH", "outside");
    EXPECT_TRUE(outside.closed);
    EXPECT_EQ(outside.arcs, 1);
    // The reader flattens each arc to 200 chords.
    EXPECT_NEAR(outside.area, area_mm2(piece.cut.face.outer), 1);
    const SeenPath& hole = seen.path("CUT_THROUGH", "hole_1");
    EXPECT_EQ(hole.arcs, 4);  // two half circles in two quarters each
    EXPECT_NEAR(hole.area, -M_PI * 12.7 * 12.7, 0.1);
    EXPECT_FALSE(seen.path("BACKING_ONLY", "outside,_stretch_1").closed);
}

// Chirality: what SVG shows, not what its y-down numbers say.
TEST(CutSvg, ShowsTheSideItNames) {
    const Seen face = read(cut_svg(machine_drawing(sample::piece(), SeenFrom::face)));
    EXPECT_GT(face.path("MARKS", "flag_and_arrow").turn, 0);
    EXPECT_THAT(face.lines, Contains(HasSubstr("FACE")));
    // The sloping corner of the sample is upper left seen from the face: nothing of it in the first 350 mm from the top
    // at the left edge.
    EXPECT_GT(face.path("CUT_THROUGH", "outside").area, 0);

    const std::string svg = cut_svg(machine_drawing(sample::piece(), SeenFrom::back));
    const Seen back = read(svg);
    EXPECT_LT(back.path("MARKS", "flag_and_arrow").turn, 0);
    EXPECT_THAT(back.lines, Contains(HasSubstr("BACK, MIRRORED")));
    EXPECT_THAT(svg, HasSubstr("<title>piece 3 round the post, back, mirrored</title>"));
    EXPECT_NEAR(back.path("CUT_THROUGH", "outside").area, face.path("CUT_THROUGH", "outside").area, 0.01);
    // Studs: S1 lies 60 from the lower edge seen from the face, so 60 from the upper one seen from the back.
    EXPECT_NEAR(face.path("MARKS", "stud_S1").box.max.y, 500 - 60, svg_error_mm);
    EXPECT_NEAR(back.path("MARKS", "stud_S1").box.max.y, 60, svg_error_mm);
}

TEST(SvgPath, KeepsItsBoundForArcsOfAnySweep) {
    MachineDrawing drawing;
    std::vector<Edge> edges;
    for (const double bulge : {1.0, 0.99999, 0.9, 0.5, 0.4142, 0.1, 1e-3, -1.0, -0.7})
        for (const double chord : {1.0, 333.33333, 4321.123456}) {
            const Edge edge = {{0, 0}, {chord, 0}, bulge, 0};
            drawing.lines.push_back({Purpose::cut_through,
                                     "1",
                                     std::to_string(edges.size()),
                                     false,
                                     {{edge.a, bulge, 0}, {edge.b, 0, 0}}});
            drawing.box.add(box_of(edge));
            edges.push_back(edge);
        }
    const Seen seen = read(cut_svg(drawing));
    for (std::size_t i = 0; i < edges.size(); ++i) {
        const double chord = edges[i].b.x, rise = chord * std::fabs(edges[i].bulge) / 2;
        const Box& box = seen.path("CUT_THROUGH", std::to_string(i)).box;
        const double flat = 2 * chord * 1e-5;  // of the reader's 200 chords
        EXPECT_NEAR(box.height(), rise, svg_error_mm + flat) << chord << " " << edges[i].bulge;
        EXPECT_NEAR(box.width(), chord, svg_error_mm + flat) << chord << " " << edges[i].bulge;
    }
}

TEST(PageSvg, IsAsLargeAsThePageAndHoldsItsText) {
    const Seen seen = read(page_svg(sample::page(), "a <page> & \"more\"", qr_squares));
    EXPECT_THAT(seen.lines, Contains("size 210 297 mm"));
    EXPECT_THAT(seen.lines, Contains("viewBox 0 0 210 297"));
    EXPECT_THAT(seen.lines, Contains("text 20 60 5 48 1\u20444 by 120 15\u204416 in"));
    const double width = text_width_mm("Łódź & Ærø <back, mirrored>", 4, Weight::semibold);
    EXPECT_THAT(seen.lines,
                Contains("text " + svg_number(190 - width) + " 70 4 Łódź & Ærø <back, mirrored>"));
}

TEST(PageSvg, PutsEveryCharacterWhereTheTableOfWidthsDoes) {
    Page page;
    page.items.emplace_back(Text{{100, 50}, "AV 1\u20444", 10});
    const std::string svg = page_svg(page, "", qr_squares);
    const LaidOutText set = lay_out("AV 1\u20444", Weight::regular);
    const auto x = [&](std::size_t i) { return svg_number(100 + 10 * set.glyphs[i].x_em); };
    // 0.53 of the height of capitals (2048 of 2816) high: one on the baseline, the other reaching that height.
    const std::string raised = svg_number(50 - 10 * (1 - 0.53) * 2048 / 2816);
    EXPECT_THAT(svg, HasSubstr("<tspan y=\"50\" x=\"" + x(0) + " " + x(1) + " " + x(2) + "\">AV </tspan>"));
    EXPECT_THAT(svg, HasSubstr("<tspan font-size=\"5.3\" y=\"" + raised + "\" x=\"" + x(3) + "\">1</tspan>"));
    EXPECT_THAT(svg, HasSubstr("<tspan y=\"50\" x=\"" + x(4) + "\">\u2044</tspan>"));
    EXPECT_THAT(svg, HasSubstr("<tspan font-size=\"5.3\" y=\"50\" x=\"" + x(5) + "\">4</tspan>"));
}

TEST(PageSvg, IsXmlWhateverTheText) {
    Page page;
    page.items.emplace_back(Text{{10, 10}, "a \x01 \xFF \uFFFE <&>\" ]]> \xED\xA0\x80", 4});
    const Seen seen = read(page_svg(page, "\xC0 &amp;", qr_squares));
    EXPECT_THAT(seen.lines, Contains(HasSubstr("<&>\" ]]>")));
}

}  // namespace
}  // namespace spile
