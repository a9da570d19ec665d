// Finished edges under lids against the heights recorded there.
#include "core/job/lid_room.h"

#include <gtest/gtest.h>

#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

std::vector<Finding> findings_of(const char* finish, const char* thickness, const char* heights) {
    const std::string text =
        R"({ "spile": 1, "units": "mm", "mark_on": "back", "goods": { "width": 1800, "thickness": )" +
        std::string(thickness) + R"( },
      "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 1500", "B C 1000", "C D 1500", "D A 1000", "A C 1803", "B D 1803")" +
        heights + R"(] }],
      "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"], "finish": ")" +
        finish + R"(", "corner_radius": 60, "edges": { "B C": { "situation": "lid" } } }] })";
    const Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return job ? run_job(*job, {}, {}).findings : std::vector<Finding>{};
}

TEST(LidRoom, layers_are_counted) {
    const double layer = 25.4 / 32;  // common practice, no source
    EXPECT_EQ(stack_of(Finish::sealed, 5, layer).thickest_mm, 5);
    EXPECT_DOUBLE_EQ(stack_of(Finish::bound, 5, layer).everywhere_mm, 5 + 2 * layer);
    EXPECT_DOUBLE_EQ(stack_of(Finish::bound, 5, layer).thickest_mm, 5 + 4 * layer);
    EXPECT_EQ(stack_of(Finish::turned, 5, layer).everywhere_mm, 5);
    EXPECT_EQ(stack_of(Finish::turned, 5, layer).thickest_mm, 10);
}

TEST(LidRoom, a_lid_that_stands_too_low_is_said_with_both_sizes) {
    // 5 mm goods, bound: 6.6 mm all along, 8.2 mm where end laps start.
    EXPECT_FALSE(find_code(findings_of("bound", "5", R"(, "B height 9")"), "lid-too-low"));
    const std::vector<Finding> lap = findings_of("bound", "5", R"(, "B height 7", "C height 9")");
    const Finding* f = find_code(lap, "lid-too-low");
    ASSERT_TRUE(f) << shown(lap);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_EQ(f->subject.id, "1/B C");
    EXPECT_NE(f->says.find("laps its start"), std::string::npos) << f->says;
    EXPECT_NEAR(f->numbers[0].value, 8.175, 1e-9);
    EXPECT_EQ(f->numbers[1].value, 7);
    const std::vector<Finding> all = findings_of("bound", "5", R"(, "C height 6")");
    f = find_code(all, "lid-too-low");
    ASSERT_TRUE(f) << shown(all);
    EXPECT_EQ(f->says.find("laps"), std::string::npos) << f->says;
    EXPECT_FALSE(find_code(findings_of("sealed", "5", R"(, "C height 6")"), "lid-too-low"));
    EXPECT_TRUE(find_code(findings_of("turned", "5", R"(, "C height 6")"), "lid-too-low"));
    EXPECT_TRUE(find_code(findings_of("sealed", "5", R"(, "C height 4")"), "lid-too-low"));
    // Nothing is said where no height or no thickness is known: the ready-to-leave list asks for them.
    EXPECT_FALSE(find_code(findings_of("bound", "5", ""), "lid-too-low"));
    EXPECT_FALSE(find_code(findings_of("bound", "0", R"(, "C height 4")"), "lid-too-low"));
}

TEST(LidRoom, snaps_under_a_lid_count_too) {
    // 5 mm goods and 6.35 mm of snap; the stud stands 30 mm from the edge under the lid.
    const auto with = [](const char* height) {
        const std::string text = R"({ "spile": 1, "units": "mm", "mark_on": "back",
          "goods": { "width": 1800, "thickness": 5 },
          "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
            "ties": ["A B 1500", "B C 1000", "C D 1500", "D A 1000", "A C 1803", "B D 1803",
                     "S on B C at 500 off 30 left", "C height )" +
                                 std::string(height) + R"("] }],
          "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"], "finish": "sealed", "studs": ["S"],
                       "edges": { "B C": { "situation": "lid" } } }] })";
        const Result<Job> job = read_job(text);
        EXPECT_TRUE(job) << shown(job.findings);
        return job ? run_job(*job, {}, {}).findings : std::vector<Finding>{};
    };
    const std::vector<Finding> low = with("10"), high = with("12");
    const Finding* f = find_code(low, "lid-on-snap");
    ASSERT_TRUE(f) << shown(low);
    EXPECT_NEAR(f->numbers[0].value, 5 + 25.4 / 4, 1e-9);
    EXPECT_EQ(f->numbers[1].value, 10);
    EXPECT_FALSE(find_code(high, "lid-on-snap")) << shown(high);
}

}  // namespace
}  // namespace spile
