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
    for (const PaperSize& size : {a4(), letter()}) {
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
        const PaperSize size = i % 2 == 0 ? a4() : letter();
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
        const Sheet sheet = full_size_tiles(papers.input, piece, a4());
        const TilePlan plan =
            paper::plan_tiles(papers.input, paper::view_of(piece, papers.input.mark_on_back), a4());
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

}  // namespace
}  // namespace spile
