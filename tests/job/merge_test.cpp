// Merging: different fields come together, the same field shows both, in either order the same.
#include <gtest/gtest.h>

#include "core/job/edit.h"
#include "core/job/run_job.h"
#include "tests/base/repeats.h"
#include "tests/job/random_edits.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

JsonValue settled(const std::string& text) {
    return settled_form(*parse_json(text));
}
JsonValue example() {
    return settled(read_file(std::string(SPILE_SOURCE_DIR) + "/examples/cockpit.json"));
}

JsonValue with(const JsonValue& said, const std::string& target, const std::string& field,
               std::optional<JsonValue> shall) {
    Edit e;
    e.target = target;
    e.field = field;
    e.was = value_at(said, target, field);
    e.shall = std::move(shall);
    const Result<JsonValue> after = apply_edits(said, {e});
    EXPECT_TRUE(after) << shown(after.findings);
    return after ? *after : said;
}
JsonValue text(const char* t) {
    return JsonValue::of_text(t);
}

std::vector<Unsettled> unsettled_of(const JsonValue& said) {
    return job_from_said(said)->unsettled;
}

void expect_same_either_way(const JsonValue& base, const JsonValue& x, const JsonValue& y) {
    EXPECT_EQ(write_said(merge_said(base, x, y)), write_said(merge_said(base, y, x)));
}

const std::string tie = "/spaces/cockpit/ties/t1";

TEST(Merge, different_fields_of_one_tie_come_together) {
    const JsonValue base = example();
    const JsonValue x = with(base, tie, "line", text("A B 95 1/4"));
    const JsonValue y = with(base, "/panels/1", "name", text("fore, port"));
    const JsonValue merged = merge_said(base, x, y);
    EXPECT_EQ(value_at(merged, tie, "line")->text, "A B 95 1/4");
    EXPECT_EQ(value_at(merged, "/panels/1", "name")->text, "fore, port");
    EXPECT_TRUE(unsettled_of(merged).empty());
    expect_same_either_way(base, x, y);
}

TEST(Merge, the_same_field_shows_both_until_a_person_chooses) {
    const JsonValue base = example();
    const JsonValue x = with(base, tie, "line", text("A B 95 1/4")),
                    y = with(base, tie, "line", text("A B 96"));
    const JsonValue merged = merge_said(base, x, y);
    expect_same_either_way(base, x, y);
    EXPECT_EQ(value_at(merged, tie, "line")->text, "A B 96");
    const std::vector<Unsettled> both = unsettled_of(merged);
    ASSERT_EQ(both.size(), 1u);
    EXPECT_EQ(both[0].target, tie);
    EXPECT_EQ(both[0].was->text, "A B 95 3/4");
    EXPECT_EQ(both[0].other->text, "A B 95 1/4");

    const Derived derived = run_job(*job_from_said(merged), {}, {});
    const Finding* said_twice = find_code(derived.findings, "said-twice");
    ASSERT_TRUE(said_twice);
    EXPECT_EQ(said_twice->severity, Severity::stop);
    EXPECT_EQ(said_twice->subject, (Subject{"tie", "cockpit/A B"}));
    EXPECT_NE(said_twice->says.find("\"A B 95 1/4\""), std::string::npos) << said_twice->says;

    for (const bool take_other : {true, false}) {
        const Result<std::vector<Edit>> settle = settle_edits(merged, both[0].id, take_other);
        ASSERT_TRUE(settle) << shown(settle.findings);
        const Result<JsonValue> after = apply_edits(merged, *settle);
        ASSERT_TRUE(after) << shown(after.findings);
        EXPECT_TRUE(unsettled_of(*after).empty());
        EXPECT_EQ(write_said(*after), write_said(take_other ? x : y));
    }
    EXPECT_FALSE(settle_edits(merged, "u0", true));
}

TEST(Merge, a_title_said_twice_does_not_stop_the_knife) {
    const JsonValue base = example();
    const JsonValue merged =
        merge_said(base, with(base, "", "title", text("a")), with(base, "", "title", text("b")));
    const Derived derived = run_job(*job_from_said(merged), {}, {});
    EXPECT_EQ(find_code(derived.findings, "said-twice")->severity, Severity::look);
}

TEST(Merge, what_one_took_out_and_the_other_changed_stays) {
    const JsonValue base = example();
    const JsonValue x = with(base, "/panels/5", "", std::nullopt);
    const JsonValue y = with(base, "/panels/5", "name", text("lid"));
    const JsonValue merged = merge_said(base, x, y);
    expect_same_either_way(base, x, y);
    EXPECT_EQ(value_at(merged, "/panels/5", "name")->text, "lid");
    const std::vector<Unsettled> both = unsettled_of(merged);
    ASSERT_EQ(both.size(), 1u);
    EXPECT_FALSE(both[0].other);
    const Result<std::vector<Edit>> settle = settle_edits(merged, both[0].id, true);
    ASSERT_TRUE(settle);
    EXPECT_EQ(write_said(*apply_edits(merged, *settle)), write_said(x));
}

TEST(Merge, both_add_readings_behind_the_last) {
    const JsonValue base = example();
    const auto add = [](const JsonValue& said, const char* id, const char* line, const char* behind) {
        Edit e;
        e.target = "/spaces/cockpit/ties/" + std::string(id);
        e.shall = JsonValue::object();
        e.shall->set("id", text(id));
        e.shall->set("line", text(line));
        e.behind = behind;
        return *apply_edits(said, {e});
    };
    const JsonValue x = add(add(base, "a1", "A B 1", "t2"), "a2", "A B 2", "a1");
    const JsonValue y = add(add(base, "b1", "A B 3", "t2"), "a9", "A B 4", "b1");
    const JsonValue merged = merge_said(base, x, y);
    expect_same_either_way(base, x, y);
    const JsonValue& ties = *merged.find("spaces")->items[0].find("ties");
    std::string order;
    for (std::size_t i = 1; i < 7; ++i) order += ties.items[i].find("id")->text + " ";
    EXPECT_EQ(order, "t2 a1 a2 b1 a9 t3 ");
    EXPECT_TRUE(unsettled_of(merged).empty());
}

TEST(Merge, an_edge_named_either_way_round_is_one_edge) {
    const JsonValue base = settled(small_job());
    const JsonValue x = with(base, "/panels/1/edges/A B", "finish", text("turned"));
    const JsonValue y = with(base, "/panels/1/edges/B A", "situation", text("lid"));
    const JsonValue merged = merge_said(base, x, y);
    expect_same_either_way(base, x, y);
    const Result<Job> job = job_from_said(merged);
    EXPECT_TRUE(job.findings.empty()) << shown(job.findings);
    EXPECT_EQ(job->panels[0].edges[0].finish, Finish::turned);
    EXPECT_EQ(job->panels[0].edges[0].situation, Situation::lid);
}

TEST(Merge, undo_in_the_middle_of_a_history) {
    const JsonValue before = example();
    const JsonValue after = with(before, tie, "line", text("A B 90"));
    const JsonValue now = with(after, "/panels/1", "name", text("later"));
    const JsonValue undone = merge_said(after, before, now);
    EXPECT_EQ(write_said(undone), write_said(with(before, "/panels/1", "name", text("later"))));
}

TEST(MergeProperties, hold_for_random_lines) {
    std::size_t conflicts = 0;
    const auto all = static_cast<unsigned>(test::repeats(150));
    for (unsigned seed = 1; seed <= all; ++seed) {
        RandomEdits random(seed);
        std::vector<Edit> edits;
        const JsonValue base = random.line(example(), 4, edits);
        const JsonValue x = random.line(base, 8, edits), y = random.line(base, 8, edits);
        const std::string merged = write_said(merge_said(base, x, y));
        EXPECT_EQ(write_said(merge_said(base, y, x)), merged) << "seed " << seed;
        EXPECT_EQ(write_said(merge_said(base, base, y)), write_said(y)) << "seed " << seed;
        EXPECT_EQ(write_said(merge_said(base, x, base)), write_said(x)) << "seed " << seed;
        EXPECT_EQ(write_said(merge_said(base, x, x)), write_said(x)) << "seed " << seed;
        const JsonValue document = merge_said(base, x, y);
        conflicts += unsettled_of(document).size();
        // What leads there can be sent to either side.
        for (const JsonValue* side : {&x, &y}) {
            const Result<JsonValue> there = apply_edits(*side, edits_between(*side, document));
            ASSERT_TRUE(there) << "seed " << seed << shown(there.findings);
            EXPECT_EQ(write_said(*there), merged) << "seed " << seed;
        }
        // Everything unsettled can be settled, either way.
        JsonValue settling = document;
        for (const Unsettled& u : unsettled_of(document)) {
            const Result<std::vector<Edit>> settle = settle_edits(settling, u.id, seed % 2 == 0);
            if (!settle) continue;  // its thing was taken out by settling another
            const Result<JsonValue> after = apply_edits(settling, *settle);
            ASSERT_TRUE(after) << "seed " << seed << shown(after.findings);
            settling = *after;
        }
    }
    EXPECT_GT(3 * conflicts, all) << "the random lines must meet often enough to prove anything";
}

/// A person's change that is nowhere is the one fault that cannot be mended: each value set by either line stands in the
/// document or in what is unsettled.
TEST(MergeProperties, nothing_anybody_wrote_is_lost) {
    for (unsigned seed = 200; seed <= 260; ++seed) {
        RandomEdits random(seed);
        std::vector<Edit> edits;
        const JsonValue base = example();
        const JsonValue x = random.line(base, 5, edits), y = random.line(base, 5, edits);
        const JsonValue merged = merge_said(base, x, y);
        const std::vector<Unsettled> both = unsettled_of(merged);
        for (const JsonValue* side : {&x, &y}) {
            for (const Edit& e : edits_between(base, *side)) {
                if (!e.shall || e.field.empty() || e.field == "@order") continue;
                const std::optional<JsonValue> stands = value_at(merged, e.target, e.field);
                const bool there = stands && *stands == *e.shall;
                const bool shown_beside = std::any_of(both.begin(), both.end(), [&](const Unsettled& u) {
                    return u.target == e.target && u.field == e.field && u.other == e.shall;
                });
                const bool whole = std::any_of(both.begin(), both.end(), [&](const Unsettled& u) {
                    return u.other && e.target.rfind(u.target, 0) == 0;
                });
                EXPECT_TRUE(there || shown_beside || whole)
                    << "seed " << seed << " " << e.target << " " << e.field;
            }
        }
    }
}

}  // namespace
}  // namespace spile
