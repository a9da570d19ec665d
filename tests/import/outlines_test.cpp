// Lines joined to outlines, gaps, and chords that become the arcs they stand for.
#include "import/outlines/outlines.h"

#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/measure_of.h"
#include "tests/import/samples.h"

namespace spile::import {
namespace {
using namespace testing_import;

constexpr double kPi = 3.14159265358979323846;

DrawnLine drawn(const std::vector<Vec2>& points, bool closed, const std::string& layer = "") {
    DrawnLine line{layer, {}, closed, 0};
    for (std::size_t i = 0; i + 1 < points.size() || (closed && i < points.size()); ++i)
        line.edges.push_back({points[i], points[(i + 1) % points.size()], 0, 0});
    return line;
}

Drawing drawing(std::vector<DrawnLine> lines, std::optional<double> unit = 1) {
    Drawing d;
    d.mm_per_unit = unit;
    d.lines = std::move(lines);
    return d;
}

TEST(ImportOutlines, UnitsAreAskedForWhereTheDrawingIsSilent) {
    const Drawing silent = drawing({drawn({{0, 0}, {4, 0}, {4, 3}}, true)}, std::nullopt);
    EXPECT_TRUE(find(offer_outlines(silent, {}).findings, "units-missing"));
    OutlineOptions inches;
    inches.mm_per_unit = 25.4;
    const auto offer = offer_outlines(silent, inches);
    ASSERT_TRUE(offer);
    EXPECT_NEAR(area_mm2(offer->outlines[0].outline), 6 * 25.4 * 25.4, 1e-9);
    // What a person says goes before what the file says.
    EXPECT_NEAR(area_mm2(offer_outlines(drawing({drawn({{0, 0}, {4, 0}, {4, 3}}, true)}, 1000.0), inches)
                             ->outlines[0]
                             .outline),
                6 * 25.4 * 25.4, 1e-9);
}

TEST(ImportOutlines, LooseLinesAreJoinedWhicheverWayTheyRun) {
    const auto offer =
        offer_outlines(drawing({drawn({{0, 0}, {400, 0}}, false), drawn({{0, 300}, {0, 0}}, false),
                                drawn({{0, 300}, {400, 300}}, false), drawn({{400, 0}, {400, 300}}, false)}),
                       {});
    ASSERT_TRUE(offer) << codes(offer.findings);
    ASSERT_EQ(offer->outlines.size(), 1u);
    EXPECT_EQ(offer->outlines[0].outline.size(), 4u);
    EXPECT_NEAR(area_mm2(offer->outlines[0].outline), 400 * 300, 1e-9);
    EXPECT_TRUE(offer.findings.empty()) << codes(offer.findings);
}

TEST(ImportOutlines, GapsAreClosedUpToTheLimitAndSaid) {
    for (const double gap : {0.3, 0.7}) {
        const auto offer = offer_outlines(drawing({drawn({{0, 0}, {400, 0}, {400, 300}}, false),
                                                   drawn({{400 - gap, 300}, {0, 300}, {0, 0}}, false)}),
                                          {});
        if (gap < 0.5) {
            ASSERT_TRUE(offer) << codes(offer.findings);
            const Finding* f = find(offer.findings, "gap-closed");
            ASSERT_TRUE(f);
            EXPECT_NEAR(f->numbers[0].value, gap, 1e-9);
            EXPECT_NEAR(offer->outlines[0].widest_gap_mm, gap, 1e-9);
            for (const Vertex& v : offer->outlines[0].outline.vertices) {
                // Each end moved half the gap.
                const bool there = v.p.x > 390 && v.p.y > 290;
                EXPECT_NEAR(v.p.x, there ? 400 - gap / 2 : v.p.x, 1e-9);
            }
        } else {
            EXPECT_FALSE(offer);
            const Finding* f = find(offer.findings, "line-open");
            ASSERT_TRUE(f) << codes(offer.findings);
            EXPECT_NEAR(f->numbers[0].value, gap, 1e-9);
            EXPECT_TRUE(find(offer.findings, "no-lines"));
        }
    }
}

TEST(ImportOutlines, ChordsBecomeTheArcsTheyStandFor) {
    // A stadium of two half circles of radius 200 cut every 3 degrees: two straight edges and the arcs of its ends.
    std::vector<Vec2> points;
    for (int i = 0; i <= 60; ++i)
        points.push_back({600 + 200 * std::sin(kPi * i / 60), -200 * std::cos(kPi * i / 60)});
    for (int i = 0; i <= 60; ++i)
        points.push_back({-200 * std::sin(kPi * i / 60), 200 * std::cos(kPi * i / 60)});
    const auto offer = offer_outlines(drawing({drawn(points, true)}), {});
    ASSERT_TRUE(offer) << codes(offer.findings);
    const Offered& o = offer->outlines[0];
    EXPECT_LE(o.outline.size(), 6u);
    EXPECT_LT(o.departure_mm, 0.1);
    EXPECT_EQ(o.chords, 122u);
    EXPECT_NEAR(area_mm2(o.outline), kPi * 200 * 200 + 600 * 400, 1);
    for (std::size_t k = 0; k < o.outline.size(); ++k) {
        if (o.outline.edge(k).straight()) continue;
        EXPECT_NEAR(radius_of(o.outline.edge(k)), 200, 0.05);
    }
    // Every point of the drawing lies within the resolution.
    for (const Vec2 p : points) EXPECT_LT(nearest_on(o.outline, p).distance, 0.1 + 1e-9);
}

TEST(ImportOutlines, CornersAndCoarsePolygonsStay) {
    std::vector<Vec2> points;
    for (int i = 0; i < 12; ++i) points.push_back({300 * std::cos(kPi * i / 6), 300 * std::sin(kPi * i / 6)});
    const auto offer = offer_outlines(drawing({drawn(points, true)}), {});
    EXPECT_EQ(offer->outlines[0].outline.size(), 12u);
    // Points on one straight edge are one edge.
    const auto straight =
        offer_outlines(drawing({drawn({{0, 0}, {100, 0.02}, {250, 0}, {400, 0}, {400, 300}}, true)}), {});
    EXPECT_EQ(straight->outlines[0].outline.size(), 3u);
}

TEST(ImportOutlines, OutlinesAreNestedLargestFirst) {
    const auto offer = offer_outlines(drawing({drawn({{10, 10}, {20, 10}, {20, 20}, {10, 20}}, true, "holes"),
                                               drawn({{0, 0}, {100, 0}, {100, 100}, {0, 100}}, true, "sole"),
                                               drawn({{12, 12}, {14, 12}, {14, 14}}, true, "holes"),
                                               drawn({{200, 0}, {240, 0}, {240, 30}}, true, "sole")}),
                                      {});
    ASSERT_EQ(offer->outlines.size(), 4u);
    EXPECT_EQ(offer->outlines[0].layer, "sole");
    EXPECT_EQ(offer->outlines[1].inside, -1);
    EXPECT_EQ(offer->outlines[2].inside, 0);
    EXPECT_EQ(offer->outlines[3].inside, 2);
}

TEST(ImportOutlines, WhatCannotBeUsedIsSaid) {
    auto offer = offer_outlines(drawing({drawn({{0, 0}, {100, 100}, {100, 0}, {0, 100}}, true)}), {});
    EXPECT_TRUE(find(offer.findings, "outline-crosses")) << codes(offer.findings);
    const DrawnLine once = drawn({{0, 0}, {100, 0}, {100, 100}}, true);
    offer = offer_outlines(drawing({once, once}), {});
    EXPECT_TRUE(find(offer.findings, "line-twice"));
    EXPECT_EQ(offer->outlines.size(), 1u);
    EXPECT_TRUE(find(offer_outlines(drawing({}), {}).findings, "no-lines"));
}

}  // namespace
}  // namespace spile::import
