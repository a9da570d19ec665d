// Edits: applied, taken back, found again between two documents, refused when they do not fit.
#include "core/job/edit.h"

#include <gtest/gtest.h>

#include "tests/job/random_edits.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

JsonValue settled(const std::string& text) {
    return settled_form(*parse_json(text));
}

JsonValue example(const char* name = "cockpit") {
    return settled(read_file(std::string(SPILE_SOURCE_DIR) + "/examples/" + name + ".json"));
}

Edit edit(const std::string& target, const std::string& field, const char* was, const char* shall) {
    Edit e;
    e.target = target;
    e.field = field;
    if (was) e.was = *parse_json(was);
    if (shall) e.shall = *parse_json(shall);
    return e;
}

JsonValue small() {
    return settled(small_job());
}

TEST(Edit, changes_one_field_of_one_thing) {
    const JsonValue before = small();
    const Result<JsonValue> after =
        apply_edits(before, {edit("/spaces/cockpit/ties/t1", "line", "\"A B 96 1/4\"", "\"A B 95 1/4\"")});
    ASSERT_TRUE(after) << shown(after.findings);
    std::string text = write_said(before);
    const std::size_t at = text.find("A B 96 1/4");
    EXPECT_EQ(write_said(*after), text.replace(at, 10, "A B 95 1/4"));
}

TEST(Edit, groups_on_the_way_are_made_and_go_again) {
    const JsonValue before = small();
    const std::vector<Edit> edits = {edit("/panels/1/edges/B A", "finish", nullptr, "\"turned\""),
                                     edit("/panels/1/edges/A B", "situation", nullptr, "\"lid\""),
                                     edit("/goods", "width", nullptr, "72"),
                                     edit("/spaces/cockpit/tape", "hook", nullptr, "true")};
    const Result<JsonValue> after = apply_edits(before, edits);
    ASSERT_TRUE(after) << shown(after.findings);
    const Result<Job> job = job_from_said(*after);
    ASSERT_TRUE(job);
    EXPECT_TRUE(job.findings.empty()) << shown(job.findings);
    EXPECT_EQ(job->panels[0].edges[0].finish, Finish::turned);
    EXPECT_EQ(job->panels[0].edges[0].situation, Situation::lid) << "an edge is the same either way round";
    EXPECT_TRUE(job->spaces[0].tape.hook);
    EXPECT_EQ(write_said(*apply_edits(*after, inverse(edits))), write_said(before));
}

TEST(Edit, entries_come_behind_the_one_they_name) {
    JsonValue said = small();
    Edit add = edit("/spaces/cockpit/ties/n1", "", nullptr, R"({ "id": "n1", "line": "E A 40" })");
    const auto ids = [](const JsonValue& d) {
        std::string all;
        for (const JsonValue& tie : d.find("spaces")->items[0].find("ties")->items)
            all += tie.find("id")->text + " ";
        return all;
    };
    EXPECT_EQ(ids(*apply_edits(said, {add})), "t1 t2 t3 t4 t5 t6 n1 ");
    add.behind = "t2";
    EXPECT_EQ(ids(*apply_edits(said, {add})), "t1 t2 n1 t3 t4 t5 t6 ");
    add.behind = "";
    EXPECT_EQ(ids(*apply_edits(said, {add})), "n1 t1 t2 t3 t4 t5 t6 ");
    add.behind = "gone meanwhile";
    EXPECT_EQ(ids(*apply_edits(said, {add})), "t1 t2 t3 t4 t5 t6 n1 ");
}

TEST(Edit, what_does_not_fit_is_refused_as_a_whole_and_says_which) {
    const JsonValue said = small();
    const struct {
        Edit edit;
        const char* code;
    } cases[] = {
        {edit("/spaces/cockpit/ties/t1", "line", "\"A B 97\"", "\"A B 95\""), "edit-outdated"},
        {edit("/spaces/cockpit/ties/t9", "line", "\"A B 97\"", "\"A B 95\""), "edit-target"},
        {edit("/spaces/cabin/ties/t1", "line", nullptr, "\"A B 95\""), "edit-target"},
        {edit("/title/more", "x", nullptr, "1"), "edit-target"},
        {edit("spaces", "x", nullptr, "1"), "edit-target"},
        {edit("/a/~2", "x", nullptr, "1"), "edit-target"},
        {edit("/a/b/c/d/e/f/g/h", "x", nullptr, "1"), "edit-target"},
        {edit("/panels/1", "", "{}", nullptr), "edit-outdated"},
        {edit("/panels/1", "", nullptr, R"({ "id": "1" })"), "edit-outdated"},
        {edit("/panels/2", "", nullptr, R"({ "id": "3" })"), "edit-form"},
        {edit("/panels/2", "", nullptr, nullptr), "edit-form"},
        {edit("", "", nullptr, "1"), "edit-target"},
        {edit("", "spile", "1", "2"), "edit-form"},
        {edit("/panels", "@order", R"(["1"])", R"(["1", "1"])"), "edit-form"},
        {edit("/panels", "@order", R"(["2"])", R"(["1"])"), "edit-outdated"},
        {edit("/goods", "@order", "[]", "[]"), "edit-target"},
    };
    for (const auto& c : cases) {
        const Result<JsonValue> after = apply_edits(said, {edit("", "title", nullptr, "\"x\""), c.edit});
        ASSERT_FALSE(after) << c.edit.target;
        ASSERT_EQ(after.findings.size(), 1u);
        EXPECT_EQ(after.findings[0].code, c.code) << c.edit.target << " " << c.edit.field;
        EXPECT_EQ(after.findings[0].where, "edit 2");
    }
    EXPECT_EQ(apply_edits(said, std::vector<Edit>(most_edits + 1)).findings[0].code, "too-many-edits");
}

TEST(Edit, numbers_are_the_same_whatever_their_digits) {
    const JsonValue said = settled(R"({ "spile": 1, "units": "in", "goods": { "width": 72.50 } })");
    EXPECT_TRUE(apply_edits(said, {edit("/goods", "width", "72.5", "60")}));
}

TEST(Edit, settled_form_is_settled_and_says_the_same) {
    for (const auto& path : good_jobs()) {
        const Result<Job> job = read_job(read_file(path));
        const JsonValue once = settled_form(job->said);
        EXPECT_EQ(write_said(settled_form(once)), write_said(once)) << path;
        EXPECT_EQ(content_of(once), content_of(job->said)) << path;
    }
}

TEST(Edit, json_and_back) {
    std::vector<Edit> edits;
    RandomEdits(7).line(example(), 60, edits);
    ASSERT_GT(edits.size(), 30u);
    const Result<std::vector<Edit>> again = edits_from_json(edits_as_json(edits));
    ASSERT_TRUE(again);
    EXPECT_TRUE(*again == edits);
    const Result<std::vector<Edit>> bad = edits_from_json(*parse_json(R"([{ "target": 5 }, 7])"));
    EXPECT_FALSE(bad);
    EXPECT_EQ(bad.findings.size(), 4u);
    EXPECT_FALSE(edits_from_json(*parse_json("{}")));
}

TEST(EditProperties, inverse_takes_every_line_back) {
    for (unsigned seed = 1; seed <= 60; ++seed) {
        const JsonValue before = example(seed % 2 ? "cockpit" : "cabin-mm");
        std::vector<Edit> edits;
        const JsonValue after = RandomEdits(seed).line(before, 12, edits);
        const Result<JsonValue> again = apply_edits(before, edits);
        ASSERT_TRUE(again) << "seed " << seed << shown(again.findings);
        EXPECT_EQ(write_said(*again), write_said(after)) << "seed " << seed;
        const Result<JsonValue> back = apply_edits(after, inverse(edits));
        ASSERT_TRUE(back) << "seed " << seed << shown(back.findings);
        EXPECT_EQ(write_said(*back), write_said(before)) << "seed " << seed;
    }
}

TEST(EditProperties, what_lies_between_leads_there_and_back) {
    for (unsigned seed = 1; seed <= 60; ++seed) {
        std::vector<Edit> edits;
        RandomEdits random(seed);
        const JsonValue one = random.line(example(), 10, edits), two = random.line(one, 10, edits);
        const std::vector<Edit> between = edits_between(one, two);
        const Result<JsonValue> there = apply_edits(one, between);
        ASSERT_TRUE(there) << "seed " << seed << shown(there.findings);
        EXPECT_EQ(write_said(*there), write_said(two)) << "seed " << seed;
        const Result<JsonValue> back = apply_edits(two, inverse(between));
        ASSERT_TRUE(back) << "seed " << seed << shown(back.findings);
        EXPECT_EQ(write_said(*back), write_said(one)) << "seed " << seed;
        EXPECT_TRUE(edits_between(one, one).empty());
    }
}

}  // namespace
}  // namespace spile
