// Joint lines of a space, and panels that end at them.
#include <gtest/gtest.h>

#include "core/geom/measure_of.h"
#include "core/job/fingerprint.h"
#include "core/job/pattern_joints.h"
#include "core/job/run_job.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

/// 1500 x 1000 with P and Q in the middle of its long sides; `joint` into the space, `panels` as a list.
std::string job_with(const std::string& joint, const std::string& panels) {
    return R"({ "spile": 1, "units": "mm", "mark_on": "back", "clearances": { "wall": 5, "reveal": 4 },
      "defaults": { "finish": "sealed" },
      "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 1500", "B C 1000", "C D 1500", "D A 1000", "A C 1802.8", "B D 1802.8",
                 "P on A B at 750", "Q on D C at 750"],
        "joints": [)" +
           joint + R"(] }],
      "panels": [)" +
           panels + R"(] })";
}

const std::string kJoint = R"({ "id": "centre", "through": ["P", "Q"] })";
const std::string kFore =
    R"({ "id": "fore", "corners": ["A", "B", "C", "D"], "cut_by": [{ "joint": "centre", "keep": "right" }] })";
const std::string kAft =
    R"({ "id": "aft", "corners": ["A", "B", "C", "D"], "cut_by": [{ "joint": "centre", "keep": "left" }] })";

Derived derived_from(const std::string& text) {
    const Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return job ? run_job(*job, {}, {}) : Derived{};
}

/// How far apart the net lines of two panels stand at the middle of the joint.
double gap_mm(const Derived& derived) {
    double sum = 0;
    for (const Panel& panel : derived.panels)
        sum += nearest_on(panel.net_line.unrounded, {750, 500}).distance;
    return sum;
}

TEST(Joints, both_neighbours_take_the_stored_line_and_its_reveal) {
    const Derived two = derived_from(job_with(kJoint, kFore + ", " + kAft));
    ASSERT_EQ(two.panels.size(), 2u) << shown(two.findings);
    EXPECT_NEAR(gap_mm(two), 4, 0.01);
    EXPECT_FALSE(find_code(two.findings, "shared-edge-disagrees")) << shown(two.findings);
    EXPECT_FALSE(find_code(two.findings, "joint-without-neighbour")) << shown(two.findings);
    ASSERT_EQ(two.pieces.size(), 2u);
    EXPECT_NEAR(two.pieces[0].area_mm2 + two.pieces[1].area_mm2, (1500.0 - 10 - 4) * (1000 - 10), 600);

    // The joint's own reveal, and a neighbour that is made already: nothing comes off it.
    const std::string made = R"({ "id": "centre", "through": ["P", "Q"], "reveal": 6, "finished": "fore" })";
    const Derived beside = derived_from(job_with(made, kFore + ", " + kAft));
    ASSERT_EQ(beside.panels.size(), 2u) << shown(beside.findings);
    EXPECT_NEAR(gap_mm(beside), 6, 0.01);
    EXPECT_NEAR(nearest_on(beside.panels[0].net_line.unrounded, {750, 500}).distance, 0, 0.01);
}

// 100 mm of repeat along: carried, the pattern meets at the joint; else it is out by what the two places leave.
TEST(Joints, say_how_far_the_pattern_is_out) {
    const auto with_goods = [](const std::string& repeat, const std::string& second) {
        std::string text = job_with(kJoint, kFore + ", " + kAft);
        text.insert(text.rfind('}'), R"(, "goods": { "width": 1200, "gap": 5, "repeat": )" + repeat + R"( },
            "kept_layout": { "placements": [{ "piece": "fore", "x_um": 10000, "y_um": 10000 },
                                            { "piece": "aft", )" +
                                         second + " }] }");
        const Result<Job> job = read_job(text);
        EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
        return job ? pattern_at_joints(*job, run_job(*job, {}, {})) : std::vector<PatternJoint>{};
    };
    const std::string as_it_comes = R"({ "along": 100, "carried": false })";
    const auto out = with_goods(as_it_comes, R"("x_um": 810000, "y_um": 10000)");
    ASSERT_EQ(out.size(), 1u);
    EXPECT_EQ(out[0].at, "joint centre");
    EXPECT_TRUE(out[0].known);
    // A repeat further it is out by the same, 30 mm further by 30 more (of whole repeats the nearest).
    const auto repeat_on = with_goods(as_it_comes, R"("x_um": 910000, "y_um": 10000)");
    EXPECT_NEAR(repeat_on.at(0).out_mm.x, out[0].out_mm.x, 1e-6);
    const auto further = with_goods(as_it_comes, R"("x_um": 840000, "y_um": 10000)");
    EXPECT_NEAR(pattern_out_mm({100, 0, 0}, further.at(0).out_mm - out[0].out_mm).x, 30, 1e-6);
    // Where the pattern is carried, no other layout passes.
    EXPECT_LT(std::fabs(out[0].out_mm.x), 50.0 + 1e-9);
    const std::string carried = R"({ "along": 100 })";
    const std::int64_t meets_um = 810'000 - std::llround(out[0].out_mm.x * 1000);
    const auto met = with_goods(carried, "\"x_um\": " + std::to_string(meets_um) + R"(, "y_um": 10000)");
    ASSERT_EQ(met.size(), 1u);
    EXPECT_NEAR(met[0].out_mm.x, 0, kPlacementRounding_mm);
    EXPECT_TRUE(
        with_goods(carried, "\"x_um\": " + std::to_string(meets_um + 10) + R"(, "y_um": 10000)").empty());
}

TEST(Joints, corners_at_both_ends_take_the_line_too) {
    const std::string fore =
        R"({ "id": "fore", "corners": ["P", "B", "C", "Q"], "edges": { "Q P": { "finish": "turned" } } })";
    const Derived two = derived_from(
        job_with(R"({ "id": "centre", "through": ["P", "Q"], "reveal": 8 })", fore + ", " + kAft));
    ASSERT_EQ(two.panels.size(), 2u) << shown(two.findings);
    EXPECT_NEAR(gap_mm(two), 8, 0.01);
    const EdgePlan& edge = two.panels[0].edges.back();
    EXPECT_EQ(edge.situation, Situation::joint);
    EXPECT_EQ(edge.finish, Finish::turned);
}

TEST(Joints, the_edge_is_spoken_of_by_the_ends_of_the_joint) {
    const std::string aft =
        R"({ "id": "aft", "corners": ["A", "B", "C", "D"], "cut_by": [{ "joint": "centre", "keep": "left" }],
        "edges": { "Q P": { "finish": "turned", "clearance": 9 } } })";
    const Derived one = derived_from(job_with(kJoint, aft));
    ASSERT_EQ(one.panels.size(), 1u) << shown(one.findings);
    int turned = 0;
    for (const EdgePlan& e : one.panels[0].edges) {
        if (e.finish != Finish::turned) continue;
        ++turned;
        EXPECT_EQ(e.clearance_mm, 9);
    }
    EXPECT_EQ(turned, 1);
}

TEST(Joints, faults_are_named) {
    const auto fault = [](const std::string& joint, const std::string& panels, const char* code) {
        const Result<Job> job = read_job(job_with(joint, panels));
        ASSERT_TRUE(job);
        const Finding* f = find_code(job.findings, code);
        ASSERT_TRUE(f) << code << " " << shown(job.findings);
        EXPECT_EQ(f->severity, Severity::stop);
        EXPECT_FALSE(f->where.empty());
    };
    fault(R"({ "id": "centre", "through": ["P"] })", "", "joint-two-points");
    fault(R"({ "id": "centre", "through": ["P", "X"] })", "", "missing-point");
    fault(R"({ "id": "centre", "through": ["P", "P"] })", "", "point-twice");
    fault(kJoint + ", " + kJoint, "", "id-twice");
    fault(R"({ "id": "center", "through": ["P", "Q"] })", kAft, "missing-joint");
    fault(kJoint, R"({ "id": "m", "mat": "600 x 900", "cut_by": [] })", "key-not-for-mats");
    fault(
        kJoint,
        R"({ "id": "1", "corners": ["A", "B", "C", "D"], "cut_by": [{ "joint": "centre", "keep": "port" }] })",
        "unknown-word");
}

TEST(Joints, a_joint_that_moves_brings_an_override_back) {
    const auto fingerprint = [](const std::string& joint) {
        const Result<Job> job = read_job(job_with(joint, kAft));
        EXPECT_TRUE(job);
        return job ? subject_fingerprint(*job, {"panel", "aft"}) : "";
    };
    EXPECT_EQ(fingerprint(kJoint), fingerprint(kJoint));
    EXPECT_NE(fingerprint(kJoint), fingerprint(R"({ "id": "centre", "through": ["P", "C"] })"));
    EXPECT_NE(fingerprint(kJoint), fingerprint(R"({ "id": "centre", "through": ["P", "Q"], "reveal": 5 })"));
}

}  // namespace
}  // namespace spile
