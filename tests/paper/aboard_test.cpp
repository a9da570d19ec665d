// What is settled aboard stands on every paper; minutes on the ticket are the shop's, or say that they are guessed.
#include "core/paper/aboard.h"

#include <gtest/gtest.h>

#include "core/paper/work_minutes.h"
#include "tests/paper/pieces.h"

namespace spile {
namespace {

using test::Papers;

/// All words of a sheet, in the order in which they were drawn.
std::string words_of(const Sheet& sheet) {
    std::string out;
    for (const Page& page : sheet.pages)
        for (const Item& item : page.items)
            if (const Text* t = std::get_if<Text>(&item)) out += t->utf8 + " ";
    return out;
}

bool says(const Sheet& sheet, const std::string& words) {
    return words_of(sheet).find(words) != std::string::npos;
}

std::vector<Sheet> papers_of(const Papers& papers) {
    const PaperInput& in = papers.input;
    return {ticket(in),       roll_sheet(in),     materials_sheet(in),
            sewing_sheet(in), check_sheet(in),    fitting_sheet(in),
            label_sheet(in),  customer_sheet(in), marking_sheet(in, papers.pieces[0])};
}

TEST(Aboard, LeftLongAndDryFitStandOnEveryPaper) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600})),
                   test::bound_piece(2, "step", rectangle({0, 0}, {500, 400}))});
    for (const Sheet& sheet : papers_of(papers)) {
        EXPECT_FALSE(says(sheet, "ry fit")) << sheet.file_stem;
        EXPECT_FALSE(says(sheet, "eft long")) << sheet.file_stem;
    }
    papers.pieces[0].edges[1].plan.left_long_mm = 25.4;
    for (const Sheet& sheet : papers_of(papers)) {
        EXPECT_TRUE(says(sheet, "ry fit")) << sheet.file_stem;
        // A label has room for the fact alone.
        if (sheet.file_stem == "labels") continue;
        EXPECT_TRUE(says(sheet, "eft long")) << sheet.file_stem;
        EXPECT_TRUE(says(sheet, "P1\u2013P2")) << sheet.file_stem;
    }
    // Asked for alone, without any edge left long.
    papers.pieces[0].edges[1].plan.left_long_mm = 0;
    papers.input.settings.dry_fit = true;
    for (const Sheet& sheet : papers_of(papers)) {
        EXPECT_TRUE(says(sheet, "ry fit")) << sheet.file_stem;
        EXPECT_FALSE(says(sheet, "eft long")) << sheet.file_stem;
    }
}

TEST(Aboard, ThisSideDownIsChalkedOnTheBackAndNeverTop) {
    for (const bool back : {true, false}) {
        Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
        papers.input.mark_on_back = back;
        const std::string words = back ? "THIS SIDE DOWN" : "THIS SIDE UP",
                          other = back ? "SIDE UP" : "SIDE DOWN";
        for (const Sheet& sheet : {ticket(papers.input), roll_sheet(papers.input),
                                   marking_sheet(papers.input, papers.pieces[0])}) {
            EXPECT_TRUE(says(sheet, words)) << sheet.file_stem;
            EXPECT_FALSE(says(sheet, other)) << sheet.file_stem;
            EXPECT_FALSE(says(sheet, "TOP")) << sheet.file_stem;
        }
    }
}

TEST(WorkMinutes, TheShopsStandAsSaidAndTheRestIsMarkedAsGuessed) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    EXPECT_TRUE(says(ticket(papers.input), "~ a guess"));
    EXPECT_TRUE(paper::minutes_of(papers.input, WorkStep::mark).guessed);
    // 8 a piece and 1 1/2 an edge are 14, to the nearest five.
    EXPECT_EQ(paper::minutes_of(papers.input, WorkStep::mark).minutes, 15);
    papers.input.settings.minutes.fill(7);
    papers.input.settings.minutes[static_cast<std::size_t>(WorkStep::mark)] = 42.5;
    EXPECT_FALSE(paper::minutes_of(papers.input, WorkStep::mark).guessed);
    EXPECT_TRUE(says(ticket(papers.input), "42.5"));
    EXPECT_FALSE(says(ticket(papers.input), "~"));
    // Goods, mark, cut, bind, measure, pack and fit: six of 7 and one of 42.5.
    EXPECT_TRUE(says(ticket(papers.input), "84.5"));
}

TEST(Ticket, LotIsPrintedOrLeftToWriteIn) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    EXPECT_TRUE(says(ticket(papers.input), "lot ____"));
    papers.goods.lot = "0417-B";
    EXPECT_TRUE(says(ticket(papers.input), "lot 0417-B"));
}

}  // namespace
}  // namespace spile
