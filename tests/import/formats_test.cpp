// DXF, SVG and CSV as read, and files that are none.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/geom/measure_of.h"
#include "import/csv/csv.h"
#include "import/dxf/dxf.h"
#include "import/outlines/outlines.h"
#include "import/svg/svg.h"
#include "tests/import/samples.h"

namespace spile::import {
namespace {
using namespace testing_import;

constexpr double kPi = 3.14159265358979323846;

Result<Offer> offered(const Result<Drawing>& drawing) {
    if (!drawing) return {std::nullopt, drawing.findings};
    return offer_outlines(*drawing, {});
}

double first_area(const Result<Offer>& offer) {
    EXPECT_TRUE(offer) << codes(offer.findings);
    return offer ? area_mm2(offer->outlines.at(0).outline) : 0;
}

TEST(ImportDxf, LinesArcsAndPolylinesWithTheirUnit) {
    // A 200 x 100 slot of lines and arcs: 100 x 100 and a disc of radius 50.
    const std::string slot =
        line(50, 0, 150, 0) + arc(150, 50, 50, 270, 90) + line(150, 100, 50, 100) + arc(50, 50, 50, 90, 270);
    const double area = 100 * 100 + kPi * 50 * 50;
    EXPECT_NEAR(first_area(offered(read_dxf(dxf(slot)))), area, 1e-3);
    EXPECT_NEAR(first_area(offered(read_dxf(dxf(slot, 1)))), area * 25.4 * 25.4, 1);
    EXPECT_TRUE(find(offered(read_dxf(dxf(slot, 0))).findings, "units-missing"));
    // The same as one polyline: half circles have bulge 1.
    const auto poly =
        offered(read_dxf(dxf(polyline({{50, 0}, {150, 0, 1}, {150, 100}, {50, 100, 1}}, true))));
    EXPECT_NEAR(first_area(poly), area, 1e-3);
    EXPECT_EQ(poly->outlines[0].outline.size(), 4u);
    EXPECT_EQ(poly->outlines[0].layer, "sole");
}

TEST(ImportDxf, CirclesEllipsesAndSplines) {
    const std::string circle = "0\nCIRCLE\n8\npost\n10\n10\n20\n20\n30\n0\n40\n30\n";
    EXPECT_NEAR(first_area(offered(read_dxf(dxf(circle)))), kPi * 900, 1e-6);
    const std::string ellipse =
        "0\nELLIPSE\n8\n0\n10\n0\n20\n0\n30\n0\n11\n300\n21\n0\n31\n0\n40\n0.5\n41\n0\n42\n6."
        "283185307179586\n";
    const auto oval = offered(read_dxf(dxf(ellipse)));
    EXPECT_NEAR(first_area(oval), kPi * 300 * 150, 60);
    EXPECT_LT(oval->outlines[0].outline.size(), 60u);
    // A cubic spline with four control points is a Bezier curve.
    const std::string spline =
        "0\nSPLINE\n8\n0\n70\n8\n71\n3\n72\n8\n73\n4\n74\n0\n"
        "40\n0\n40\n0\n40\n0\n40\n0\n40\n1\n40\n1\n40\n1\n40\n1\n"
        "10\n0\n20\n0\n30\n0\n10\n0\n20\n100\n30\n0\n10\n300\n20\n100\n30\n0\n10\n300\n20\n0\n30\n0\n";
    const auto curve = offered(read_dxf(dxf(spline + line(300, 0, 0, 0, "0"))));
    // Closed form by Green's theorem: the area under this one is 3/5 of 300 x 100.
    EXPECT_NEAR(first_area(curve), 0.6 * 300 * 100, 30);
}

TEST(ImportDxf, WhatIsNoLineIsPassedOverAndSaid) {
    const std::string text = "0\nTEXT\n8\n0\n10\n0\n20\n0\n30\n0\n40\n5\n1\nsole\n";
    const auto offer = offered(read_dxf(dxf(text + polyline({{0, 0}, {100, 0}, {100, 80}}, true))));
    const Finding* f = find(offer.findings, "passed-over");
    ASSERT_TRUE(f);
    EXPECT_NE(f->says.find("text"), std::string::npos);
}

TEST(ImportDxf, FilesThatAreNone) {
    for (const std::string& bad :
         {std::string(), std::string("hello"), std::string("AutoCAD Binary DXF\r\n\x1a\0", 22),
          std::string("0\nSECTION\n2\nENTITIES\n0\nLINE\n"), std::string("0\nEOF\n")})
        EXPECT_TRUE(find(read_dxf(bad).findings, "not-dxf"));
}

/// Bytes changed, cut out and doubled: whatever comes of it, it comes back.
template <class Read>
void survives(const std::string& sound, const Read& read, int runs) {
    std::mt19937 dice(3);
    for (int run = 0; run < runs; ++run) {
        std::string bytes = sound;
        for (int k = 0; k < 1 + run % 5; ++k) {
            const std::size_t at = dice() % bytes.size();
            switch (dice() % 3) {
                case 0:
                    bytes[at] = static_cast<char>(dice());
                    break;
                case 1:
                    bytes.erase(at, 1 + dice() % 20);
                    break;
                default:
                    bytes.insert(at, bytes.substr(dice() % bytes.size(), 1 + dice() % 30));
            }
            if (bytes.empty()) bytes = " ";
        }
        const auto offer = offered(read(bytes));
        EXPECT_TRUE(offer || has_stop(offer.findings));
    }
}

TEST(ImportDxf, SurvivesWhatIsBroken) {
    survives(dxf(polyline({{0, 0}, {100, 0, 0.4}, {100, 80}}, true) + line(0, 0, 5, 5) + arc(3, 4, 5, 6, 77)),
             read_dxf, 3000);
}

TEST(ImportSvg, ShapesPathsAndTransforms) {
    const auto svg = [](const std::string& inside,
                        const std::string& size = "width='300mm' height='200mm' viewBox='0 0 3000 2000'") {
        return "<?xml version='1.0'?><svg xmlns='http://www.w3.org/2000/svg' " + size + ">" + inside +
               "</svg>";
    };
    // One unit is 0.1 mm.
    EXPECT_NEAR(first_area(offered(read_svg(svg("<rect x='100' y='100' width='2000' height='1000'/>")))),
                200 * 100, 1e-6);
    EXPECT_NEAR(first_area(offered(read_svg(svg("<rect width='2000' height='1000' rx='300'/>")))),
                200 * 100 - (4 - kPi) * 900, 20);  // arcs keep within 0.1 of 340 of rim
    EXPECT_NEAR(first_area(offered(read_svg(svg("<circle cx='900' cy='900' r='800'/>")))), kPi * 6400, 1);
    EXPECT_NEAR(first_area(offered(read_svg(
                    svg("<g transform='translate(50,60) rotate(30) scale(2)'><polygon points='0,0 400,0 "
                        "400,300'/></g>")))),
                80 * 60 / 2.0, 1e-6);
    // Relative commands, a smooth cubic and an arc: a quarter disc.
    EXPECT_NEAR(first_area(offered(read_svg(svg("<path d='M0 0h1000a1000 1000 0 0 1-1000 1000z'/>")))),
                kPi * 10000 / 4, 1);
    const auto offer = offered(read_svg(
        svg("<g id='lids'><path d='M 0,0 L 500,0 500,500 Z M300 100 h100 v100 z'/></g><text>x</text>")));
    ASSERT_EQ(offer->outlines.size(), 2u);
    EXPECT_EQ(offer->outlines[0].layer, "lids");
    EXPECT_EQ(offer->outlines[1].inside, 0);
    EXPECT_TRUE(find(offer.findings, "passed-over"));
    // y runs down in SVG and up in a boat: what is drawn at the top stays at the top.
    const auto up = offered(read_svg(svg("<polygon points='0,0 400,0 400,300'/>")));
    EXPECT_LT(box_of(up->outlines[0].outline).min.y, -29);
    EXPECT_TRUE(
        find(offered(read_svg(svg("<rect width='5' height='5'/>", "width='300' height='200'"))).findings,
             "units-missing"));
}

TEST(ImportSvg, ARoundedBoxRunsOnWithoutKinks) {
    // The sides must not take the first chords of the corners: tangents of a rounded box agree where sides meet arcs.
    for (const char* radius : {"10", "30", "60"}) {
        const auto offer = offered(read_svg(
            "<svg xmlns='http://www.w3.org/2000/svg' width='900mm' height='600mm' viewBox='0 0 900 600'>"
            "<rect x='200' y='200' width='400' height='130' rx='" +
            std::string(radius) + "'/></svg>"));
        ASSERT_TRUE(offer) << codes(offer.findings);
        const Outline& box = offer->outlines[0].outline;
        ASSERT_EQ(box.size(), 8u);
        for (std::size_t k = 0; k < box.size(); ++k)
            EXPECT_NEAR(cross(direction_at(box.edge((k + 7) % 8), 1), direction_at(box.edge(k), 0)), 0, 1e-6);
    }
}

TEST(ImportSvg, FilesThatAreNone) {
    EXPECT_TRUE(find(read_svg("").findings, "not-svg"));
    EXPECT_TRUE(find(read_svg("<html/>").findings, "not-svg"));
    EXPECT_TRUE(find(read_svg("<svg><path></svg>").findings, "not-svg"));
    std::string deep = "<svg width='1mm' viewBox='0 0 1 1'>";
    for (int i = 0; i < 500; ++i) deep += "<g>";
    deep += "<rect width='1' height='1'/>";
    for (int i = 0; i < 500; ++i) deep += "</g>";
    EXPECT_TRUE(find(offered(read_svg(deep + "</svg>")).findings, "passed-over"));
    survives(
        "<svg width='30mm' viewBox='0 0 30 20'><g transform='rotate(3)'><path d='M0 0c1 2 3 4 5 6a7 8 9 0 1 "
        "10 11z'/></g>"
        "<rect x='1' y='2' width='3' height='4' rx='1'/></svg>",
        read_svg, 2000);
}

TEST(ImportCsv, PointsWithTheirUnitLayersAndSeparators) {
    const auto inches = offered(read_csv("over (in),up (in)\n0,0\n24.5,0\n24.5,36\n0,36\n"));
    EXPECT_NEAR(first_area(inches), 24.5 * 36 * 25.4 * 25.4, 1e-6);
    const auto comma = offered(read_csv(
        "x mm;y mm;layer\n# a note\n0;0;sole\n100,5;0;sole\n100,5;80;sole\n0;0;lid\n10;0;lid\n10;10;lid\n"));
    ASSERT_TRUE(comma) << codes(comma.findings);
    ASSERT_EQ(comma->outlines.size(), 2u);
    EXPECT_NEAR(area_mm2(comma->outlines[0].outline), 100.5 * 80 / 2, 1e-9);
    EXPECT_EQ(comma->outlines[1].layer, "lid");
    const auto blank = read_csv("0 , 0\r\n10,0\r\n10,10\r\n\r\n20,0\r\n30,0\r\n30,10\r\n20,0\r\n");
    ASSERT_TRUE(blank);
    EXPECT_EQ(blank->lines.size(), 2u);
    EXPECT_FALSE(blank->mm_per_unit);
}

TEST(ImportCsv, TheLineOfAFaultIsNamed) {
    const auto bad = read_csv("0,0\n1,0\n1,one\n");
    ASSERT_TRUE(find(bad.findings, "not-csv"));
    EXPECT_NE(find(bad.findings, "not-csv")->says.find("Line 3"), std::string::npos);
    survives("x mm,y mm\n0,0\n10,0\n10,10\n\n5,5\n6,5\n6,6\n", read_csv, 2000);
}

}  // namespace
}  // namespace spile::import
