// The ready-to-leave list: what it asks of a space, and what an answer does.
#include <gtest/gtest.h>

#include "core/job/run_job.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

/// Four corners with both diagonals; `more` goes into the space, `panel` into its only panel.
std::string job_with(const std::string& more, const std::string& panel, const std::string& goods = "") {
    return R"({ "spile": 1, "units": "mm", "mark_on": "back", "goods": { "width": 1800)" + goods + R"( },
      "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 1500", "B C 1000", "C D 1500", "D A 1000", "A C 1803", "B D 1803", "S A 500", "S B 1200", "S C 1316")" +
           more + R"( }],
      "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"], "corner_radius": 60)" +
           panel + R"( }] })";
}

std::vector<std::string> missing(const std::string& text, std::vector<Finding>* findings = nullptr) {
    const Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    if (!job) return {};
    const Derived derived = run_job(*job, {}, {});
    if (findings) *findings = derived.findings;
    const auto survey = derived.surveys.find("sole");
    EXPECT_NE(survey, derived.surveys.end());
    std::vector<std::string> names;
    if (survey == derived.surveys.end()) return names;
    for (const std::string& line : survey->second.missing) names.push_back(line.substr(0, line.find(':')));
    return names;
}

using Names = std::vector<std::string>;

TEST(Leaving, asks_for_studs_lids_and_goods) {
    EXPECT_EQ(missing(job_with("]", "")), (Names{"studs", "lids", "goods"}));
}

TEST(Leaving, closes_when_all_is_recorded) {
    const std::string panel = R"(, "studs": ["S"], "edges": { "B C": { "situation": "lid" } })";
    EXPECT_EQ(missing(job_with("]", panel, R"(, "thickness": 4)")), (Names{"lid B C"}));
    EXPECT_EQ(missing(job_with(R"(, "B height 12"])", panel, R"(, "thickness": 4)")), Names{});
}

TEST(Leaving, an_answer_closes_its_line_and_stands_among_the_findings) {
    std::vector<Finding> findings;
    const std::string answers =
        R"(], "leaving": [{ "line": "studs", "because": "not aboard" }, { "line": "lids", "because": "not aboard" }])";
    EXPECT_EQ(missing(job_with(answers, "", R"(, "thickness": 4)"), &findings), Names{});
    int open = 0;
    for (const Finding& f : findings) open += f.code == "left-open";
    EXPECT_EQ(open, 2);
    const Finding* f = find_code(findings, "left-open");
    ASSERT_TRUE(f);
    EXPECT_NE(f->says.find("studs: not aboard"), std::string::npos) << f->says;
}

TEST(Leaving, an_answer_stands_on_the_papers) {
    const Result<Job> job =
        read_job(job_with(R"(], "leaving": [{ "line": "studs", "because": "not aboard" }])", ""));
    ASSERT_TRUE(job);
    const PaperInput papers = paper_input(*job, run_job(*job, {}, {}));
    const Finding* f = find_code(papers.findings, "left-open");
    ASSERT_TRUE(f) << shown(papers.findings);
    EXPECT_EQ(f->severity, Severity::look);  // the ticket prints what is to be looked at
    for (const Finding& other : papers.findings) EXPECT_EQ(other.severity, Severity::look) << other.code;
}

TEST(Leaving, an_empty_answer_is_none) {
    const Result<Job> job = read_job(job_with(R"(], "leaving": [{ "line": "studs", "because": " " }])", ""));
    ASSERT_TRUE(job);
    EXPECT_TRUE(find_code(job.findings, "leaving-without-reason")) << shown(job.findings);
}

TEST(Leaving, an_edge_that_may_touch_is_said_with_the_clearance_that_would_do) {
    std::vector<Finding> findings;
    missing(job_with("]", R"(, "clearances": { "wall": "0.2 mm" })"), &findings);
    const Finding* f = find_code(findings, "edge-may-touch");
    ASSERT_TRUE(f) << shown(findings);
    EXPECT_EQ(f->severity, Severity::look);
    std::vector<Finding> none;
    missing(job_with("]", R"(, "clearances": { "wall": "8 mm" })"), &none);
    EXPECT_FALSE(find_code(none, "edge-may-touch")) << shown(none);
}

// Beside a lid there is no boat to meet: the edge reaches over the line at which the lid lifts.
TEST(Leaving, an_edge_beside_a_lid_is_not_told_that_it_meets_the_boat) {
    const auto says = [](const std::string& situation) {
        std::vector<Finding> findings;
        const std::string edge = R"({ "situation": ")" + situation + R"(", "clearance": "0.2 mm" })";
        missing(job_with("]", R"(, "edges": { "A B": )" + edge + "}"), &findings);
        const Finding* f = find_code(findings, "edge-may-touch");
        return f ? f->says : std::string();
    };
    EXPECT_NE(says("wall").find("it meets the boat"), std::string::npos) << says("wall");
    EXPECT_NE(says("lid").find("it reaches over the line of the lid or door"), std::string::npos)
        << says("lid");
    EXPECT_EQ(says("lid").find("the boat"), std::string::npos) << says("lid");
}

}  // namespace
}  // namespace spile
