// What is settled aboard stands on every paper; minutes on the ticket are the shop's, or say that they are guessed.
#include "core/paper/aboard.h"

#include <gtest/gtest.h>

#include "core/paper/flow_parts.h"
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

// On the side of the piece: inside its outline, outside the ring of a hole.
TEST(Marking, TheSideOfTheChalkOnWhichTheKnifeRuns) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    const std::string words = "Knife along the edge of the chalk on the side of the piece",
                      ring = "outside the ring at a hole";
    EXPECT_TRUE(says(marking_sheet(papers.input, papers.pieces[0]), words));
    EXPECT_FALSE(says(marking_sheet(papers.input, papers.pieces[0]), ring));
    test::add_post_hole(papers.pieces[0], {300, 300});
    EXPECT_TRUE(says(marking_sheet(papers.input, papers.pieces[0]), ring));
}

// A hole in the middle of 1000 x 600: its rim is 551.3 from the farthest corner; 3 thick, rolled tight that is
// sqrt(4 x 551.3 x 3 / pi) = 45.9.
TEST(Sewing, WhatMustPassUnderTheArmIsHeldAgainstItsThroat) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {1000, 600}))});
    test::add_post_hole(papers.pieces[0], {500, 300});
    papers.goods.thickness_mm = 3;
    SewingNotes& machine = papers.input.settings.sewing;
    const auto said_of = [&](double wide, double high, const std::string& words) {
        machine.throat_width_mm = wide;
        machine.throat_height_mm = high;
        return says(sewing_sheet(papers.input), words);
    };
    EXPECT_TRUE(said_of(0, 0, "its throat is not said"));
    EXPECT_TRUE(said_of(552, 20, "it passes flat"));
    EXPECT_FALSE(said_of(551, 20, "it passes flat"));
    EXPECT_TRUE(said_of(250, 58, "it passes."));
    EXPECT_TRUE(said_of(250, 46, "it passes only rolled hard"));
    EXPECT_TRUE(said_of(250, 45.8, "it does not pass."));
    EXPECT_TRUE(said_of(45.8, 250, "it does not pass."));
    papers.goods.thickness_mm = 0;
    EXPECT_TRUE(said_of(250, 100, "the thickness of the goods is not said"));
}

TEST(Sewing, TheGoodsAreHeldAgainstWhatTheBinderPasses) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {1000, 600}))});
    papers.goods.thickness_mm = 3;
    const auto said_of = [&](double passes_mm, const std::string& words) {
        papers.input.settings.sewing.binder_passes_mm = passes_mm;
        return says(sewing_sheet(papers.input), words);
    };
    EXPECT_TRUE(said_of(0, "what the binder passes are settings"));
    EXPECT_TRUE(said_of(5, "is left for the two layers of binding"));
    EXPECT_TRUE(said_of(3, "they do not go in"));
}

/// A seam of binding whose stitch line begins on edge `first` and goes on for `edges` of the outline.
Seam binding_along(const Piece& piece, std::size_t first, std::size_t edges, bool closed) {
    Seam seam;
    seam.closed = closed;
    seam.binding_mm = 1000;
    const auto& corners = piece.net.outer.vertices;
    for (std::size_t k = 0; k <= edges; ++k) {
        seam.path.vertices.push_back(corners[(first + k) % corners.size()]);
        seam.path.vertices.back().tag = static_cast<int>((first + k) % corners.size());
    }
    return seam;
}

// The short side against the wall, where the stitch line starts, and not the long one.
TEST(Sewing, BindingStartsWhereItsStitchLineDoes) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    papers.pieces[0].seams = {binding_along(papers.pieces[0], 1, 4, true)};
    const std::string words = words_of(sewing_sheet(papers.input));
    EXPECT_NE(words.find("Bind in one run"), std::string::npos) << words;
    EXPECT_NE(words.find("Start in the middle of P1\u2013P2"), std::string::npos) << words;
}

TEST(Sewing, BindingThatStopsIsNotCalledOneRun) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    Piece& piece = papers.pieces[0];
    piece.seams = {binding_along(piece, 0, 2, false), binding_along(piece, 3, 1, false)};
    test::add_post_hole(piece, {450, 300});
    Seam round = binding_along(piece, 0, 2, true);  // of a hole: says nothing of the outside
    for (Vertex& v : round.path.vertices) v.tag = -2;
    piece.seams.push_back(round);
    const std::string words = words_of(sewing_sheet(papers.input));
    EXPECT_EQ(words.find("in one run"), std::string::npos) << words;
    EXPECT_EQ(words.find("Start in the middle"), std::string::npos) << words;
    EXPECT_NE(words.find("Bind P0\u2013P1 to P1\u2013P2"), std::string::npos) << words;
    EXPECT_NE(words.find("Bind P3\u2013P0 :"), std::string::npos) << words;
    EXPECT_NE(words.find("It stops at both ends"), std::string::npos) << words;
}

TEST(WorkMinutes, TheShopsStandAsSaidAndTheRestIsMarkedAsGuessed) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    PaperInput& in = papers.input;
    // The column adds up as it is printed. Goods, mark, cut, bind, measure, pack, fit: 7 x 1.4 = 9.8.
    in.planned.fill({1.4, true});
    EXPECT_TRUE(says(ticket(in), "~ rests on a guess"));
    EXPECT_TRUE(says(ticket(in), "~ 10"));
    in.planned.fill({30, false});
    EXPECT_FALSE(says(ticket(in), "~"));
    EXPECT_TRUE(says(ticket(in), "210"));
    // As a person wrote it, to the half minute: six of 30 and one of 42.5.
    in.planned[static_cast<std::size_t>(WorkStep::mark)] = {42.5, false};
    in.settings.minutes[static_cast<std::size_t>(WorkStep::mark)] = 42.5;
    EXPECT_TRUE(says(ticket(in), "42.5"));
    EXPECT_TRUE(says(ticket(in), "222.5"));
}

TEST(Ticket, LotIsPrintedOrLeftToWriteIn) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    EXPECT_TRUE(says(ticket(papers.input), "lot ____"));
    papers.goods.lot = "0417-B";
    EXPECT_TRUE(says(ticket(papers.input), "lot 0417-B"));
}

TEST(Ticket, NotesOfTheJobStandOnItAndAreTakenAboard) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    EXPECT_FALSE(says(ticket(papers.input), "Notes of the job"));
    papers.input.notes = "Lid lifts aft.\nPort locker stands on the sole.";
    for (const char* line : {"Lid lifts aft.", "Port locker stands on the sole."}) {
        EXPECT_TRUE(says(ticket(papers.input), line));
        EXPECT_TRUE(says(fitting_sheet(papers.input), line));
    }
    // More than a few lines stand behind the work they would push off its page, all of them.
    for (int i = 0; i < 40; ++i) papers.input.notes += "\nLine " + std::to_string(i) + " of the notes.";
    EXPECT_TRUE(says(ticket(papers.input), "stand at the end of this ticket"));
    EXPECT_TRUE(says(ticket(papers.input), "Line 39 of the notes."));
    EXPECT_TRUE(says(fitting_sheet(papers.input), "on the ticket."));
}

TEST(Customer, ALongNameStandsWhole) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600}))});
    papers.input.customer = "harbour office";
    EXPECT_FALSE(says(customer_sheet(papers.input), "For harbour"));
    papers.input.customer =
        "Verwaltung der Hafenanlagen am Alten Strom, zu H\u00e4nden der Leitung, zweites Obergeschoss links";
    std::string words = words_of(customer_sheet(papers.input));
    EXPECT_NE(words.find("Obergeschoss links"), std::string::npos) << words;
}

TEST(Customer, IsToldWhatIsMade) {
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {900, 600})),
                   test::turned_piece(2, "step", rectangle({0, 0}, {500, 400}))});
    test::add_post_hole(papers.pieces[0], {400, 300});
    papers.pieces[0].studs.push_back({"S1", {50, 50}});
    const std::string words = words_of(customer_sheet(papers.input));
    for (const char* part :
         {"bound on 1", "turned on 2", "table post in 1", "Fastened to 1 stud of the boat"})
        EXPECT_NE(words.find(part), std::string::npos) << part << " in " << words;
}

// What a page would leave white goes to its own blocks, evenly, and never more than there is.
TEST(Flow, WhiteIsSharedOutAmongTheBlocksOfAPage) {
    const std::vector<double> blocks{60, 60, 60, 60, 60};
    const auto shares = paper::shares_of_white(100, 200, blocks),
               with_after = paper::shares_of_white(100, 200, blocks, 50);
    ASSERT_EQ(shares.size(), 5u);
    EXPECT_NEAR(shares[0], 40, 0.11);
    for (const std::size_t i : {std::size_t{1}, std::size_t{2}, std::size_t{3}})
        EXPECT_NEAR(shares[i], 20.0 / 3, 0.11);
    EXPECT_NEAR(shares[4], 140, 0.11);
    EXPECT_NEAR(with_after[4], 90, 0.11);
    EXPECT_LT(60 + shares[0], 100);
    EXPECT_LT(180 + shares[1] + shares[2] + shares[3], 200);
    // What follows and finds no room goes overleaf and leaves the page to its blocks.
    EXPECT_NEAR(paper::shares_of_white(100, 200, {60}, 50)[0], 40, 0.11);
}

}  // namespace
}  // namespace spile
