// No text of any sheet touches another or leaves its page.
#include <gtest/gtest.h>

#include <cmath>

#include "core/geom/offset.h"
#include "core/paper/labels.h"
#include "tests/base/repeats.h"
#include "tests/paper/pieces.h"

namespace spile {
namespace {

using test::Chance;
using test::Papers;

void expect_clear(const Papers& papers, const std::string& what) {
    for (const Sheet& sheet : test::all_sheets(papers)) {
        EXPECT_FALSE(sheet.pages.empty());
        for (std::size_t i = 0; i < sheet.pages.size(); ++i)
            for (const paper::TextFault& f : paper::text_faults(sheet.pages[i]))
                ADD_FAILURE() << what << ", " << sheet.file_stem << " page " << i + 1 << ": '" << f.text
                              << "' " << (f.other.empty() ? "leaves the page" : "touches '" + f.other + "'");
    }
}

/// A4 and Letter, inches and millimetres, back and face in turn.
void vary(Papers& papers, int i) {
    papers.input.bench_paper = i % 2 == 0 ? a4() : letter();
    papers.input.lengths.unit = i % 4 < 2 ? Unit::inch : Unit::mm;
    papers.input.mark_on_back = i % 8 < 4;
    papers.input.settings.dry_fit = i % 3 == 0;
    if (i % 3 == 1)
        for (Piece& p : papers.pieces)
            for (std::size_t k = 0; k < p.edges.size(); k += 2) p.edges[k].plan.left_long_mm = 25.4;
    // A match mark in the middle of every second edge.
    for (Piece& p : papers.pieces)
        for (std::size_t k = i % 2; k < p.cut.face.outer.size(); k += 2) {
            const Edge e = p.cut.face.outer.edge(k);
            const Vec2 at = midpoint_of(e);
            p.match_strokes.push_back(
                {"M" + std::to_string(k + 1), "other", at, at + 38 * left_of(direction_at(e, 0.5))});
        }
}

const std::string kLong =
    "the port side panel between the forward locker lid and the wheel pedestal, second try after the lid was "
    "moved";

TEST(TextPlaces, LongNames) {
    for (int i = 0; i < 8; ++i) {
        std::vector<Piece> pieces{
            test::bound_piece(1, kLong, rectangle({0, 0}, {900, 600})),
            test::turned_piece(123456, std::string(300, 'W'), rectangle({0, 0}, {500, 700}))};
        test::add_post_hole(pieces[0], {400, 300});
        pieces[0].holes[0].id = kLong;
        pieces[0].studs.push_back({kLong, {100, 100}});
        pieces[1].studs.push_back(
            {"S\xC3\xA9"
             "2",
             {250, 300}});
        for (EdgeReport& e : pieces[0].edges) e.from = e.to = "ABCDEFGHIJKL";
        Papers papers(pieces);
        vary(papers, i);
        papers.input.title = kLong + " " + kLong;
        papers.input.boat = kLong;
        papers.input.customer = kLong;
        papers.goods.name = kLong;
        papers.goods.lot = kLong;
        PaperSettings& own = papers.input.settings;
        if (i % 2 == 0) own.included = own.not_included = own.care = own.warranty = kLong + "\n" + kLong;
        own.minutes.fill(9999.5);
        own.sewing = {kLong, kLong, 4.2, 254, 127, 9};
        papers.input.spaces = {{"cockpit", kLong, {kLong, kLong}, {kLong}}};
        papers.input.overrides = {kLong + ": " + kLong, kLong, kLong, kLong};
        Finding finding;
        finding.severity = Severity::look;
        finding.says = kLong + ".";
        finding.to_do = kLong;
        papers.input.findings = {finding};
        expect_clear(papers, "long names");
    }
}

// As long as a German compound or a French address gets, and as many words as the job file takes: a text of one line has 200
// characters, notes 20 000.
TEST(TextPlaces, LongCustomersAndNotes) {
    const std::string german =
        "Bootsinnenausbau- und Schiffspolstereiwerkst\u00e4ttengesellschaft mbH & Co. KG, z. Hd. "
        "Hafenmeistereiverwaltungsstellenleiterin, Donaudampfschifffahrtsanlegestellenstra\u00dfe "
        "117\u2013119";
    const std::string french =
        "Chantier naval de la presqu\u2019\u00eele \u2014 sellerie, ch\u00e2ssis, \u00e9tanch\u00e9it\u00e9 "
        "et "
        "am\u00e9nagements int\u00e9rieurs, quai de l\u2019Avant-Port, face \u00e0 l\u2019\u00e9cluse, "
        "b\u00e2timent C";
    std::string many;
    while (many.size() < 19'000) many += kLong + ".\n" + german + "\n\n";
    const std::string two_hundred(200, 'M'), no_break = std::string(199, 'x') + ".";
    int i = 0;
    for (const std::string& name : {german, french, two_hundred})
        for (const std::string& notes : {std::string(), kLong + kLong, no_break, many}) {
            if (notes == many && name != german) continue;  // once is enough of what takes long
            Papers papers({test::bound_piece(1, name.substr(0, 60), rectangle({0, 0}, {900, 600})),
                           test::turned_piece(2, "step", rectangle({0, 0}, {500, 700}))});
            vary(papers, i++);
            papers.input.customer = papers.input.title = papers.input.boat = name;
            papers.input.notes = notes;
            papers.goods.name = name;
            PaperSettings& own = papers.input.settings;
            own.included = own.not_included = own.care = own.warranty = notes;
            expect_clear(papers, "long customer " + std::to_string(i));
            const Sheet made = ticket(papers.input);
            EXPECT_LE(made.pages.size(), notes.size() > 1000 ? 12u : 3u);
        }
}

TEST(TextPlaces, TinyPieces) {
    for (int i = 0; i < 8; ++i) {
        Papers papers({test::bound_piece(1, "washer", circle({0, 0}, 6)),
                       test::bound_piece(2, "strip", rectangle({0, 0}, {2400, 30})),
                       test::bound_piece(3, "post", rectangle({0, 0}, {25, 2100})),
                       test::turned_piece(4, "tab", polygon({{0, 0}, {80, 0}, {80, 60}, {70, 90}, {0, 85}})),
                       test::bound_piece(5, "crumb", rectangle({0, 0}, {3, 2}))});
        vary(papers, i);
        expect_clear(papers, "tiny pieces");
    }
}

TEST(TextPlaces, FortyEdges) {
    for (int i = 0; i < 8; ++i) {
        Chance chance(31 + static_cast<std::uint64_t>(i));
        const test::PanelKind many{40, 40, 700, 1200, i % 2 == 1, i % 3 == 1};
        Papers papers({test::random_piece(chance, 1, many),
                       test::random_piece(chance, 2, {80, 90, 500, 900, false, false})});
        vary(papers, i);
        expect_clear(papers, "forty edges");
    }
}

TEST(TextPlaces, RandomPanels) {
    Chance chance(32);
    for (int i = 0; i < test::repeats(60); ++i) {
        std::vector<Piece> pieces;
        const int n = 1 + chance.below(4);
        for (int k = 0; k < n; ++k) {
            pieces.push_back(test::random_piece(chance, k + 1, {3, 14, 60, 1500, true, true}));
            Piece& p = pieces.back();
            const Vec2 inside = 0.5 * (p.cut.face.outer.vertices[0].p + p.cut.face.outer.vertices[1].p);
            if (chance.one_in(2)) p.studs.push_back({"S" + std::to_string(k), inside + Vec2{30, 30}});
        }
        Papers papers(pieces);
        vary(papers, i);
        expect_clear(papers, "random " + std::to_string(i));
    }
}

// A roll of many pieces goes over several pages.
TEST(TextPlaces, ManyPiecesOnTheRoll) {
    Chance chance(33);
    std::vector<Piece> pieces;
    for (int k = 0; k < 60; ++k)
        pieces.push_back(test::random_piece(chance, k + 1, {3, 6, 150, 500, true, true}));
    Papers papers(pieces);
    const Sheet roll = roll_sheet(papers.input);
    EXPECT_GT(roll.pages.size(), 1u);
    for (const Page& page : roll.pages) EXPECT_TRUE(paper::text_faults(page).empty());
    for (const Page& page : ticket(papers.input).pages) EXPECT_TRUE(paper::text_faults(page).empty());
}

}  // namespace
}  // namespace spile
