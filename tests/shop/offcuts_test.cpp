// What a layout leaves, and what fits on it, held against plain point-in-polygon and point-to-segment arithmetic.
#include "shop/offcuts.h"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "core/geom/measure_of.h"
#include "tests/shop/rack.h"

namespace spile::shop {
namespace {

/// Even-odd, by the textbook; the outlines of these tests are straight.
bool inside(const Outline& outline, Vec2 p) {
    bool in = false;
    for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
        const Vec2 a = outline.vertices[i].p, b = outline.vertices[j].p;
        if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) in = !in;
    }
    return in;
}

double distance_to(const Outline& outline, Vec2 p) {
    double least = 1e300;
    for (std::size_t i = 0; i < outline.size(); ++i) {
        const Vec2 a = outline.vertices[i].p, d = outline.vertices[(i + 1) % outline.size()].p - a;
        const double t = std::min(1.0, std::max(0.0, dot(p - a, d) / norm2(d)));
        least = std::min(least, distance(p, a + t * d));
    }
    return least;
}

Outline moved(Outline outline, Vec2 by) {
    for (Vertex& v : outline.vertices) v.p = v.p + by;
    return outline;
}

LayoutPiece piece(const std::string& id, const Outline& outline) {
    LayoutPiece p;
    p.id = id;
    p.outline.outer = outline;
    return p;
}

TEST(Offcuts, KeepClearOfThePiecesAndOfOneAnotherAndNothingLargeIsLost) {
    std::mt19937 random(3);
    const auto upto = [&](double most) { return most * static_cast<double>(random() % 10'000) / 10'000; };
    Goods goods;
    goods.usable_width_mm = 1800;
    for (int round = 0; round < 20; ++round) {
        // A quadrilateral in each corner.
        std::vector<LayoutPiece> pieces;
        Layout layout;
        layout.used_mm = 2500;
        for (int i = 0; i < 4; ++i) {
            const double w = 250 + upto(600), h = 250 + upto(350), skew = upto(100);
            pieces.push_back(
                piece(std::to_string(i), corners({{0, 0}, {w, skew}, {w - skew, h}, {skew, h - skew}})));
            // Near two borders each, so that none stands alone and is cut open.
            const double x = 20 + upto(200), y = 20 + upto(200);
            layout.placements.push_back({std::to_string(i), std::llround((i / 2 ? 2500 - x - w : x) * 1000),
                                         std::llround((i % 2 ? 1800 - y - h : y) * 1000)});
        }
        const std::vector<Outline> left = offcuts_of(pieces, goods, layout);
        double last = 1e300;
        for (const Outline& offcut : left) {
            EXPECT_LE(area_mm2(offcut), last);
            last = area_mm2(offcut);
            EXPECT_GT(last, 0);
        }
        int lost = 0;
        for (int k = 0; k < 2000; ++k) {
            const Vec2 p{upto(2500), upto(1800)};
            int within = 0;
            double clear = std::min({p.x, p.y, 2500 - p.x, 1800 - p.y});
            for (const Outline& offcut : left) within += inside(offcut, p);
            EXPECT_LE(within, 1);
            for (int i = 0; i < 4; ++i) {
                const Outline there = moved(pieces[i].outline.outer, layout.placements[i].move_mm());
                const double off = inside(there, p) ? -1 : distance_to(there, p);
                if (within) {
                    EXPECT_GE(off, goods.gap_mm - OffcutRule{}.flatten_mm) << round;
                }
                clear = std::min(clear, off - goods.gap_mm);
            }
            // With a circle as wide as the rule's square round it, it belongs to an offcut.
            lost += clear > OffcutRule{}.least_mm / std::sqrt(2.0) && within == 0;
        }
        EXPECT_EQ(lost, 0) << round;
    }
}

TEST(Offcuts, SliversAreCutOffAndHolesCutOpen) {
    Goods goods;
    goods.usable_width_mm = 1800;
    Layout layout;
    layout.used_mm = 1000;
    // A piece across the roll leaves strips of 100 mm: none is worth keeping.
    layout.placements = {{"1", 100'000, 0}};
    EXPECT_TRUE(
        offcuts_of({piece("1", corners({{0, 0}, {800, 0}, {800, 1800}, {0, 1800}}))}, goods, layout).empty());
    // A piece in the middle leaves a ring, which is cut open towards the far selvedge.
    layout.used_mm = 2000;
    layout.placements = {{"1", 900'000, 800'000}};
    const LayoutPiece middle = piece("1", corners({{0, 0}, {200, 0}, {200, 200}, {0, 200}}));
    const std::vector<Outline> left = offcuts_of({middle}, goods, layout);
    ASSERT_EQ(left.size(), 1u);
    EXPECT_FALSE(inside(left[0], {1000, 900}));
    EXPECT_FALSE(inside(left[0], {1000, 1500}));
    EXPECT_TRUE(inside(left[0], {1000, 400}));
    EXPECT_TRUE(inside(left[0], {400, 1500}));
}

// An L with a square cut from its foot: what is left is of the L, clear of the square, and nothing wide is lost.
TEST(Offcuts, WhatIsLeftOfACutOffcutIsItsOwn) {
    const Outline ell = corners({{0, 0}, {1500, 0}, {1500, 700}, {500, 700}, {500, 1500}, {0, 1500}});
    const Outline square = corners({{0, 0}, {500, 0}, {500, 500}, {0, 500}});
    const std::vector<Placement> placed = {{"a", 980'000, 20'000}};
    const double gap = 6.35;
    const std::vector<Outline> left = left_of(ell, {piece("a", square)}, placed, gap);
    ASSERT_EQ(left.size(), 1u);
    const Outline cut = moved(square, placed[0].move_mm());
    std::mt19937 random(5);
    const auto upto = [&](double most) { return most * static_cast<double>(random() % 10'000) / 10'000; };
    int lost = 0, held = 0;
    for (int k = 0; k < 5000; ++k) {
        const Vec2 p{upto(1500), upto(1500)};
        const double clear = inside(cut, p) ? -1 : distance_to(cut, p) - gap;
        if (inside(left[0], p)) {
            ++held;
            EXPECT_TRUE(inside(ell, p));
            EXPECT_GE(clear, -OffcutRule{}.flatten_mm);
        } else if (inside(ell, p)) {
            lost += std::min(clear, distance_to(ell, p)) > OffcutRule{}.least_mm / std::sqrt(2.0);
        }
    }
    EXPECT_EQ(lost, 0);
    EXPECT_GT(held, 1500);  // 500 x 1500 and 480 x 700 of 2.25 m2: 0.48 of 5000 points
    EXPECT_TRUE(left_of(square, {piece("a", square)}, {{"a", 0, 0}}, gap).empty());
}

TEST(Offcuts, APlaceThatIsFoundIsTrue) {
    // An L: the square fits into its foot alone.
    const Outline ell = corners({{0, 0}, {1000, 0}, {1000, 600}, {400, 600}, {400, 1500}, {0, 1500}});
    const Outline square = corners({{0, 0}, {500, 0}, {500, 500}, {0, 500}});
    const auto at = fits_on(square, ell, 10);
    ASSERT_TRUE(at);
    for (const Vertex& v : moved(square, *at).vertices) {
        EXPECT_TRUE(inside(ell, v.p));
        EXPECT_GE(distance_to(ell, v.p), 10 - 0.002);
    }
    EXPECT_FALSE(fits_on(corners({{0, 0}, {700, 0}, {700, 700}, {0, 700}}), ell, 10));
    EXPECT_FALSE(fits_on(square, ell, 60));
}

TEST(Offcuts, SeveralPiecesKeepTheGap) {
    const Outline ell = corners({{0, 0}, {1000, 0}, {1000, 600}, {400, 600}, {400, 1500}, {0, 1500}});
    const std::vector<LayoutPiece> pieces = {piece("a", corners({{0, 0}, {300, 0}, {300, 300}, {0, 300}})),
                                             piece("b", corners({{0, 0}, {500, 0}, {500, 500}, {0, 500}})),
                                             piece("c", corners({{0, 0}, {350, 0}, {350, 600}, {0, 600}}))};
    const auto placed = nest_on(pieces, ell, 6.35, 10);
    ASSERT_TRUE(placed);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_EQ((*placed)[i].piece, pieces[i].id);
        const Outline mine = moved(pieces[i].outline.outer, (*placed)[i].move_mm());
        for (const Vertex& v : mine.vertices) {
            EXPECT_TRUE(inside(ell, v.p));
            EXPECT_GE(distance_to(ell, v.p), 10 - 0.002);
            for (std::size_t j = 0; j < 3; ++j)
                if (j != i) {
                    const Outline other = moved(pieces[j].outline.outer, (*placed)[j].move_mm());
                    EXPECT_FALSE(inside(other, v.p));
                    EXPECT_GE(distance_to(other, v.p), 6.35 - 0.002);
                }
        }
    }
    const std::vector<LayoutPiece> too_many(4, pieces[1]);
    EXPECT_FALSE(nest_on(too_many, ell, 6.35, 10));
}

TEST(Offcuts, OutlinesComeBackAsTheyWere) {
    Outline outline = corners({{0.1, 1 / 3.0}, {1e-7, 2}, {3, 4}});
    outline.vertices[1].bulge = 0.41421356237309503;
    const auto back = read_outline(outline_text(outline));
    ASSERT_TRUE(back);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_EQ(back->vertices[i].p, outline.vertices[i].p);
        EXPECT_EQ(back->vertices[i].bulge, outline.vertices[i].bulge);
    }
    for (const char* wrong : {"", "[", "[]", "{}", "[[1,2,0]]", "[[1,2],[3,4]]", "[[1,2,\"0\"],[1,2,3]]"})
        EXPECT_FALSE(read_outline(wrong)) << wrong;
}

}  // namespace
}  // namespace spile::shop
