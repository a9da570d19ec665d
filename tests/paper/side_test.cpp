// The side a paper says in words is the side it shows.
#include <gtest/gtest.h>

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
