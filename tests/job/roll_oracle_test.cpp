// Random jobs are laid out and proved by other code than the program's own.
#include "tests/job/roll_oracle.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <iostream>
#include <map>

#include "core/geom/measure_of.h"
#include "core/geom/transform.h"
#include "core/job/decisions.h"
#include "core/job/run_job.h"
#include "core/layout/check/check.h"
#include "core/layout/solve/random.h"
#include "tests/base/repeats.h"
#include "tests/job/roll_jobs.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;
using ::testing::IsEmpty;
using ::testing::Not;

/// SPILE_ROLLS: how many, and from which seed: "5000", "5000 100001".
struct Seeds {
    unsigned first = 1, count = 0;
};
Seeds seeds(int usual) {
    Seeds out{1, static_cast<unsigned>(usual)};
    if (const char* more = std::getenv("SPILE_ROLLS")) {
        char* rest = nullptr;
        out.count = static_cast<unsigned>(std::strtoul(more, &rest, 10));
        if (*rest != 0) out.first = static_cast<unsigned>(std::strtoul(rest, nullptr, 10));
    }
    return out;
}

/// What run_job takes over of the solver's own refusals.
bool of_the_checker(const Finding& f) {
    static const char* const codes[] = {
        "layout-bought",  "layout-cut-end", "layout-filler",        "layout-flaw",
        "layout-gap",     "layout-length",  "layout-lot",           "layout-offcut",
        "layout-overlap", "layout-pattern", "layout-piece-missing", "layout-pin",
        "layout-stretch", "layout-turn",    "layout-used",          "layout-width"};
    return std::any_of(std::begin(codes), std::end(codes), [&](const char* code) { return f.code == code; });
}

/// As people run it, on whole places for every other seed.
Result<Layout> laid_out(const std::vector<LayoutPiece>& pieces, const Goods& goods, unsigned seed,
                        int threads = 1) {
    SolveOptions options;
    options.rounds = 2;
    options.threads = threads;
    options.places_mm = seed % 2 == 0 ? 1 : 0;
    RunContext run;
    run.seed = seed;
    return solve_layout(pieces, goods, options, run);
}

/// One piece stays where it lies and the rest is laid out anew round it; by several threads the same.
void pinned_and_threaded(std::vector<LayoutPiece> pieces, const Goods& goods, const Layout& layout,
                         unsigned seed) {
    const std::size_t k = seed % pieces.size();
    pieces[k].pin = layout.placements[k];
    const Result<Layout> one = laid_out(pieces, goods, seed + 1),
                         three = laid_out(pieces, goods, seed + 1, 3);
    ASSERT_TRUE(one && three) << "seed " << seed << ", pinned " << pieces[k].id << "\n"
                              << shown(one.findings);
    EXPECT_THAT(faults_on_the_roll(pieces, goods, *one), IsEmpty())
        << "seed " << seed << ", pinned " << pieces[k].id;
    EXPECT_THAT(check_layout(pieces, goods, *one), IsEmpty());
    EXPECT_EQ(one->placements, three->placements) << "seed " << seed;
}

TEST(RollOracle, EveryLayoutOfRandomJobsIsLegal) {
    std::map<std::string, int> stopped;
    unsigned laid = 0, pieces_laid = 0, filled = 0, carried = 0;
    const Seeds range = seeds(test::repeats(40));
    for (unsigned seed = range.first; seed < range.first + range.count; ++seed) {
        const std::string text = random_roll_job(seed);
        const Result<Job> job = read_job(text);
        ASSERT_TRUE(job) << text;
        RunContext run;
        run.seed = seed;
        const auto solver = [seed](const std::vector<LayoutPiece>& pieces, const Goods& goods,
                                   const RunContext&) { return laid_out(pieces, goods, seed); };
        const Derived derived = run_job(*job, solver, run);
        for (const Finding& f : derived.findings)
            EXPECT_FALSE(of_the_checker(f)) << "seed " << seed << ": " << f.says << "\n" << text;
        if (!derived.layout) {
            for (const Finding& f : derived.findings)
                if (f.severity == Severity::stop) ++stopped[f.code];
            continue;
        }
        const std::vector<LayoutPiece> pieces = layout_pieces(*job, derived);
        EXPECT_THAT(faults_on_the_roll(pieces, job->goods, *derived.layout), IsEmpty())
            << "seed " << seed << "\n"
            << text;
        if (seed % 4 == 0) pinned_and_threaded(pieces, job->goods, *derived.layout, seed);
        ++laid;
        pieces_laid += static_cast<unsigned>(pieces.size());
        filled += static_cast<unsigned>(derived.layout->fillers.size());
        carried += job->goods.repeat.any() && job->pattern_carried ? 1 : 0;

        // Kept, written and read again it is the same layout and nobody complains of it.
        const Result<Job> kept = keep_layout(*job, *derived.layout);
        ASSERT_TRUE(kept);
        const Result<Job> again = read_job(write_job(*kept));
        ASSERT_TRUE(again);
        const Derived same = run_job(*again, {}, {});
        ASSERT_TRUE(same.layout) << "seed " << seed;
        EXPECT_EQ(same.layout->placements, derived.layout->placements) << "seed " << seed;
        for (const Finding& f : same.findings)
            EXPECT_EQ(f.code.rfind("kept-layout", 0), std::string::npos) << "seed " << seed << ": " << f.says;
    }
    EXPECT_GT(4 * laid, range.count);
    if (std::getenv("SPILE_ROLLS")) {
        std::cout << laid << " of " << range.count << " jobs laid out, " << pieces_laid << " pieces, "
                  << filled << " fillers, " << carried << " with a carried pattern\n";
        for (const auto& [code, times] : stopped) std::cout << "  " << code << " " << times << "\n";
    }
}

/// An L, its inner corner slanted or round.
Outline offcut_of(lay::Random& random) {
    const double length = 900 + 1500 * random.share(), width = 700 + 800 * random.share();
    const double arm = (0.4 + 0.3 * random.share()) * length, rest = (0.4 + 0.3 * random.share()) * width;
    Outline outline = polygon(
        {{0, 0}, {length, 0}, {length, rest}, {arm + 80, rest}, {arm, rest + 90}, {arm, width}, {0, width}});
    if (random.below(2) == 0) outline.vertices[3].bulge = -0.3;
    return outline;
}

TEST(RollOracle, EveryLayoutOnAnOffcutIsLegal) {
    const Seeds range = seeds(test::repeats(40));
    unsigned laid = 0;
    for (unsigned seed = range.first; seed < range.first + range.count; ++seed) {
        const Result<Job> job = read_job(random_roll_job(seed));
        ASSERT_TRUE(job);
        std::vector<LayoutPiece> pieces = layout_pieces(*job, run_job(*job, {}, {}));
        if (pieces.size() > 3) pieces.resize(1 + seed % 3);
        if (pieces.empty()) continue;
        for (LayoutPiece& piece : pieces) piece.cloth.clear();
        lay::Random random(seed);
        Goods goods = job->goods;
        goods.flaws.clear();
        goods.fillers.clear();
        goods.outline = offcut_of(random);
        const Box box = box_of(goods.outline);
        goods.length_mm = box.max.x;
        goods.width_mm = goods.usable_width_mm = box.max.y;
        const Result<Layout> layout = laid_out(pieces, goods, seed);
        if (!layout) continue;
        EXPECT_THAT(faults_on_the_roll(pieces, goods, *layout), IsEmpty()) << "seed " << seed;
        EXPECT_THAT(check_layout(pieces, goods, *layout), IsEmpty()) << "seed " << seed;
        ++laid;
    }
    EXPECT_GT(6 * laid, range.count);
    if (std::getenv("SPILE_ROLLS")) std::cout << laid << " of " << range.count << " sets laid on an offcut\n";
}

/// A layout of three mats and a disc that lie as near as they may; each plant is one fault more.
struct Plant {
    std::vector<LayoutPiece> pieces;
    Goods goods;
    Layout layout;

    Plant() {
        goods.width_mm = goods.usable_width_mm = 1000;
        goods.gap_mm = 10;
        goods.step_mm = 0;
        goods.flaws = {{"stain", {{500, 400}, {520, 430}}}};
        for (const char* id : {"1", "2"}) pieces.push_back({id, {rectangle({0, 0}, {400, 300}), {}}});
        pieces.push_back({"3", {circle({150, 150}, 150), {}}});
        // An L: its long arm along, its short one across at the far end.
        pieces.push_back(
            {"4", {polygon({{0, 0}, {400, 0}, {400, 300}, {300, 300}, {300, 100}, {0, 100}}), {}}});
        goods.fillers = {{"coaster", 0, 0, 100, 1, false}};
        layout.placements = {
            {"1", 10'000, 10'000}, {"2", 10'000, 320'000}, {"3", 420'000, 10'000}, {"4", 600'000, 500'000}};
        layout.fillers = {{"filler/coaster/1", 620'000, 700'000}};
    }
    std::vector<std::string> by_the_checker() {
        std::vector<std::string> codes;
        measure_layout(pieces, goods, layout);
        for (const Finding& f : check_layout(pieces, goods, layout)) codes.push_back(f.code);
        return codes;
    }
    std::vector<std::string> by_the_oracle() {
        measure_layout(pieces, goods, layout);
        return faults_on_the_roll(pieces, goods, layout);
    }
};

/// The least that a plant moves: 0.01 mm.
constexpr std::int64_t kHundredth = 10;

TEST(RollOracle, SeesWhatTheCheckerSees) {
    struct Case {
        const char *what, *code;
        void (*plant)(Plant&);
    };
    const Case cases[] = {
        {"a gap too small", "layout-gap", [](Plant& p) { p.layout.placements[1].y_um -= kHundredth; }},
        {"an overlap", "layout-overlap",
         [](Plant& p) {
             p.goods.gap_mm = 0;
             p.layout.placements[1].y_um -= 10'000 + kHundredth;
         }},
        {"off the near selvedge", "layout-width",
         [](Plant& p) { p.layout.placements[0].y_um -= kHundredth; }},
        {"off the far selvedge", "layout-width", [](Plant& p) { p.goods.usable_width_mm = 810 - 0.01; }},
        {"before the cut end", "layout-cut-end", [](Plant& p) { p.layout.placements[0].x_um -= kHundredth; }},
        {"beyond the length", "layout-length", [](Plant& p) { p.goods.length_mm = 1010 - 0.01; }},
        {"on a flaw", "layout-flaw",
         [](Plant& p) {
             p.goods.flaws[0].at_mm = {{719.99, 100}, {730, 200}};
         }},
        {"turned on one-way goods", "layout-turn",
         [](Plant& p) {
             p.layout.placements[1] = {"2", 410'000, 620'000, 2};
         }},
        {"a pin left", "layout-pin",
         [](Plant& p) {
             p.pieces[3].pin = p.layout.placements[3];
             p.layout.placements[3].x_um += 1;
         }},
        {"a wrong phase", "layout-pattern",
         [](Plant& p) {
             p.goods.repeat = {100, 310, 50};
             p.pieces[0].cloth = p.pieces[1].cloth = "sole";
             p.pieces[1].in_cloth_mm = {50 + 0.01, 0};
             p.layout.placements[1].x_um += 100'000;
         }},
        {"a place in another cloth", "layout-pattern",
         [](Plant& p) {
             p.goods.repeat = {0, 155, 0};
             p.pieces[0].cloth = p.pieces[1].cloth = "sole";
             p.pieces[1].in_cloth_mm = {0, 77.5};
         }},
        {"a filler on a panel", "layout-overlap", [](Plant& p) { p.layout.fillers[0].x_um += 300'000; }},
        {"over the offcut", "layout-offcut",
         [](Plant& p) {
             p.goods.outline = polygon({{0, 0}, {1200, 0}, {1200, 1000}, {9.99, 1000}, {0, 500}});
             p.layout.fillers.clear();
         }},
    };
    Plant sound;
    EXPECT_THAT(sound.by_the_checker(), IsEmpty());
    EXPECT_THAT(sound.by_the_oracle(), IsEmpty());
    for (const Case& c : cases) {
        Plant planted;
        c.plant(planted);
        EXPECT_THAT(planted.by_the_checker(), ::testing::Contains(c.code)) << c.what;
        EXPECT_THAT(planted.by_the_oracle(), Not(IsEmpty())) << c.what;
    }
}

// What was laid out as its mirror image is refused as what it is.
TEST(RollOracle, AMirroredPieceIsRefused) {
    const LayoutPiece hook{"1",
                           {polygon({{0, 0}, {800, 0}, {800, 300}, {700, 300}, {700, 100}, {0, 100}}), {}}};
    LayoutPiece mirrored = hook;
    mirrored.outline = BackFromFace{150}(hook.outline);
    const LayoutPiece block{"2", {rectangle({0, 0}, {690, 190}), {}}};
    Goods goods;
    goods.usable_width_mm = 310;
    goods.gap_mm = 5;
    goods.step_mm = 0;
    const Result<Layout> layout = solver_of(3)({mirrored, block}, goods, {});
    ASSERT_TRUE(layout);
    EXPECT_THAT(check_layout({mirrored, block}, goods, *layout), IsEmpty());
    EXPECT_NEAR(layout->used_mm, 810, 0.1);
    EXPECT_FALSE(check_layout({hook, block}, goods, *layout).empty());
    EXPECT_THAT(faults_on_the_roll({hook, block}, goods, *layout), Not(IsEmpty()));
}

}  // namespace
}  // namespace spile
