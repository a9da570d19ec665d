// The stages in their order: all findings collected, overrides, the kept layout, and what is shown when something is wrong.
#include "core/job/run_job.h"

#include <gtest/gtest.h>

#include "core/job/decisions.h"
#include "core/layout/solve/solve.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

Result<Layout> solve(const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& run) {
    return solve_layout(pieces, goods, {}, run);
}

Job read(const std::string& text) {
    Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return job ? *job : Job{};
}

Derived run(const Job& job) {
    return run_job(job, solve, {});
}

const char* const goods_72 = R"("goods": { "width": 74 }, )";
const char* const rounded = R"("corners": ["A", "B", "C", "D"], "corner_radius": 2)";
/// A stop that a person may override: the corner has no room for its radius and stays square.
const char* const with_stop =
    R"("corners": ["A", "B", { "at": "C", "radius": 80 }, "D"], "corner_radius": 2)";

class BadJobRun : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(BadJobRun, finds_what_it_must_and_cuts_nothing_past_a_stop) {
    const std::string text = read_file(GetParam());
    const Result<Job> job = read_job(text);
    if (!job) return;
    const Derived derived = run(*job);
    for (const Expected& e : expected_of(text, "then")) {
        const bool found =
            std::any_of(derived.findings.begin(), derived.findings.end(), [&e](const Finding& f) {
                return f.code == e.code && f.subject.id == e.place && has_words(f, e.words);
            });
        EXPECT_TRUE(found) << e.code << " about \"" << e.place << "\" is not among\n"
                           << shown(derived.findings);
    }
    for (const Finding& fault : job->faults) {
        EXPECT_TRUE(find_code(derived.findings, fault.code)) << fault.code;
    }
    EXPECT_EQ(derived.may_cut(), !has_stop(derived.findings));
    EXPECT_FALSE(derived.may_cut() && has_stop(job->faults));
    for (const Finding& f : derived.findings) EXPECT_FALSE(f.says.empty() || f.to_do.empty()) << f.code;
}

INSTANTIATE_TEST_SUITE_P(tests_bad, BadJobRun, ::testing::ValuesIn(jobs_in("tests/bad")),
                         [](const auto& file) {
                             std::string name = file.param.stem().string();
                             std::replace(name.begin(), name.end(), '-', '_');
                             return name;
                         });

TEST(RunJob, the_examples_can_be_cut) {
    for (const auto& path : jobs_in("examples")) {
        const Derived derived = run(read(read_file(path)));
        EXPECT_TRUE(derived.may_cut()) << shown(derived.findings);
        EXPECT_TRUE(derived.layout) << path;
        EXPECT_TRUE(derived.takeoff) << path;
    }
}

TEST(RunJob, good_jobs_of_every_key_run_to_the_end) {
    for (const auto& path : good_jobs()) {
        const Derived derived = run(read(read_file(path)));
        for (const Finding& f : derived.findings)
            EXPECT_FALSE(f.says.empty() || f.to_do.empty()) << path << f.code;
    }
}

TEST(RunJob, gives_the_same_twice) {
    const Job job = read(read_file(std::string(SPILE_SOURCE_DIR) + "/examples/cockpit.json"));
    const Derived a = run(job), b = run(job);
    EXPECT_EQ(shown(a.findings), shown(b.findings));
    ASSERT_TRUE(a.layout && b.layout);
    EXPECT_EQ(a.layout->placements, b.layout->placements);
    ASSERT_EQ(a.pieces.size(), b.pieces.size());
    for (std::size_t i = 0; i < a.pieces.size(); ++i)
        EXPECT_EQ(a.pieces[i].cut.face.outer, b.pieces[i].cut.face.outer);
}

TEST(RunJob, a_job_without_panels_is_measured_only) {
    const Derived derived =
        run(read(read_file(std::string(SPILE_SOURCE_DIR) + "/tests/job/good/units-from-spaces.json")));
    EXPECT_EQ(derived.surveys.size(), 1u);
    EXPECT_TRUE(derived.surveys.at("cockpit").fixed);
    EXPECT_TRUE(derived.pieces.empty());
    EXPECT_FALSE(derived.layout);
    EXPECT_FALSE(find_code(derived.findings, "goods-missing"));
}

TEST(RunJob, a_stop_does_not_keep_the_drawing_away) {
    const Derived derived = run(read(small_job(goods_72, with_stop)));
    EXPECT_FALSE(derived.may_cut());
    EXPECT_EQ(derived.pieces.size(), 1u);
    EXPECT_TRUE(derived.layout);
}

TEST(RunJob, nothing_is_laid_out_while_a_panel_is_missing) {
    const Result<Job> job = read_job(
        small_job(goods_72, std::string(rounded) + R"( }, { "id": "2", "corners": ["A", "B", "Z"])"));
    ASSERT_TRUE(job);
    const Derived derived = run(*job);
    EXPECT_EQ(derived.pieces.size(), 1u);
    EXPECT_FALSE(derived.layout);
    ASSERT_TRUE(find_code(derived.findings, "layout-waits"));
    EXPECT_TRUE(has_words(*find_code(derived.findings, "layout-waits"), "1 panel of 2"))
        << shown(derived.findings);
}

TEST(RunJob, findings_come_worst_first_and_the_documents_are_among_them) {
    const Result<Job> job = read_job(small_job(R"("colour": "sand", )", rounded));
    const Derived derived = run(*job);
    ASSERT_FALSE(derived.findings.empty());
    EXPECT_EQ(derived.findings[0].code, "unknown-key");
    for (std::size_t i = 1; i < derived.findings.size(); ++i)
        EXPECT_GE(derived.findings[i - 1].severity, derived.findings[i].severity);
}

TEST(RunJob, without_a_solver_only_a_kept_layout_is_used) {
    const Job job = read(small_job(goods_72, rounded));
    EXPECT_FALSE(run_job(job, {}, {}).layout);
    const Result<Job> kept = keep_layout(job, *run(job).layout);
    ASSERT_TRUE(kept);
    EXPECT_TRUE(run_job(*kept, {}, {}).layout);
}

TEST(RunJob, a_layout_of_the_solver_that_the_checker_refuses_is_dropped) {
    const Job job = read(small_job(goods_72, rounded));
    const Derived derived = run_job(job,
                                    [](const auto& pieces, const auto& goods, const auto& context) {
                                        Result<Layout> layout = solve(pieces, goods, context);
                                        layout->placements[0].y_um -= 10;  // 0.01 mm into the gap
                                        return layout;
                                    },
                                    {});
    EXPECT_FALSE(derived.layout);
    EXPECT_FALSE(derived.may_cut()) << shown(derived.findings);
}

TEST(RunJob, called_off_it_returns_in_order_and_nothing_may_be_cut) {
    std::atomic<bool> cancel{true};
    RunContext context;
    context.cancel = &cancel;
    const Derived derived = run_job(read(small_job(goods_72, rounded)), solve, context);
    EXPECT_TRUE(find_code(derived.findings, "cancelled"));
    EXPECT_FALSE(derived.may_cut());
}

// Overrides

TEST(Overrides, a_stop_overridden_by_name_passes_with_its_reason) {
    const Job job = read(small_job(goods_72, with_stop));
    const Derived before = run(job);
    const Finding* stop = find_code(before.findings, "corner-without-room");
    ASSERT_TRUE(stop);
    const Result<Job> overridden = override_stop(job, *stop, "rounded by hand aboard");
    ASSERT_TRUE(overridden && overridden.findings.empty()) << shown(overridden.findings);
    const Derived after = run(*overridden);
    EXPECT_TRUE(after.may_cut()) << shown(after.findings);
    ASSERT_EQ(after.overridden.size(), 1u);
    EXPECT_EQ(after.overridden[0].code, "corner-without-room");
    EXPECT_EQ(after.override_reasons.at(0), "rounded by hand aboard");
    const PaperInput papers = paper_input(*overridden, after);
    EXPECT_EQ(papers.overrides, std::vector<std::string>{"corner-without-room, 1/C: rounded by hand aboard"});
}

TEST(Overrides, a_stop_comes_back_when_what_it_was_judged_on_changes) {
    const Job job = read(small_job(goods_72, with_stop));
    Job overridden = *override_stop(job, *find_code(run(job).findings, "corner-without-room"), "by hand");
    JsonValue said = overridden.said;
    said.find("panels")->items[0].set("corner_radius", JsonValue::of_whole(3));
    const Result<Job> changed = job_from_said(said);
    const Derived derived = run(*changed);
    EXPECT_FALSE(derived.may_cut());
    EXPECT_TRUE(find_code(derived.findings, "corner-without-room"));
    ASSERT_TRUE(find_code(derived.findings, "override-outdated"));
    EXPECT_TRUE(has_words(*find_code(derived.findings, "override-outdated"), "by hand"));
    EXPECT_TRUE(derived.overridden.empty());
}

TEST(Overrides, a_change_elsewhere_leaves_it_standing) {
    const Job job = read(small_job(goods_72, with_stop));
    Job overridden = *override_stop(job, *find_code(run(job).findings, "corner-without-room"), "by hand");
    JsonValue said = overridden.said;
    said.set("title", JsonValue::of_text("Another title"));
    said.find("goods")->set("gap", JsonValue::of_text("1/8"));
    said.find("panels")->items[0].set("name", JsonValue::of_text("main"));
    EXPECT_TRUE(run(*job_from_said(said)).may_cut());
}

TEST(Overrides, without_a_fingerprint_it_passes_whatever_the_sizes_are) {
    const std::string text = small_job(R"("goods": { "width": 74 },
        "overrides": [{ "code": "corner-without-room", "subject": "1/C", "reason": "by hand" }], )",
                                       with_stop);
    EXPECT_TRUE(run(read(text)).may_cut());
}

TEST(Overrides, one_that_answers_nothing_is_noted) {
    const std::string text = small_job(R"("goods": { "width": 74 },
        "overrides": [{ "code": "corner-without-room", "subject": "1/Z", "reason": "by hand" }], )",
                                       rounded);
    const Derived derived = run(read(text));
    ASSERT_TRUE(find_code(derived.findings, "override-unused")) << shown(derived.findings);
    EXPECT_EQ(find_code(derived.findings, "override-unused")->severity, Severity::note);
}

TEST(Overrides, a_fault_of_the_file_cannot_be_overridden) {
    const Result<Job> job = read_job(small_job(R"("goods": { "width": 74 }, "colour": "sand",
        "overrides": [{ "code": "unknown-key", "subject": "", "reason": "I like it" }], )",
                                               rounded));
    ASSERT_TRUE(job);
    const Derived derived = run(*job);
    EXPECT_FALSE(derived.may_cut());
    EXPECT_TRUE(find_code(derived.findings, "unknown-key"));
    EXPECT_TRUE(find_code(derived.findings, "override-of-fault"));
}

TEST(Overrides, an_empty_reason_is_a_fault) {
    const Job job = read(small_job(goods_72, with_stop));
    const Result<Job> overridden =
        override_stop(job, *find_code(run(job).findings, "corner-without-room"), "");
    ASSERT_TRUE(overridden);
    EXPECT_TRUE(find_code(overridden.findings, "override-without-reason"));
    EXPECT_FALSE(run(*overridden).may_cut());
}

TEST(Overrides, giving_one_again_replaces_it) {
    const Job job = read(small_job(goods_72, with_stop));
    const Finding stop = *find_code(run(job).findings, "corner-without-room");
    const Job twice = *override_stop(*override_stop(job, stop, "first"), stop, "second");
    ASSERT_EQ(twice.overrides.size(), 1u);
    EXPECT_EQ(twice.overrides[0].reason, "second");
}

// The kept layout

TEST(KeptLayout, is_used_as_it_is_while_it_is_current) {
    const Job job = read(small_job(goods_72, rounded));
    Layout layout = *run(job).layout;
    layout.placements[0].x_um += 5'000;  // a place the solver would not choose
    measure_layout({{"1", run(job).pieces[0].cut.face}}, job.goods, layout);
    const Job kept = *keep_layout(job, layout);
    const Derived derived = run(kept);
    ASSERT_TRUE(derived.layout);
    EXPECT_EQ(derived.layout->placements, layout.placements);
    EXPECT_DOUBLE_EQ(derived.layout->used_mm, layout.used_mm);
    EXPECT_DOUBLE_EQ(derived.layout->bought_mm, layout.bought_mm);
    EXPECT_FALSE(find_code(derived.findings, "kept-layout-changed"));
    EXPECT_FALSE(find_code(derived.findings, "kept-layout-stale"));
    const Result<Job> again = read_job(write_job(kept));
    EXPECT_EQ(run(*again).layout->placements, layout.placements);
}

TEST(KeptLayout, changed_but_still_legal_is_said) {
    const Job kept =
        *keep_layout(read(small_job(goods_72, rounded)), *run(read(small_job(goods_72, rounded))).layout);
    JsonValue said = kept.said;
    said.find("panels")->items[0].set("corner_radius",
                                      JsonValue::of_whole(3));  // the piece only loses its corners
    const Derived derived = run(*job_from_said(said));
    ASSERT_TRUE(derived.layout);
    EXPECT_EQ(derived.layout->placements, kept.kept_layout->placements);
    ASSERT_TRUE(find_code(derived.findings, "kept-layout-changed")) << shown(derived.findings);
    EXPECT_EQ(find_code(derived.findings, "kept-layout-changed")->severity, Severity::look);
    EXPECT_TRUE(derived.may_cut());
}

TEST(KeptLayout, stale_is_said_and_laid_out_anew) {
    const Job kept =
        *keep_layout(read(small_job(goods_72, rounded)), *run(read(small_job(goods_72, rounded))).layout);
    JsonValue said = kept.said;
    said.find("goods")->set("gap", JsonValue::of_text("1"));
    const Derived derived = run(*job_from_said(said));
    ASSERT_TRUE(find_code(derived.findings, "kept-layout-stale")) << shown(derived.findings);
    EXPECT_EQ(find_code(derived.findings, "kept-layout-stale")->severity, Severity::look);
    ASSERT_TRUE(derived.layout);
    EXPECT_NE(derived.layout->placements, kept.kept_layout->placements);
    EXPECT_TRUE(derived.may_cut());
}

TEST(KeptLayout, of_other_pieces_is_stale) {
    const std::string text = small_job(R"("goods": { "width": 74 },
        "kept_layout": { "placements": [{ "piece": "7", "x_um": 6350, "y_um": 6350 }] }, )",
                                       rounded);
    const Derived derived = run(read(text));
    EXPECT_TRUE(find_code(derived.findings, "kept-layout-stale")) << shown(derived.findings);
    EXPECT_TRUE(derived.layout);
}

TEST(KeptLayout, written_by_hand_is_checked_and_said) {
    const std::string text = small_job(R"("goods": { "width": 74 },
        "kept_layout": { "placements": [{ "piece": "1", "x_um": 6350, "y_um": 6350 }] }, )",
                                       rounded);
    const Derived derived = run(read(text));
    ASSERT_TRUE(derived.layout);
    ASSERT_TRUE(find_code(derived.findings, "kept-layout-changed"));
    EXPECT_TRUE(has_words(*find_code(derived.findings, "kept-layout-changed"), "by hand"));
}

// A splice right across at 50 in: the sole of 96 in lies behind it, and what that costs is said.
TEST(Layout, that_lies_behind_a_flaw_says_so) {
    const Derived derived = run(read(small_job(
        R"("goods": { "width": 74, "flaws": [{ "name": "splice", "from": 48, "to": 50 }] }, )", rounded)));
    ASSERT_TRUE(derived.layout);
    const Finding* f = find_code(derived.findings, "flaw-before-all");
    ASSERT_TRUE(f) << shown(derived.findings);
    EXPECT_EQ(f->severity, Severity::look);
    EXPECT_TRUE(has_words(*f, "behind flaw splice, which ends 50 in")) << f->says;
    EXPECT_TRUE(has_words(*f, "then 108 in will do")) << f->to_do;
    EXPECT_FALSE(find_code(run(read(small_job(goods_72, rounded))).findings, "flaw-before-all"));
}

TEST(Papers, get_what_the_job_says) {
    const Job job = read(small_job(goods_72, rounded));
    const Derived derived = run(job);
    const PaperInput in = paper_input(job, derived);
    EXPECT_TRUE(in.mark_on_back);
    EXPECT_EQ(in.bench_paper.name, "Letter");
    EXPECT_EQ(in.lengths.unit, Unit::inch);
    EXPECT_EQ(in.goods, &job.goods);
    EXPECT_EQ(in.layout, &*derived.layout);
    EXPECT_EQ(in.takeoff, &*derived.takeoff);
    EXPECT_TRUE(in.overrides.empty());
}

}  // namespace
}  // namespace spile
