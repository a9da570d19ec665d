// Goods that grow against the clearance they were given.
#include <gtest/gtest.h>

#include "core/job/run_job.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

std::vector<Finding> findings_of(const char* movement, const char* wall, const char* edges = "") {
    const std::string text = R"({ "spile": 1, "units": "mm", "mark_on": "back", "goods": { "width": 1800)" +
                             std::string(movement) + R"( }, "clearances": { "wall": )" + wall + R"( },
      "defaults": { "finish": "sealed" },
      "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 2000", "B C 1000", "C D 2000", "D A 1000", "A C 2236", "B D 2236"] }],
      "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"])" +
                             edges + R"( }] })";
    const Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return job ? run_job(*job, {}, {}).findings : std::vector<Finding>{};
}

TEST(GoodsMovement, half_of_it_shows_at_each_end) {
    // 0.25 % of 2 m less two clearances of 1 mm: 5 mm, so 2.5 mm at each end.
    const std::vector<Finding> tight = findings_of(R"(, "movement": 0.0025)", "1");
    const Finding* f = find_code(tight, "goods-move");
    ASSERT_TRUE(f) << shown(tight);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_TRUE(f->subject.id == "1/B C" || f->subject.id == "1/D A") << f->subject.id;
    EXPECT_NEAR(f->numbers[0].value, 0.0025 * 1998 / 2, 0.01);
    EXPECT_EQ(f->numbers[1].value, 1);
    EXPECT_NEAR(f->numbers[2].value, 1998, 2);
    EXPECT_FALSE(find_code(findings_of(R"(, "movement": 0.0025)", "3"), "goods-move"));
    // 0.3 mm short: no rule shows it.
    EXPECT_FALSE(find_code(findings_of(R"(, "movement": 0.0025)", "2.2"), "goods-move"));
    EXPECT_FALSE(find_code(findings_of("", "0"), "goods-move"));
}

TEST(GoodsMovement, an_edge_that_meets_nothing_may_grow) {
    const char* free = R"(, "edges": { "B C": { "situation": "free" }, "D A": { "situation": "free" } })";
    const std::vector<Finding> findings = findings_of(R"(, "movement": 0.0025)", "0.5", free);
    const Finding* f = find_code(findings, "goods-move");
    ASSERT_TRUE(f) << shown(findings);
    EXPECT_TRUE(f->subject.id == "1/A B" || f->subject.id == "1/C D") << f->subject.id;
    EXPECT_NEAR(f->numbers[0].value, 0.0025 * 998 / 2, 0.01);
}

}  // namespace
}  // namespace spile
