// The side a paper says in words is the side it shows.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/paper/marking_parts.h"
#include "core/paper/tiles.h"
#include "tests/paper/pieces.h"
#include "tests/paper/sheet_reader.h"

namespace spile {
namespace {

using test::Chance;
using test::Papers;

bool says(const Page& page, const std::string& words) {
    for (const Item& item : page.items)
        if (const Text* t = std::get_if<Text>(&item))
            if (t->utf8.find(words) != std::string::npos) return true;
    return false;
}

// Seen from above, going forward, port is on the left hand: from the port side to the tail and on to the bow the stroke
// turns left. From the back it turns right.
TEST(Side, TheArrowTurnsAsTheWordsSay) {
    Chance chance(61);
    for (int i = 0; i < 24; ++i) {
        Papers papers(
            {test::random_piece(chance, 1), test::random_piece(chance, 2, {3, 9, 40, 200, true, true})});
        papers.input.mark_on_back = i % 2 == 0;
        const bool back = papers.input.mark_on_back;
        std::vector<Sheet> sheets{roll_sheet(papers.input)};
        for (const Piece& p : papers.pieces) {
            sheets.push_back(marking_sheet(papers.input, p));
            sheets.push_back(full_size_tiles(papers.input, p, a4()));
            sheets.push_back(full_size_strips(papers.input, p));
        }
        for (const Sheet& sheet : sheets) {
            int arrows = 0;
            for (const Page& page : sheet.pages) {
                EXPECT_EQ(says(page, "MIRRORED"), back) << sheet.file_stem;
                EXPECT_EQ(says(page, "FACE"), !back) << sheet.file_stem;
                for (const double turn : test::witness_turns(page)) {
                    EXPECT_EQ(turn > 0, back) << sheet.file_stem;
                    ++arrows;
                }
            }
            EXPECT_GE(arrows, 1) << sheet.file_stem;
        }
    }
}

TEST(Side, EveryTileAndEveryMarkingSheetHasOneArrow) {
    Chance chance(62);
    for (int i = 0; i < 10; ++i) {
        Papers papers({test::random_piece(chance, 1, {3, 20, 40, 1200, true, true})});
        EXPECT_EQ(test::witness_turns(marking_sheet(papers.input, papers.pieces[0]).pages.front()).size(),
                  1u);
        for (const Page& page : full_size_tiles(papers.input, papers.pieces[0], letter()).pages)
            EXPECT_EQ(test::witness_turns(page).size(), 1u);
    }
}

TEST(Side, TheWordsOfTheStepAgree) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {600, 400}))});
    EXPECT_NE(test::read_marking_sheet(marking_sheet(papers.input, papers.pieces[0]))
                  .words.find("turns right on the back"),
              std::string::npos);
    papers.input.mark_on_back = false;
    EXPECT_NE(test::read_marking_sheet(marking_sheet(papers.input, papers.pieces[0]))
                  .words.find("turns left on the face"),
              std::string::npos);
}

/// Hands in which a page draws an outline: +1 as the piece lies face up, -1 mirrored. A drawn chain is the outline when its
/// sides follow one another in the same proportions, round the same way as seen or the other.
std::vector<int> hands_of(const Page& page, const Outline& outline) {
    const auto sides = [](const Outline& o, bool reversed) {
        std::vector<double> out;
        double all = 0;
        for (std::size_t k = 0; k < o.size(); ++k) {
            out.push_back(distance(o.edge(k).a, o.edge(k).b));
            all += out.back();
        }
        for (double& s : out) s /= all;
        if (reversed) std::reverse(out.begin(), out.end());
        return out;
    };
    const auto turned_alike = [](const std::vector<double>& a, const std::vector<double>& b) {
        for (std::size_t by = 0; by < a.size(); ++by) {
            double worst = 0;
            for (std::size_t k = 0; k < a.size(); ++k)
                worst = std::max(worst, std::fabs(a[k] - b[(k + by) % b.size()]));
            if (worst < 1e-6) return true;
        }
        return false;
    };
    const std::vector<double> truth = sides(outline, false);  // counter-clockwise
    std::vector<int> out;
    for (const Item& item : page.items) {
        const Shape* shape = std::get_if<Shape>(&item);
        if (!shape) continue;
        for (const Outline& drawn : shape->closed) {
            if (drawn.size() != outline.size()) continue;
            // Page y is down: a positive area runs clockwise as seen.
            const std::vector<double> seen = sides(drawn, area_mm2(drawn) > 0);
            if (turned_alike(truth, seen)) out.push_back(1);
            std::vector<double> back = seen;
            std::reverse(back.begin(), back.end());
            if (turned_alike(truth, back)) out.push_back(-1);
        }
    }
    return out;
}

Page turned_over(Page page) {
    for (Item& item : page.items)
        if (Shape* shape = std::get_if<Shape>(&item))
            for (Outline& o : shape->closed)
                for (Vertex& v : o.vertices) v.p.x = page.width_mm - v.p.x, v.bulge = -v.bulge;
    return page;
}

// Not the arrow alone: the piece itself is drawn with the hand its paper says, on every paper that shows it. Turned over,
// the same reading says the other hand.
TEST(Side, EveryPaperDrawsThePieceWithItsHand) {
    const Outline lopsided = polygon({{0, 0}, {600, 0}, {500, 400}, {120, 330}, {0, 300}});
    for (const bool back : {true, false}) {
        Papers papers({test::bound_piece(1, "mat", lopsided)});
        PaperInput& in = papers.input;
        in.mark_on_back = back;
        const Piece& piece = papers.pieces[0];
        const int marked = back ? -1 : 1;
        const struct {
            Sheet sheet;
            const Outline& shows;
            std::vector<int> hands;
        } cases[] = {{marking_sheet(in, piece), piece.cut.face.outer, {marked}},
                     {roll_sheet(in), piece.cut.face.outer, {marked}},
                     {ticket(in), piece.cut.face.outer, {1, marked}},
                     {check_sheet(in), piece.net.outer, {1}},
                     {sewing_sheet(in), piece.net.outer, {1}},
                     {fitting_sheet(in), piece.net.outer, {1}},
                     {customer_sheet(in), piece.net.outer, {1}}};
        for (const auto& c : cases) {
            std::vector<int> hands, over;
            for (const Page& page : c.sheet.pages) {
                for (const int h : hands_of(page, c.shows)) hands.push_back(h);
                for (const int h : hands_of(turned_over(page), c.shows)) over.push_back(-h);
            }
            std::sort(hands.begin(), hands.end());
            std::sort(over.begin(), over.end());
            std::vector<int> want = c.hands;
            std::sort(want.begin(), want.end());
            // A line may be drawn twice, as face and as backing.
            hands.erase(std::unique(hands.begin(), hands.end()), hands.end());
            over.erase(std::unique(over.begin(), over.end()), over.end());
            want.erase(std::unique(want.begin(), want.end()), want.end());
            EXPECT_EQ(hands, want) << c.sheet.file_stem << (back ? " back" : " face");
            EXPECT_EQ(over, want) << c.sheet.file_stem << ": a page turned over passes for right";
        }
    }
}

// The ticket shows every piece twice: from above and as marked.
TEST(Side, TheTicketShowsBothSides) {
    Papers papers({test::bound_piece(1, "mat", polygon({{0, 0}, {600, 0}, {500, 400}, {0, 300}}))});
    int left = 0, right = 0;
    for (const Page& page : ticket(papers.input).pages)
        for (const double turn : test::witness_turns(page)) (turn > 0 ? right : left) += 1;
    EXPECT_EQ(left, 1);
    EXPECT_EQ(right, 1);
}

// The drawing of a marking sheet has the hand of the side: the piece goes round the same way as its mirror image. The
// corners of a lopsided piece, read off the page in the order of the marks, against the piece itself.
TEST(Side, TheRollKeepsEveryPiecesHand) {
    Chance chance(63);
    for (int i = 0; i < 20; ++i) {
        Papers papers({test::random_piece(chance, 1), test::random_piece(chance, 2)});
        papers.input.mark_on_back = i % 2 == 0;
        for (const Piece& piece : papers.pieces) {
            const paper::MarkFrame frame =
                paper::mark_frame(piece, paper::marking_options(papers.input, piece));
            const auto roll = paper::on_roll(papers.input, piece, frame);
            ASSERT_TRUE(roll);
            const Vec2 move = papers.layout.placements[static_cast<std::size_t>(piece.number - 1)].move_mm();
            const Outline shown = roll->roll_from_mark(frame.view.face.outer);
            for (const Vertex& v : piece.cut.face.outer.vertices) {
                // By hand: moved to its place, then the roll turned over about its middle line.
                Vec2 p = v.p + move;
                if (papers.input.mark_on_back) p.y = papers.goods.usable_width_mm - p.y;
                EXPECT_LE(nearest_on(shown, p).distance, 1e-6);
            }
            // The two points of the datum lie on the piece.
            EXPECT_LE(nearest_on(shown, roll->first.at).distance, 25.4 / 16);
            EXPECT_LE(nearest_on(shown, roll->second.at).distance, frame.datum_is_edge ? 25.4 / 16 : 1e9);
        }
    }
}

}  // namespace
}  // namespace spile
