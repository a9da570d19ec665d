// What the roll sheet and the ticket say of the layout: how short it could be, the pattern at joints, several lengths,
// fillers.
#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <tuple>
#include <vector>

#include "core/geom/measure_of.h"
#include "core/paper/marking_parts.h"
#include "tests/paper/pieces.h"

namespace spile {
namespace {

using test::Chance;
using test::Papers;

std::string words_of(const Page& page) {
    std::string words;
    for (const Item& item : page.items)
        if (const Text* t = std::get_if<Text>(&item)) words += t->utf8 + " ";
    return words;
}
std::string words_of(const Sheet& sheet) {
    std::string words;
    for (const Page& page : sheet.pages) words += words_of(page);
    return words;
}
bool says(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

std::vector<Piece> some_pieces(int n) {
    Chance chance(5);
    std::vector<Piece> pieces;
    for (int k = 1; k <= n; ++k)
        pieces.push_back(test::random_piece(chance, k, {3, 9, 150, 600, true, true}));
    return pieces;
}

TEST(RollSheet, says_that_no_layout_is_shorter_and_the_ticket_too) {
    Papers papers(some_pieces(3));
    EXPECT_FALSE(says(words_of(roll_sheet(papers.input)), "shorter"));
    papers.layout.bound_mm = papers.layout.used_mm - 0.4;
    papers.layout.bound_reason = "every arrangement was tried";
    for (const Sheet& sheet : {roll_sheet(papers.input), ticket(papers.input)}) {
        EXPECT_TRUE(says(words_of(sheet), "No layout is shorter: proved")) << sheet.title << words_of(sheet);
        EXPECT_TRUE(says(words_of(sheet), "every arrangement")) << sheet.title;
    }
    papers.layout.bound_mm = 254;  // 10 in
    for (const Sheet& sheet : {roll_sheet(papers.input), ticket(papers.input)})
        EXPECT_TRUE(says(words_of(sheet), "Cannot be shorter than 10 in")) << words_of(sheet);
}

TEST(RollSheet, says_that_it_is_the_least_order_and_the_ticket_too) {
    Papers papers(some_pieces(2));
    for (const Sheet& sheet : {roll_sheet(papers.input), ticket(papers.input)})
        EXPECT_FALSE(says(words_of(sheet), "least order")) << sheet.title;
    papers.layout.least_order = true;
    for (const Sheet& sheet : {roll_sheet(papers.input), ticket(papers.input)})
        EXPECT_TRUE(says(words_of(sheet), "the least order")) << sheet.title << words_of(sheet);
}

// A rectangle of 40 1/16 by 20 in, its corner on whole quarters of an inch: of its datum the ends are at 0 and 40 1/16, but at 40 in
// its place on the roll is whole too. By hand.
TEST(RollSheet, the_datum_is_struck_through_whole_places_where_it_has_them) {
    constexpr double in = 25.4;
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {40.0625 * in, 20 * in}))});
    papers.layout.placements[0].x_um = papers.layout.placements[0].y_um = 6350;
    papers.input.mark_on_back = false;
    papers.input.lengths.unit = Unit::inch;
    const Piece& piece = papers.pieces[0];
    const auto at = paper::on_roll(papers.input, piece,
                                   paper::mark_frame(piece, paper::marking_options(papers.input, piece)));
    ASSERT_TRUE(at);
    EXPECT_NEAR(at->first.at.x, 0.25 * in, 1e-6);
    EXPECT_NEAR(at->first.at.y, 0.25 * in, 1e-6);
    EXPECT_NEAR(at->second.at.x, 40.25 * in, 1e-6);
    EXPECT_EQ(at->second.over.text, "40");
}

// However a piece lies: both points are marks of its datum, no further in than an inch, and none nearer its end is read as whole
// eighths of an inch in as many ways.
TEST(RollSheet, the_points_of_a_datum_are_those_of_its_marks_that_are_soonest_found) {
    const auto off = [](Vec2 p) {
        const auto one = [](double v) {
            return std::fabs(v - 3.175 * std::round(v / 3.175)) > 25.4 / 32 ? 1 : 0;
        };
        return one(p.x) + one(p.y);
    };
    const double mark = 25.4 / 16;
    int before = 0, after = 0;
    for (const bool back : {false, true}) {
        Papers papers(some_pieces(40));
        papers.input.mark_on_back = back;
        papers.input.lengths.unit = Unit::inch;
        for (const Piece& piece : papers.pieces) {
            const paper::MarkFrame frame =
                paper::mark_frame(piece, paper::marking_options(papers.input, piece));
            const auto at = paper::on_roll(papers.input, piece, frame);
            ASSERT_TRUE(at);
            const double from = mark * std::ceil(frame.datum_from_mm / mark),
                         to = mark * std::floor(frame.datum_to_mm / mark);
            for (const auto& [end, inward, point] :
                 {std::tuple{from, 1.0, at->first}, std::tuple{to, -1.0, at->second}}) {
                const double over = point.over.printed_mm, in = inward * (over - end);
                EXPECT_NEAR(over, mark * std::round(over / mark), 1e-6);
                EXPECT_GE(in, -1e-6);
                EXPECT_LE(in, 25.4 + 1e-6);
                EXPECT_LE(distance(point.at, at->roll_from_mark(Vec2{over, 0})), 1e-9);
                for (double k = 0; k < in - 1e-6; k += mark)
                    EXPECT_LT(off(point.at), off(at->roll_from_mark(Vec2{end + inward * k, 0})));
                before += off(at->roll_from_mark(Vec2{end, 0}));
                after += off(point.at);
            }
        }
    }
    EXPECT_LT(2 * after, before);
}

// Two mats of 20 x 20 in, a quarter of an inch between them; with the second half beside the first there is no such cut.
TEST(RollSheet, shows_where_the_goods_come_apart_straight_across) {
    constexpr double in = 25.4;
    Papers papers({test::bound_piece(1, "mat", rectangle({0, 0}, {20 * in, 20 * in})),
                   test::bound_piece(2, "mat", rectangle({0, 0}, {20 * in, 20 * in}))});
    papers.input.lengths.unit = Unit::inch;
    papers.layout.placements[0].x_um = 6350;
    papers.layout.placements[1].x_um = 6350 + 514350;
    papers.layout.used_mm = papers.layout.bought_mm = 40.75 * in;
    const auto dashed = [](const Sheet& sheet) {
        std::vector<Vec2> ends;
        for (const Item& item : sheet.pages[0].items)
            if (const Shape* s = std::get_if<Shape>(&item))
                if (s->stroke.dash_mm == paper::stroke::across.dash_mm)
                    for (const Path& p : s->open) ends.push_back(p.vertices.front().p);
        return ends;
    };
    for (const bool back : {false, true}) {
        papers.input.mark_on_back = back;
        const Sheet sheet = roll_sheet(papers.input);
        EXPECT_TRUE(says(words_of(sheet), "come apart straight across")) << words_of(sheet);
        EXPECT_TRUE(says(words_of(sheet), "cut 20 3")) << words_of(sheet);
        EXPECT_EQ(dashed(sheet).size(), 1u);
    }
    papers.layout.placements[1].x_um -= 254000;
    papers.layout.placements[1].y_um = 600000;
    const Sheet sheet = roll_sheet(papers.input);
    EXPECT_FALSE(says(words_of(sheet), "straight across"));
    EXPECT_TRUE(dashed(sheet).empty());
}

TEST(RollSheet, says_how_far_the_pattern_is_out_and_the_ticket_too) {
    Papers papers(some_pieces(2));
    papers.input.pattern_at_joints = {"At joint spine the pattern is out by 1/2 in."};
    for (const Sheet& sheet : {roll_sheet(papers.input), ticket(papers.input)})
        EXPECT_TRUE(says(words_of(sheet), "At joint spine the pattern is out by")) << words_of(sheet);
}

// Three lengths, three sheets: each says which it is of all.
TEST(RollSheet, sheets_of_several_lengths_are_numbered_through) {
    Papers papers(some_pieces(3));
    papers.layout.stretches = {
        {"roll 3", "0417", 6000, {}}, {"roll 5", "0417", 6000, {}}, {"roll 6", "", 6000, {}}};
    for (int k = 0; k < 3; ++k) {
        papers.layout.placements[static_cast<std::size_t>(k)].stretch = k;
        papers.layout.placements[static_cast<std::size_t>(k)].x_um = 6350;
    }
    const Sheet sheet = roll_sheet(papers.input);
    ASSERT_GE(sheet.pages.size(), 3u);
    const std::string all = std::to_string(sheet.pages.size());
    for (std::size_t k = 0; k < sheet.pages.size(); ++k)
        EXPECT_TRUE(says(words_of(sheet.pages[k]), "sheet " + std::to_string(k + 1) + " of " + all))
            << words_of(sheet.pages[k]);
    EXPECT_TRUE(says(words_of(sheet.pages.front()), "Roll 3, lot 0417"));
    EXPECT_TRUE(says(words_of(sheet.pages.back()), "Roll 6"));
}

/// Boxes of the closed shapes of a page that are drawn by a stroke so wide.
std::vector<Box> drawn_at(const Page& page, double width_mm) {
    std::vector<Box> boxes;
    for (const Item& item : page.items)
        if (const Shape* s = std::get_if<Shape>(&item); s && s->stroke.width_mm == width_mm)
            for (const Outline& o : s->closed) boxes.push_back(box_of(o));
    return boxes;
}

// A disc of 100 mm beside a piece: drawn in a thinner line than the piece, as far from the selvedge as it lies there (seen from the
// back on the other side), its name in it.
TEST(RollSheet, shows_fillers_in_a_lighter_line_with_their_name) {
    for (const bool back : {false, true}) {
        Papers papers({test::bound_piece(1, "sole", rectangle({0, 0}, {800, 500}))});
        papers.input.mark_on_back = back;
        papers.goods.usable_width_mm = papers.goods.width_mm = 1000;
        papers.layout.used_mm = 812.7;
        papers.layout.bought_mm = 914.4;
        Filler disc{"coaster"};
        disc.diameter_mm = 100;
        disc.most = 2;
        papers.goods.fillers = {disc};
        papers.layout.fillers = {{"filler/coaster/1", 100'000, 700'000}};
        const Sheet sheet = roll_sheet(papers.input);
        EXPECT_TRUE(says(words_of(sheet), "coaster")) << words_of(sheet);
        EXPECT_TRUE(says(words_of(sheet), "1 of coaster")) << words_of(sheet);
        EXPECT_TRUE(says(words_of(ticket(papers.input)), "1 of coaster"));
        const Page& page = sheet.pages.front();
        const std::vector<Box> pieces = drawn_at(page, 0.55);
        ASSERT_FALSE(pieces.empty());
        const double scale = pieces[0].width() / 800;
        bool found = false;
        for (const Item& item : page.items)
            if (const Shape* s = std::get_if<Shape>(&item); s && s->stroke.width_mm < 0.55)
                for (const Outline& o : s->closed) {
                    const Box box = box_of(o);
                    if (std::fabs(box.width() - 100 * scale) > 0.01 ||
                        std::fabs(box.height() - 100 * scale) > 0.01)
                        continue;
                    found = true;
                    // Page y runs down: from the front the piece lies below it, from the back above.
                    const double between =
                        0.5 * (box.min.y + box.max.y) - 0.5 * (pieces[0].min.y + pieces[0].max.y);
                    const double truth = 750 - (6.35 + 250);
                    EXPECT_NEAR(between, (back ? 1 : -1) * truth * scale, 0.01);
                    EXPECT_NEAR(box.min.x - pieces[0].min.x, (100 - 6.35) * scale, 0.01);
                }
        EXPECT_TRUE(found);
    }
}

}  // namespace
}  // namespace spile
