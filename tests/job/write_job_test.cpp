// Writing a job: all that was said, in one order, and the same bytes the second time.
#include <gtest/gtest.h>

#include "tests/job/same_job.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

TEST(WriteJob, good_jobs_read_back_the_same) {
    for (const auto& path : good_jobs()) {
        const Result<Job> job = read_job(read_file(path));
        ASSERT_TRUE(job) << path;
        const std::string written = write_job(*job);
        const Result<Job> again = read_job(written);
        ASSERT_TRUE(again) << path << "\n" << written;
        EXPECT_TRUE(again.findings.empty()) << shown(again.findings);
        EXPECT_EQ(all_of(*again), all_of(*job)) << path;
        EXPECT_EQ(content_of(again->said), content_of(job->said)) << path;
        EXPECT_EQ(write_job(*again), written) << path;
    }
}

TEST(WriteJob, keys_come_in_the_order_of_the_format_and_lengths_as_typed) {
    const Result<Job> job = read_job(R"({ "goods": { "gap": "1/4", "width": 72.50 }, // comment
        "units": "in", "spaces": [{ "ties": ["A B 8' 0 1/4\""], "id": "a" }], "spile": 1 })");
    ASSERT_TRUE(job);
    EXPECT_EQ(write_job(*job), R"({
  "spile": 1,
  "units": "in",
  "goods": { "width": 72.50, "gap": "1/4" },
  "spaces": [{ "id": "a", "ties": [{ "id": "t1", "line": "A B 8' 0 1/4\"" }] }]
}
)");
}

TEST(WriteJob, signs_that_JSON_reserves_are_escaped) {
    const std::string text = R"({ "spile": 1, "units": "in", "notes": "a\"b\\c\nd\te\u0001 \u00bd" })";
    const Result<Job> job = read_job(text);
    ASSERT_TRUE(job);
    const std::string written = write_job(*job);
    EXPECT_NE(written.find("\"a\\\"b\\\\c\\nd\\te\\u0001 \u00BD\""), std::string::npos) << written;
    EXPECT_EQ(content_of(read_job(written)->said), content_of(job->said));
}

TEST(WriteJob, what_is_unknown_is_kept_behind_what_is_known) {
    const Result<Job> job = read_job(R"({ "colour": "sand", "spile": 1, "units": "in" })");
    ASSERT_TRUE(job);
    EXPECT_EQ(write_job(*job), "{\n  \"spile\": 1,\n  \"units\": \"in\",\n  \"colour\": \"sand\"\n}\n");
}

}  // namespace
}  // namespace spile
