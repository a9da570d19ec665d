// The ticket and the price say the same minutes.
#include "core/job/planned_minutes.h"

#include <gtest/gtest.h>

#include <numeric>

#include "core/layout/solve/solve.h"
#include "core/takeoff/quote.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

/// Bound, turned and sealed edges, a hole that is turned, studs, a dry fit.
const char* const all_kinds = R"("goods": { "width": 74 }, "papers": { "dry_fit": true }, )";

std::filesystem::path example(const std::string& name) {
    return std::string(SPILE_SOURCE_DIR) + "/examples/" + name + ".json";
}

Derived run(const Job& job) {
    return run_job(job,
                   [](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& context) {
                       return solve_layout(pieces, goods, {}, context);
                   },
                   {});
}

Job read(const std::string& text) {
    Result<Job> job = read_job(text);
    EXPECT_TRUE(job) << shown(job.findings);
    return job ? *job : Job{};
}

double sum_of(const std::array<StepMinutes, work_steps>& planned) {
    return std::accumulate(planned.begin(), planned.end(), 0.0,
                           [](double sum, const StepMinutes& s) { return sum + s.minutes; });
}

/// Times of this shop, one of them from tickets.
WorkTimes own_times() {
    WorkTimes times = guessed_times();
    times["bind"] = {7.337, 0.4, 12};
    times["piece"] = {23.71, 1, 12};
    times["fit"] = {5.5, 1, 12};
    return times;
}

/// What the quote pays for, measuring, visits and travelling left out.
double paid_minutes(const Job& job, const Derived& derived, const WorkTimes& times) {
    PriceBook book;
    book.times = times;
    const Quote quote = *make_quote(*derived.takeoff, book, {0, 0, 0, 0}, false, lengths_of(job));
    return quote.minutes;
}

TEST(PlannedMinutes, TicketAndQuoteSayTheSame) {
    const std::string jobs[] = {read_file(example("cockpit")), read_file(example("cabin-mm")),
                                small_job(all_kinds, R"("corners": ["A", "B", "C", "D"], "corner_radius": 2,
        "edges": { "A B": { "finish": "turned" }, "B C": { "finish": "sealed" } })")};
    for (const std::string& text : jobs) {
        const Job job = read(text);
        const Derived derived = run(job);
        ASSERT_TRUE(derived.takeoff) << shown(derived.findings);
        for (const WorkTimes& times : {guessed_times(), own_times()}) {
            const double paid = paid_minutes(job, derived, times);
            EXPECT_GT(paid, 20);
            EXPECT_NEAR(sum_of(planned_minutes(job, derived, times)), paid, 1e-9);
        }
    }
}

TEST(PlannedMinutes, EachOperationIsMarkedAsAGuessUntilTicketsHaveIt) {
    const Job job = read(read_file(example("cockpit")));
    const auto planned = planned_minutes(job, run(job), own_times());
    EXPECT_FALSE(planned[static_cast<std::size_t>(WorkStep::fit)].guessed);
    EXPECT_FALSE(planned[static_cast<std::size_t>(WorkStep::mark)].guessed);
    EXPECT_TRUE(planned[static_cast<std::size_t>(WorkStep::bind)].guessed);  // the corners are one
}

TEST(PlannedMinutes, WhatTheJobPlansItselfStands) {
    const Job job = read(small_job(R"("goods": { "width": 74 }, "papers": { "minutes": { "mark": 42.5 } }, )",
                                   R"("corners": ["A", "B", "C", "D"], "corner_radius": 2)"));
    const auto planned = planned_minutes(job, run(job), guessed_times());
    EXPECT_EQ(planned[static_cast<std::size_t>(WorkStep::mark)].minutes, 42.5);
    EXPECT_FALSE(planned[static_cast<std::size_t>(WorkStep::mark)].guessed);
}

// The ticket of a mat bound all round has no line for turned edges: the relief cuts of its opening are in that of holes.
TEST(PlannedMinutes, ReliefCutsOfAnOpeningStandWithTheHoles) {
    const Job job = read(R"({ "spile": 1, "units": "in", "mark_on": "back", "goods": { "width": 74 },
        "panels": [{ "id": "1", "mat": "30 x 40, bound",
            "openings": [{ "id": "hatch", "at": "15 x 20", "size": "12 x 8", "radius": 2, "finish": "turned" }] }] })");
    const Derived derived = run(job);
    ASSERT_TRUE(derived.takeoff) << shown(derived.findings);
    const auto& work = derived.takeoff->work;
    ASSERT_TRUE(
        std::any_of(work.begin(), work.end(), [](const auto& line) { return line.code == "relief"; }));
    const auto planned = planned_minutes(job, derived, guessed_times());
    EXPECT_EQ(planned[static_cast<std::size_t>(WorkStep::turn)].minutes, 0);
    EXPECT_GT(planned[static_cast<std::size_t>(WorkStep::holes)].minutes, 15);
    EXPECT_NEAR(sum_of(planned), paid_minutes(job, derived, guessed_times()), 1e-9);
}

TEST(PlannedMinutes, TheWorkIsKnownBeforeThereIsALayout) {
    const Job job = read(small_job("", R"("corners": ["A", "B", "C", "D"], "corner_radius": 2)"));
    const Derived derived = run_job(job, {}, {});
    ASSERT_FALSE(derived.takeoff);
    // One piece at 20 minutes, two fifths of it to mark; 6 to fit.
    const auto planned = planned_minutes(job, derived, guessed_times());
    EXPECT_NEAR(planned[static_cast<std::size_t>(WorkStep::mark)].minutes, 8, 1e-9);
    EXPECT_NEAR(planned[static_cast<std::size_t>(WorkStep::fit)].minutes, 6, 1e-9);
}

}  // namespace
}  // namespace spile
