// A kept layout is of its job until something changes that could move a cut line or a place on the goods.
#include <gtest/gtest.h>

#include <cmath>

#include "core/job/decisions.h"
#include "core/job/fingerprint.h"
#include "core/job/run_job.h"
#include "core/layout/solve/solve.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

const std::string base = R"({ "spile": 1, "units": "in", "title": "Sole", "mark_on": "back",
  "goods": { "name": "vinyl", "width": 72, "length": 300 },
  "finish": { "turn": 1 }, "sewing": { "stitches_per_inch": 6 },
  "spaces": [{ "id": "cockpit", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
    "ties": ["A B 48 1/4", "B C 36 7/8", "C D 48 1/4", "D A 36 7/8", "A C 60 3/4", "B D 60 3/4",
      "K A 30", "K B 30 1/4", "K C 30 3/4", "K diameter 2",
      "P on A B at 36 off 26 left", "Q on A B at 12 off 28 left",
      "S A 5", "S B 44 3/8", "T on A B at 12 off 6 left", "T height 1/2", "A D running U 9, V 20", "W S 6", "W T 6"] }],
  "panels": [
    { "id": "1", "name": "fore", "space": "cockpit", "corners": ["A", "B", "C", "D"], "finish": "bound", "corner_radius": 2,
      "openings": [{ "id": "post", "at": "K", "diameter": 2, "finish": "turned" }], "studs": ["S", "T"],
      "applied": [{ "id": "sign", "kind": "non-slip patch", "at": "Q", "diameter": 3, "goods": "grip tape", "goods_width": 6 },
        { "id": "pad", "kind": "heel pad", "at": "P", "size": "8 x 6", "along": "A B" }] },
    { "id": "2", "mat": "24 x 30", "finish": "turned" }] })";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, text.npos) << from;
    return at == text.npos ? text : text.replace(at, from.size(), to);
}

Job read(const std::string& text) {
    const Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return *job;
}

Layout laid_out(const Job& job) {
    const auto solver = [](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                           const RunContext& run) {
        SolveOptions options;
        options.rounds = 2;
        return solve_layout(pieces, goods, options, run);
    };
    const Derived derived = run_job(job, solver, {});
    EXPECT_TRUE(derived.layout) << shown(derived.findings);
    return derived.layout.value_or(Layout{});
}

/// That layout in a job that says something else.
Derived kept_in(const Job& other, const Job& kept) {
    JsonValue said = other.said;
    said.set("kept_layout", *kept.said.find("kept_layout"));
    return run_job(*job_from_said(std::move(said)), {}, {});
}

/// How far apart two pieces' cut lines are; 0: alike.
double apart_mm(const Outline& a, const Outline& b) {
    if (a.size() != b.size()) return HUGE_VAL;
    double most = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
        most = std::fmax(most, distance(a.vertices[i].p, b.vertices[i].p));
    return most;
}
double apart_mm(const std::vector<LayoutPiece>& a, const std::vector<LayoutPiece>& b) {
    if (a.size() != b.size()) return HUGE_VAL;
    double most = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        if (a[i].id != b[i].id || a[i].outline.holes.size() != b[i].outline.holes.size()) return HUGE_VAL;
        most = std::fmax(most, apart_mm(a[i].outline.outer, b[i].outline.outer));
        for (std::size_t h = 0; h < a[i].outline.holes.size(); ++h)
            most = std::fmax(most, apart_mm(a[i].outline.holes[h], b[i].outline.holes[h]));
    }
    return most;
}

struct Change {
    const char *what, *from, *to;
};

// What is only marked on a piece, sewn to it later, said on paper or paid for.
TEST(KeptLayoutChanges, marks_sewing_names_and_money_leave_it_as_it_is) {
    const Change changes[] = {
        {"a stud moved, by its ties", "S A 5", "S A 5 1/2"},
        {"a stud moved, by its offset", "T on A B at 12 off 6 left", "T on A B at 13 off 7 left"},
        {"a stud taken out", R"("studs": ["S", "T"])", R"("studs": ["S"])"},
        {"a stud more", R"("studs": ["S", "T"])", R"("studs": ["S", "T", "W"])"},
        {"a mark on a running line", "U 9, V 20", "U 9 1/4, V 20"},
        {"a mark placed from studs", "W S 6", "W S 6 1/2"},
        {"a height", "T height 1/2", "T height 5/8"},
        {"new studs", R"("studs": ["S", "T"])", R"("studs": ["S", "T"], "new_studs": { "pitch": 15 })"},
        {"stitch distance", R"("turn": 1)", R"("turn": 1, "stitch_from_edge": "3/8")"},
        {"binding overlap", R"("turn": 1)", R"("turn": 1, "binding_overlap": 2)"},
        {"slits of turned holes", R"("turn": 1)", R"("turn": 1, "slit_short": "3/8")"},
        {"nearest stud", R"("turn": 1)", R"("turn": 1, "stud_from_edge": 1)"},
        {"stitches", R"("stitches_per_inch": 6)", R"("stitches_per_inch": 7)"},
        {"a name", R"("name": "fore")", R"("name": "forward")"},
        {"the title", R"("title": "Sole")", R"("title": "Cockpit sole")"},
        {"the goods' name and lot", R"("name": "vinyl")", R"("name": "carpet", "lot": "0417")"},
        {"the step", R"("length": 300)", R"("length": 300, "step": 18)"},
        {"the least order", R"("length": 300)", R"("length": 300, "least_order": 72)"},
        {"what is put on, of other goods", R"("diameter": 3)", R"("diameter": 4)"},
        {"paper", R"("title": "Sole")", R"("title": "Sole", "paper": "A4")"},
    };
    const Job was = read(base);
    const Job kept = *keep_layout(was, laid_out(was));
    const std::vector<LayoutPiece> pieces = layout_pieces(was, run_job(was, {}, {}));
    for (const Change& change : changes) {
        const Job now = read(replaced(base, change.from, change.to));
        EXPECT_EQ(layout_fingerprint(now), layout_fingerprint(was)) << change.what;
        const Derived derived = kept_in(now, kept);
        ASSERT_TRUE(derived.layout) << change.what << shown(derived.findings);
        EXPECT_EQ(derived.layout->placements, kept.kept_layout->placements) << change.what;
        for (const char* code : {"kept-layout-changed", "kept-layout-stale"})
            EXPECT_FALSE(find_code(derived.findings, code)) << change.what;
        // Rightly so: no cut line has moved, but for the rounding of another adjustment.
        EXPECT_LT(apart_mm(layout_pieces(now, derived), pieces), 1e-6) << change.what;
    }
}

TEST(KeptLayoutChanges, its_new_marks_are_drawn) {
    const Job was = read(base), now = read(replaced(base, "S A 5", "S A 5 1/2"));
    const Derived before = run_job(was, {}, {}), after = kept_in(now, *keep_layout(was, laid_out(was)));
    ASSERT_TRUE(after.layout);
    ASSERT_EQ(before.pieces[0].studs.size(), after.pieces[0].studs.size());
    EXPECT_GT(distance(before.pieces[0].studs[0].at_mm, after.pieces[0].studs[0].at_mm), 5);
}

TEST(KeptLayoutChanges, whatever_can_move_a_cut_line_or_a_place_is_said) {
    const Change changes[] = {
        {"a size of the outline", "A B 48 1/4", "A B 48 5/16"},
        {"a size less", R"("A C 60 3/4", )", ""},
        {"the place of an opening", "K A 30\"", "K A 30 1/16\""},
        {"the size of an opening", R"("diameter": 2,)", R"("diameter": 3,)"},
        {"the ease of a post", R"("turn": 1)", R"("turn": 1, "post_ease": "3/8")"},
        {"the finish of an opening", R"("diameter": 2, "finish": "turned")",
         R"("diameter": 2, "finish": "sealed")"},
        {"a corner", R"("corner_radius": 2)", R"("corner_radius": 3)"},
        {"a finish", R"("finish": "bound")", R"("finish": "sealed")"},
        {"the turn", R"("turn": 1)", R"("turn": "3/4")"},
        {"what a binding adds", R"("turn": 1)", R"("turn": 1, "binding_growth": "1/8")"},
        {"a clearance", R"("title": "Sole")", R"("title": "Sole", "clearances": { "wall": "1/4" })"},
        {"the direction to the bow", R"("bow": ["A", "B"])", R"("bow": ["B", "A"])"},
        {"the class of the tape", R"("id": "cockpit", )", R"("id": "cockpit", "tape": { "class": "III" }, )"},
        {"a piece more", R"("id": "2", "mat": "24 x 30")",
         R"("id": "3", "mat": "6 x 6" }, { "id": "2", "mat": "24 x 30")"},
        {"a piece less", R"(,
    { "id": "2", "mat": "24 x 30", "finish": "turned" })",
         ""},
        {"another mat", "24 x 30", "24 x 31"},
        {"what is put on, of the same goods", R"("size": "8 x 6")", R"("size": "8 x 7")"},
        {"the usable width", R"("width": 72)", R"("width": 72, "usable_width": 71)"},
        {"the gap", R"("width": 72)", R"("width": 72, "gap": "3/8")"},
        {"the edge gap", R"("width": 72)", R"("width": 72, "edge_gap": "3/8")"},
        {"the length", R"("length": 300)", R"("length": 299)"},
        {"ways round", R"("width": 72)", R"("width": 72, "direction": "half turn")"},
        {"a pattern", R"("width": 72)", R"("width": 72, "repeat": { "along": 6 })"},
        {"a flaw", R"("width": 72)", R"("width": 72, "flaws": [{ "from": 100, "to": 102 }])"},
        // Where they do reach a cut line.
        {"a stud that holds a corner", "D A 36 7/8\"", "D A 36 7/8\", \"S D 33\""},
    };
    const std::string was = layout_fingerprint(read(base));
    for (const Change& change : changes)
        EXPECT_NE(layout_fingerprint(read(replaced(base, change.from, change.to))), was) << change.what;
}

// Round a tight corner the flap of a turned edge is held to twice the stitch distance (core/edging/flaps.h).
TEST(KeptLayoutChanges, the_stitch_distance_counts_where_it_moves_a_cut_line) {
    const std::string round =
        replaced(base, R"("mat": "24 x 30")", R"("mat": "24 x 30", "corner_radius": "3/4")");
    const std::string nearer = replaced(round, R"("turn": 1)", R"("turn": 1, "stitch_from_edge": "5/16")");
    const Job a = read(round), b = read(nearer);
    EXPECT_GT(apart_mm(layout_pieces(a, run_job(a, {}, {})), layout_pieces(b, run_job(b, {}, {}))), 0.1);
    EXPECT_NE(layout_fingerprint(a), layout_fingerprint(b));
}

}  // namespace
}  // namespace spile
