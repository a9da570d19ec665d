// Fingerprints: what counts as a change and what does not.
#include "core/job/fingerprint.h"

#include <gtest/gtest.h>

#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

const std::string base =
    small_job(R"("goods": { "name": "vinyl", "width": 72 }, )",
              R"("corners": ["A", "B", { "at": "C", "radius": 2 }, "D"] }, { "id": "2", "mat": "24 x 36")");

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const std::size_t at = text.find(from);
    EXPECT_NE(at, text.npos) << from;
    return text.replace(at, from.size(), to);
}

Job job(const std::string& text) {
    const Result<Job> read = read_job(text);
    EXPECT_TRUE(read && read.findings.empty()) << shown(read.findings) << text;
    return *read;
}

// A job kept on one machine must be current on another, and after an upgrade. Whoever changes what is hashed makes every
// kept layout and override come up again; then, and only then, these values change too.
TEST(Fingerprint, is_pinned) {
    EXPECT_EQ(layout_fingerprint(job(base)), "daf5b3d34d9c0145");
    EXPECT_EQ(subject_fingerprint(job(base), {"goods", ""}), "8cd347dcb3398528");
}

// Layouts used to be kept with the fingerprint of all that makes the pieces.
TEST(Fingerprint, a_layout_kept_before_marks_were_left_out_is_still_of_its_job) {
    EXPECT_TRUE(layout_is_of(job(base), "8cd347dcb3398528"));
    EXPECT_FALSE(layout_is_of(job(replaced(base, "24 x 36", "24 x 37")), "8cd347dcb3398528"));
    EXPECT_FALSE(layout_is_of(job(base), ""));
}

TEST(Fingerprint, spelling_and_names_do_not_count) {
    const std::string same = layout_fingerprint(job(base));
    EXPECT_EQ(layout_fingerprint(job(replaced(base, "A B 96 1/4", "A B 96.25"))), same);
    EXPECT_EQ(layout_fingerprint(job(replaced(base, "A B 96 1/4", "A  B  8' 0 1/4\\\""))), same);
    EXPECT_EQ(layout_fingerprint(job(replaced(base, "A B 96 1/4", "A B 2444.75 mm"))), same);
    EXPECT_EQ(layout_fingerprint(
                  job(replaced(base, R"("A B 96 1/4", "B C 71 7/8")", R"("B C 71 7/8", "A B 96 1/4")"))),
              same);
    EXPECT_EQ(layout_fingerprint(
                  job(replaced(base, R"("A B 96 1/4")", R"({ "id": "first", "line": "A B 96 1/4" })"))),
              same);
    EXPECT_EQ(layout_fingerprint(
                  job(replaced(base, R"("name": "vinyl")", R"("name": "carpet", "thickness": "1/4")"))),
              same);
    EXPECT_EQ(layout_fingerprint(
                  job(replaced(base, R"("mark_on": "back")", R"("mark_on": "face", "title": "Sole")"))),
              same);
    EXPECT_EQ(layout_fingerprint(
                  job(replaced(replaced(base, R"("id": "1")", R"("id": "1", "space": "cockpit")"),
                               R"("spaces": [)", R"("spaces": [{ "id": "cabin", "ties": ["A B 12"] }, )"))),
              same);
}

TEST(Fingerprint, every_change_that_can_move_a_line_counts) {
    const std::string was = layout_fingerprint(job(base));
    const std::pair<const char*, const char*> changes[] = {
        {"A B 96 1/4", "A B 96 5/16"},
        {"\"A B 96 1/4\", ", ""},
        {"\"bow\": [\"A\", \"B\"]", "\"bow\": [\"B\", \"A\"]"},
        {"\"walk\": [\"A\", \"B\", \"C\", \"D\"]", "\"walk\": [\"D\", \"C\", \"B\", \"A\"]"},
        {"\"radius\": 2", "\"radius\": 3"},
        {"24 x 36", "24 x 37"},
        {"24 x 36", "24 x 36, turned"},
        {"\"width\": 72", "\"width\": 71"},
        {"\"width\": 72", "\"width\": 72, \"gap\": 1"},
        {"\"width\": 72", "\"width\": 72, \"edge_gap\": 1"},
        {"\"width\": 72", "\"width\": 72, \"length\": 200"},
        {"\"mark_on\"", "\"finish\": { \"turn\": 2 }, \"mark_on\""},
        {"\"mark_on\"", "\"clearances\": { \"wall\": \"1/4\" }, \"mark_on\""},
        {"\"mark_on\"", "\"defaults\": { \"measured\": \"finished\" }, \"mark_on\""},
        {"\"id\": \"1\"", "\"id\": \"1\", \"edges\": { \"A B\": { \"situation\": \"joint\" } }"},
        {"\"id\": \"1\"", "\"id\": \"3\""},
        {"\"id\": \"cockpit\"", "\"id\": \"cockpit\", \"tape\": { \"class\": \"III\" }"},
    };
    for (const auto& [from, to] : changes)
        EXPECT_NE(layout_fingerprint(job(replaced(base, from, to))), was) << to;
}

TEST(Fingerprint, a_panel_goes_by_itself_and_its_space) {
    const Subject corner{"corner", "1/B"}, mat{"panel", "2"}, space{"space", "cockpit"},
        tie{"tie", "cockpit/A B"};
    const Job was = job(base), other_mat = job(replaced(base, "24 x 36", "24 x 37")),
              other_tie = job(replaced(base, "96 1/4", "96"));
    EXPECT_EQ(subject_fingerprint(other_mat, corner), subject_fingerprint(was, corner));
    EXPECT_NE(subject_fingerprint(other_mat, mat), subject_fingerprint(was, mat));
    EXPECT_EQ(subject_fingerprint(other_tie, mat), subject_fingerprint(was, mat));
    EXPECT_NE(subject_fingerprint(other_tie, corner), subject_fingerprint(was, corner));
    EXPECT_NE(subject_fingerprint(other_tie, space), subject_fingerprint(was, space));
    EXPECT_NE(subject_fingerprint(other_tie, tie), subject_fingerprint(was, tie));
    EXPECT_EQ(subject_fingerprint(other_mat, tie), subject_fingerprint(was, tie));
    EXPECT_NE(subject_fingerprint(other_mat, {"piece", "1"}), subject_fingerprint(was, {"piece", "1"}));
    EXPECT_NE(subject_fingerprint(other_mat, {"goods", ""}), subject_fingerprint(was, {"goods", ""}));
}

TEST(Fingerprint, neighbours_count_by_their_bounds) {
    const std::string two = replaced(base, R"("mat": "24 x 36")", R"("corners": ["A", "B", "C"])");
    const Subject panel{"panel", "1"};
    const std::string was = subject_fingerprint(job(two), panel);
    EXPECT_NE(subject_fingerprint(job(replaced(two, R"(["A", "B", "C"])", R"(["B", "C", "D"])")), panel),
              was);
    EXPECT_EQ(subject_fingerprint(job(replaced(two, R"("id": "2")", R"("id": "2", "studs": ["A"])")), panel),
              was);
}

}  // namespace
}  // namespace spile
