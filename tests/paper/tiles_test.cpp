#include "core/paper/tiles.h"

#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "core/geom/measure_of.h"
#include "tests/paper/pieces.h"

namespace spile {
namespace {

using paper::TilePlan;
using test::Chance;
using test::Papers;

std::vector<Vec2> points_of(const Region& region) {
    std::vector<Vec2> out;
    const auto add = [&](const Outline& o) {
        for (std::size_t i = 0; i < o.size(); ++i)
            for (int k = 0; k < 40; ++k) out.push_back(point_at(o.edge(i), k / 40.0));
    };
    add(region.outer);
    for (const Outline& h : region.holes) add(h);
    return out;
}

const std::vector<PaperSize> kSizes{a4(), letter(), a3(), tabloid()};

/// A post hole in the middle, where no outline comes near.
Papers large_with_hole() {
    std::vector<Piece> pieces{test::bound_piece(3, "round the post", rectangle({0, 0}, {1500, 1700}))};
    test::add_post_hole(pieces[0], {760, 800});
    return Papers(pieces);
}

TEST(Tiles, EveryPointOfEveryLineLiesOnATile) {
    Chance chance(51);
    for (int i = 0; i < 30; ++i) {
        Papers papers({test::random_piece(chance, 1, {3, 9, 100, 1200, true, true})});
        const PaperSize size = i % 2 == 0 ? a4() : letter();
        const paper::PieceView view = paper::view_of(papers.pieces[0], i % 3 == 0);
        const TilePlan plan = paper::plan_tiles(papers.input, view, size);
        for (const Region* region : {&view.face, &view.backing})
            for (const Vec2 p : points_of(*region)) {
                bool shown = false;
                for (const TilePlan::Tile& t : plan.tiles)
                    shown = shown || (p.x >= t.box.min.x && p.x <= t.box.max.x && p.y >= t.box.min.y &&
                                      p.y <= t.box.max.y);
                EXPECT_TRUE(shown);
            }
    }
}

TEST(Tiles, SheetsWithoutALineAreLeftOutButForThoseThatJoinTheOthers) {
    const Papers papers = large_with_hole();
    const TilePlan plan = paper::plan_tiles(papers.input, paper::view_of(papers.pieces[0], true), a4());
    EXPECT_LT(plan.tiles.size(), plan.rows * plan.columns);
    // All hang together by their sides.
    std::set<std::pair<std::size_t, std::size_t>> all, reached;
    for (const TilePlan::Tile& t : plan.tiles) all.insert({t.row, t.column});
    std::vector<std::pair<std::size_t, std::size_t>> open{*all.begin()};
    while (!open.empty()) {
        const auto [r, c] = open.back();
        open.pop_back();
        if (!all.count({r, c}) || !reached.insert({r, c}).second) continue;
        open.insert(open.end(), {{r + 1, c}, {r - 1, c}, {r, c + 1}, {r, c - 1}});
    }
    EXPECT_EQ(reached, all);
}

TEST(Tiles, NeighboursOverlapByTenMillimetresAndShareTheirCrosses) {
    const Papers papers = large_with_hole();
    const TilePlan plan = paper::plan_tiles(papers.input, paper::view_of(papers.pieces[0], true), letter());
    std::map<std::pair<std::size_t, std::size_t>, const TilePlan::Tile*> at;
    for (const TilePlan::Tile& t : plan.tiles) at[{t.row, t.column}] = &t;
    const auto shared = [](const TilePlan::Tile& a, const TilePlan::Tile& b) {
        int n = 0;
        for (const Vec2 p : a.crosses)
            for (const Vec2 q : b.crosses) n += distance(p, q) < 1e-9 ? 1 : 0;
        return n;
    };
    for (const auto& [place, t] : at) {
        int partners = 0;
        if (const auto right = at.find({place.first, place.second + 1}); right != at.end()) {
            EXPECT_NEAR(t->box.max.x - right->second->box.min.x, 10, 1e-9);
            EXPECT_EQ(shared(*t, *right->second), 2);
        }
        if (const auto under = at.find({place.first + 1, place.second}); under != at.end()) {
            EXPECT_NEAR(under->second->box.max.y - t->box.min.y, 10, 1e-9);
            EXPECT_EQ(shared(*t, *under->second), 2);
        }
        for (const auto& [dr, dc] : std::vector<std::pair<int, int>>{{0, 1}, {0, -1}, {1, 0}, {-1, 0}})
            partners += at.count({place.first + static_cast<std::size_t>(dr),
                                  place.second + static_cast<std::size_t>(dc)})
                            ? 1
                            : 0;
        EXPECT_EQ(t->crosses.size(), static_cast<std::size_t>(2 * partners));  // none without a partner
        for (const Vec2 p : t->crosses) {
            EXPECT_GT(p.x, t->box.min.x);
            EXPECT_LT(p.x, t->box.max.x);
            EXPECT_GT(p.y, t->box.min.y);
            EXPECT_LT(p.y, t->box.max.y);
        }
    }
}

/// Straight lines of a page that are at least as long as `least`.
std::vector<Edge> long_lines(const Page& page, double least) {
    std::vector<Edge> out;
    for (const Item& item : page.items)
        if (const Shape* s = std::get_if<Shape>(&item))
            for (const Path& p : s->open)
                if (p.edge_count() == 1 && p.edge(0).straight() && length_of(p.edge(0)) >= least)
                    out.push_back(p.edge(0));
    return out;
}

TEST(Tiles, EveryTileHasItsRuleAndSaysWhatItMustMeasure) {
    const Papers papers = large_with_hole();
    for (const PaperSize& size : kSizes) {
        const Sheet sheet = full_size_tiles(papers.input, papers.pieces[0], size);
        const TilePlan plan = paper::plan_tiles(papers.input, paper::view_of(papers.pieces[0], true), size);
        ASSERT_EQ(sheet.pages.size(), plan.tiles.size() + 1);
        EXPECT_EQ(plan.long_rule_mm, 200);
        for (std::size_t i = 1; i < sheet.pages.size(); ++i) {
            const Page& page = sheet.pages[i];
            EXPECT_EQ(page.width_mm, size.width_mm);
            EXPECT_EQ(page.height_mm, size.height_mm);
            int rules = 0;
            for (const Edge& e : long_lines(page, 100))
                rules += std::fabs(length_of(e) - 200) < 1e-9 && e.a.x == e.b.x ? 1 : 0;
            EXPECT_EQ(rules, 1);
            bool said = false, side = false, label = false;
            for (const Item& item : page.items)
                if (const Text* t = std::get_if<Text>(&item)) {
                    said = said || t->utf8 == "measure this: it must be 200.0 mm";
                    side = side || t->utf8.find("MIRRORED") != std::string::npos;
                    label = label || t->utf8 == plan.tiles[i - 1].label;
                }
            EXPECT_TRUE(said && side && label);
        }
    }
}

TEST(Tiles, NothingIsDrawnWhereAPrinterCannot) {
    Chance chance(52);
    for (int i = 0; i < 12; ++i) {
        Papers papers({test::random_piece(chance, 1, {3, 9, 200, 900, true, true})});
        const PaperSize size = kSizes[static_cast<std::size_t>(i) % kSizes.size()];
        const Sheet sheet = full_size_tiles(papers.input, papers.pieces[0], size);
        const double m = papers.input.print_margin_mm - 0.4;  // half a line's width
        for (const Page& page : sheet.pages)
            for (const Item& item : page.items) {
                Box box;
                if (const Shape* s = std::get_if<Shape>(&item)) {
                    for (const Outline& o : s->closed) box.add(box_of(o));
                    for (const Path& p : s->open)
                        for (std::size_t k = 0; k < p.edge_count(); ++k) box.add(box_of(p.edge(k)));
                } else {
                    box = text_box_mm(std::get<Text>(item));
                }
                EXPECT_GE(box.min.x, m);
                EXPECT_GE(box.min.y, m);
                EXPECT_LE(box.max.x, size.width_mm - m);
                EXPECT_LE(box.max.y, size.height_mm - m);
            }
    }
}

// Laid together by their crosses, the tiles give the cut line back: the page is the view moved, nothing else.
TEST(Tiles, TheCutLineComesBackFromThePages) {
    Chance chance(53);
    for (int i = 0; i < 12; ++i) {
        Papers papers({test::random_piece(chance, 1, {3, 9, 200, 1000, true, true})});
        papers.input.mark_on_back = i % 2 == 0;
        const Piece& piece = papers.pieces[0];
        const PaperSize size = kSizes[static_cast<std::size_t>(i / 2) % kSizes.size()];
        const Sheet sheet = full_size_tiles(papers.input, piece, size);
        const TilePlan plan =
            paper::plan_tiles(papers.input, paper::view_of(piece, papers.input.mark_on_back), size);
        // The back by the test's own hand.
        Outline truth = piece.cut.face.outer;
        if (papers.input.mark_on_back)
            for (Vertex& v : truth.vertices) v = {{v.p.x, -v.p.y}, -v.bulge, v.tag};
        for (std::size_t k = 1; k < sheet.pages.size(); ++k) {
            const TilePlan::Tile& tile = plan.tiles[k - 1];
            for (const Item& item : sheet.pages[k].items) {
                const Shape* s = std::get_if<Shape>(&item);
                if (!s || !s->stroked || s->stroke.width_mm != 0.35) continue;  // the solid line
                const auto check = [&](const Edge& e) {
                    for (const double t : {0.0, 0.31, 0.5, 0.77, 1.0}) {
                        const Vec2 p = point_at(e, t);
                        const Vec2 side{p.x - plan.area.min.x + tile.box.min.x,
                                        plan.area.max.y - p.y + tile.box.min.y};
                        EXPECT_LE(nearest_on(truth, side).distance, 1e-6);
                    }
                };
                for (const Path& p : s->open)
                    for (std::size_t j = 0; j < p.edge_count(); ++j) check(p.edge(j));
                for (const Outline& o : s->closed)
                    for (std::size_t j = 0; j < o.size(); ++j) check(o.edge(j));
            }
        }
    }
}

// --- strips of a roll plotter -----------------------------------------------------------------------------

/// Middles of the register crosses of a page, from its level lines.
std::vector<Vec2> crosses_of(const Page& page) {
    std::vector<Vec2> out;
    for (const Item& item : page.items)
        if (const Shape* s = std::get_if<Shape>(&item))
            for (const Path& p : s->open)
                if (s->stroke.width_mm == 0.2 && p.edge_count() == 1 && p.edge(0).a.y == p.edge(0).b.y &&
                    std::fabs(length_of(p.edge(0)) - 10) < 1e-9)
                    out.push_back(0.5 * (p.edge(0).a + p.edge(0).b));
    return out;
}

/// The solid cut line on a page: its box, and how long it is above a level.
Box cut_line_box(const Page& page, double& length) {
    Box box;
    for (const Item& item : page.items) {
        const Shape* s = std::get_if<Shape>(&item);
        if (!s || !s->stroked || s->stroke.width_mm != 0.35) continue;
        for (const Path& p : s->open)
            for (std::size_t k = 0; k < p.edge_count(); ++k)
                box.add(box_of(p.edge(k))), length += length_of(p.edge(k));
        for (const Outline& o : s->closed) box.add(box_of(o)), length += length_mm(o);
    }
    return box;
}

// PDF 1.6: a page is at most 14400 points, 5080 mm. A runner of 12 m goes over three such pages, laid end to end by their crosses.
TEST(Strips, ALongPieceGoesOverPagesThatJoinToItsLength) {
    for (const bool back : {true, false}) {
        Papers papers(
            {test::bound_piece(1, "runner", polygon({{0, 0}, {12'000, 0}, {11'900, 700}, {0, 640}}))});
        papers.input.mark_on_back = back;
        const Sheet sheet = full_size_strips(papers.input, papers.pieces[0]);
        ASSERT_EQ(sheet.pages.size(), 4u);  // with the map
        Box whole;
        double length = 0, shift = 0;
        for (std::size_t k = 1; k < sheet.pages.size(); ++k) {
            const Page& page = sheet.pages[k];
            EXPECT_EQ(page.width_mm, papers.input.settings.strip_width_mm);
            EXPECT_LE(page.height_mm, 14400 * 25.4 / 72);
            std::vector<Vec2> here = crosses_of(page);
            ASSERT_EQ(here.size(), k == 1 || k == 3 ? 2u : 4u);
            if (k > 1) {
                std::vector<Vec2> before = crosses_of(sheet.pages[k - 1]);
                const auto higher = [](Vec2 a, Vec2 b) { return a.y < b.y; };
                std::stable_sort(before.begin(), before.end(), higher);
                std::stable_sort(here.begin(), here.end(), higher);
                // The lower two of the page before are the upper two of this one.
                EXPECT_NEAR(before[before.size() - 2].x, here[0].x, 1e-9);
                EXPECT_NEAR(before.back().x, here[1].x, 1e-9);
                shift += before.back().y - here[1].y;
            }
            const Box box = cut_line_box(page, length);
            whole.add(box.min + Vec2{0, shift});
            whole.add(box.max + Vec2{0, shift});
        }
        EXPECT_NEAR(whole.height(), 12'000, 1e-6);
        EXPECT_NEAR(whole.width(), 700, 1e-6);
        // Both long sides are drawn twice where pages overlap by 10 mm.
        EXPECT_NEAR(length, length_mm(papers.pieces[0].cut.face.outer) + 2 * 2 * 10, 0.1);
    }
}

TEST(Strips, OneStripIsOnePageHoweverLong) {
    Papers papers({test::bound_piece(1, "runner", rectangle({0, 0}, {12'000, 700}))});
    papers.input.settings.one_strip = true;
    const Sheet sheet = full_size_strips(papers.input, papers.pieces[0]);
    ASSERT_EQ(sheet.pages.size(), 1u);
    EXPECT_GT(sheet.pages[0].height_mm, 12'000);
    double length = 0;
    EXPECT_NEAR(cut_line_box(sheet.pages[0], length).height(), 12'000, 1e-6);
    EXPECT_NEAR(length, 2 * (12'000 + 700), 1e-6);
}

TEST(Strips, AnyWidthOfPaperHoldsThePieceBesideItself) {
    for (const double width : {300.0, 610.0, 914.4, 1067.0, 1524.0}) {
        Papers papers({test::bound_piece(1, "sole", rectangle({0, 0}, {2'000, 1'400}))});
        papers.input.settings.strip_width_mm = width;
        const Sheet sheet = full_size_strips(papers.input, papers.pieces[0]);
        // As many beside one another as the narrower way of the piece needs of what a strip draws, overlapping by 10 mm.
        const double drawn = width - 2 * papers.input.print_margin_mm - 14;
        const auto strips = static_cast<std::size_t>(std::ceil((1'400 + 10) / (drawn - 10)));
        EXPECT_EQ(sheet.pages.size(), strips + (strips > 1 ? 1 : 0)) << width;
        for (const Page& page : sheet.pages) EXPECT_LE(page.height_mm, 5080);
    }
}

}  // namespace
}  // namespace spile
