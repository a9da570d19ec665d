// Fillers of the goods: how they are said, and that they come beside a layout that a person kept.
#include <gtest/gtest.h>

#include "core/job/decisions.h"
#include "core/job/fingerprint.h"
#include "core/job/run_job.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

const auto solve = solver_of(2);

Job job_of(const std::string& text) {
    Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return std::move(*job.value);
}

const char kFillers[] =
    R"("goods": { "width": 100, "fillers": [{ "name": "coaster", "diameter": 4, "most": 12, "direction": "none" },
    { "name": "step mat", "size": "18 x 12", "most": 3 }] },)";

TEST(FillersOfAJob, are_read) {
    const Job job = job_of(small_job(kFillers));
    ASSERT_EQ(job.goods.fillers.size(), 2u);
    EXPECT_DOUBLE_EQ(job.goods.fillers[0].diameter_mm, 4 * 25.4);
    EXPECT_EQ(job.goods.fillers[0].most, 12);
    EXPECT_TRUE(job.goods.fillers[0].any_way);
    EXPECT_DOUBLE_EQ(job.goods.fillers[1].along_mm, 18 * 25.4);
    EXPECT_DOUBLE_EQ(job.goods.fillers[1].across_mm, 12 * 25.4);
    EXPECT_FALSE(job.goods.fillers[1].any_way);
}

// They move no panel: a layout that was kept without them is still current, and they lie beside it.
TEST(FillersOfAJob, leave_a_kept_layout_as_it_is) {
    const Job bare = job_of(small_job(R"("goods": { "width": 100 },)"));
    const Derived before = run_job(bare, solve, {});
    ASSERT_TRUE(before.layout) << shown(before.findings);
    const Job with = job_of(small_job(kFillers));
    EXPECT_EQ(layout_fingerprint(bare), layout_fingerprint(with));
    const Derived solved = run_job(with, solve, {});
    ASSERT_TRUE(solved.layout);
    EXPECT_EQ(solved.layout->placements, before.layout->placements);
    EXPECT_EQ(solved.layout->bought_mm, before.layout->bought_mm);
    ASSERT_FALSE(solved.layout->fillers.empty());

    const Result<Job> kept = keep_layout(with, *solved.layout);
    ASSERT_TRUE(kept) << shown(kept.findings);
    const Derived again = run_job(*kept, solve, {});
    ASSERT_TRUE(again.layout);
    EXPECT_EQ(again.layout->placements, before.layout->placements);
    EXPECT_EQ(again.layout->fillers, solved.layout->fillers);
    // Without a solver they are left out.
    EXPECT_TRUE(run_job(*kept, {}, {}).layout->fillers.empty());
}

}  // namespace
}  // namespace spile
