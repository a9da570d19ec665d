// The corpus of bad jobs: every fault of the document is found, with its place and a way out.
#include <gtest/gtest.h>

#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

std::vector<std::string> sorted_codes(const std::vector<Finding>& findings) {
    std::vector<std::string> codes;
    for (const Finding& f : findings) codes.push_back(f.code);
    std::sort(codes.begin(), codes.end());
    return codes;
}

class BadJob : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(BadJob, gives_the_findings_it_names) {
    const std::string text = read_file(GetParam());
    const std::vector<Expected> expected = expected_of(text, "finds");
    const Result<Job> job = read_job(text);
    ASSERT_EQ(job.findings.size(), expected.size()) << shown(job.findings);
    for (std::size_t i = 0; i < expected.size(); ++i) {
        const Finding& f = job.findings[i];
        EXPECT_EQ(f.code, expected[i].code) << f.says;
        EXPECT_EQ(f.where, expected[i].place) << f.says;
        EXPECT_TRUE(has_words(f, expected[i].words))
            << "\"" << expected[i].words << "\" not in: " << f.says << " " << f.to_do;
    }
}

TEST_P(BadJob, says_what_and_what_to_do_in_every_finding) {
    const Result<Job> job = read_job(read_file(GetParam()));
    for (const Finding& f : job.findings) {
        EXPECT_FALSE(f.where.empty()) << f.code;
        EXPECT_FALSE(f.subject.kind.empty()) << f.code;
        ASSERT_FALSE(f.says.empty() || f.to_do.empty()) << f.code;
        EXPECT_TRUE(f.says.back() == '.' || f.says.back() == '?') << f.says;
        EXPECT_LT(f.says.size() + f.to_do.size(), 500u) << f.says << f.to_do;
    }
    if (!job) {
        EXPECT_TRUE(has_stop(job.findings));
    } else {
        EXPECT_EQ(shown(job.findings), shown(job->faults));
    }
}

TEST_P(BadJob, is_written_back_with_all_that_was_said) {
    const Result<Job> job = read_job(read_file(GetParam()));
    if (!job) return;
    const std::string written = write_job(*job);
    const Result<Job> again = read_job(written);
    ASSERT_TRUE(again) << written;
    EXPECT_EQ(content_of(again->said), content_of(job->said)) << written;
    EXPECT_EQ(sorted_codes(again.findings), sorted_codes(job.findings)) << written;
    EXPECT_EQ(write_job(*again), written);
}

INSTANTIATE_TEST_SUITE_P(tests_bad, BadJob, ::testing::ValuesIn(jobs_in("tests/bad")), [](const auto& file) {
    std::string name = file.param.stem().string();
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
});

}  // namespace
}  // namespace spile
