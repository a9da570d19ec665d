// Applied pieces on their way through a job: laid out with the panels, or counted off goods of their own; edits and merges.
#include <gtest/gtest.h>

#include "core/job/edit.h"
#include "core/job/fingerprint.h"
#include "core/job/run_job.h"
#include "core/layout/solve/solve.h"
#include "tests/job/support.h"

namespace spile {
namespace {

using namespace spile::testing;

std::string mat_with(const std::string& applied, const std::string& more = "") {
    return R"({ "spile": 1, "units": "in", "mark_on": "back", "goods": { "name": "vinyl", "width": 72, "thickness": "3/16" })" +
           more +
           R"(, "panels": [{ "id": "m", "name": "mat", "mat": "36 x 24, bound", "corner_radius": 2, "applied": [)" +
           applied + "] }] }";
}

const char* const pad =
    R"({ "id": "helm", "kind": "heel pad", "at": "18 x 12", "size": "16 x 11", "radius": 1 })";
const char* const patch =
    R"({ "id": "grip", "kind": "non-slip patch", "at": "6 x 6", "diameter": 6, "held": "stuck", "goods": "mesh", "goods_width": 48 })";

Job read(const std::string& text) {
    Result<Job> job = read_job(text);
    EXPECT_TRUE(job && job.findings.empty()) << shown(job.findings);
    return job ? *job : Job{};
}

Derived run(const Job& job) {
    return run_job(job,
                   [](const std::vector<LayoutPiece>& pieces, const Goods& goods, const RunContext& context) {
                       return solve_layout(pieces, goods, {}, context);
                   },
                   {});
}

TEST(AppliedJob, own_goods_are_laid_out_and_others_counted) {
    const Derived d = run(read(mat_with(std::string(pad) + ", " + patch)));
    EXPECT_FALSE(has_stop(d.findings)) << shown(d.findings);
    ASSERT_TRUE(d.layout);
    ASSERT_EQ(d.layout->placements.size(), 2u);
    EXPECT_EQ(d.layout->placements[0].piece, "m");
    EXPECT_EQ(d.layout->placements[1].piece, "m/helm");
    ASSERT_TRUE(d.takeoff);
    std::vector<std::string> materials, work;
    for (const QuantityLine& line : d.takeoff->materials) materials.push_back(line.code);
    for (const QuantityLine& line : d.takeoff->work) work.push_back(line.code);
    for (const char* code : {"goods", "other-goods", "adhesive"})
        EXPECT_EQ(std::count(materials.begin(), materials.end(), code), 1) << code;
    for (const char* code : {"applied-sewn", "applied-stuck"})
        EXPECT_EQ(std::count(work.begin(), work.end(), code), 1) << code;
}

TEST(AppliedJob, what_is_kept_of_a_layout_holds_them_too_and_their_size_is_among_its_inputs) {
    Job job = read(mat_with(pad));
    const Derived d = run(job);
    ASSERT_TRUE(d.layout);
    std::string placements;
    for (const Placement& p : d.layout->placements)
        placements += (placements.empty() ? "" : ", ") + std::string(R"({ "piece": ")") + p.piece +
                      R"(", "x_um": )" + std::to_string(p.x_um) + R"(, "y_um": )" + std::to_string(p.y_um) +
                      " }";
    const std::string kept = R"(, "kept_layout": { "placements": [)" + placements + R"(], "fingerprint": ")" +
                             layout_fingerprint(job) + R"(" })";
    const Derived again = run_job(read(mat_with(pad, kept)), {}, {});
    ASSERT_TRUE(again.layout) << shown(again.findings);
    EXPECT_EQ(again.layout->placements, d.layout->placements);
    EXPECT_FALSE(find_code(again.findings, "layout-changed"));
    std::string wider = pad;
    wider.replace(wider.find("16 x 11"), 7, "16 x 12");
    EXPECT_NE(layout_fingerprint(read(mat_with(wider))), layout_fingerprint(job));
}

TEST(AppliedJob, one_field_of_one_piece_is_an_edit_of_its_own) {
    const Job before = read(mat_with(std::string(pad) + ", " + patch));
    std::string other = patch;
    other.replace(other.find("\"diameter\": 6"), 13, "\"diameter\": 5");
    const Job after = read(mat_with(std::string(pad) + ", " + other));
    const std::vector<Edit> edits = edits_between(before.said, after.said);
    ASSERT_EQ(edits.size(), 1u);
    EXPECT_EQ(edits[0].target, "/panels/m/applied/grip");
    EXPECT_EQ(edits[0].field, "diameter");
}

TEST(AppliedJob, what_lies_under_a_lid_counts_in_its_stack) {
    const auto findings = [](const std::string& applied) {
        return run_job(
                   read(
                       R"({ "spile": 1, "units": "mm", "mark_on": "back", "goods": { "width": 1800, "thickness": 5 },
      "spaces": [{ "id": "sole", "walk": ["A", "B", "C", "D"], "bow": ["A", "B"],
        "ties": ["A B 1500", "B C 1000", "C D 1500", "D A 1000", "A C 1803", "B D 1803", "B height 9"] }],
      "panels": [{ "id": "1", "corners": ["A", "B", "C", "D"], "finish": "sealed", "edges": { "B C": { "situation": "lid" } },
        "applied": [)" +
                       applied + "] }] }"),
                   {}, {})
            .findings;
    };
    EXPECT_FALSE(find_code(findings(""), "lid-too-low"));
    const std::string strip =
        R"({ "id": "sill", "kind": "facing strip", "edge": "B C", "width": 50, "from_edge": )";
    const std::vector<Finding> found = findings(strip + "10 }");
    const Finding* f = find_code(found, "lid-too-low");
    ASSERT_TRUE(f) << shown(found);
    EXPECT_EQ(f->numbers[0].value, 10);  // twice the goods, by hand
    EXPECT_NE(f->says.find("with the facing strip \"sill\" on it"), std::string::npos) << f->says;
    EXPECT_FALSE(find_code(findings(strip + "80 }"), "lid-too-low"));  // 2 in and more away
}

}  // namespace
}  // namespace spile
