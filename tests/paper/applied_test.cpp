// What is put on a panel, as the papers give it to the hand: where it is set, mirrored when the back is marked.
#include <gtest/gtest.h>

#include <algorithm>

#include "core/paper/applied_words.h"
#include "core/paper/marking_parts.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

struct Set {
    std::vector<Panel> panels;
    std::vector<Piece> pieces;
    std::vector<AppliedPiece> applied;
    FinishSettings settings;
    Goods goods;

    /// A mat 900 x 600 bound, a pad on the face, a round patch of other goods on the back.
    Set() {
        PanelInput in;
        in.id = "1";
        in.size_x_mm = 900;
        in.size_y_mm = 600;
        in.mat_finish = Finish::sealed;
        AppliedPlan pad, patch;
        pad.id = "helm";
        pad.centre_mm = {300, 200};
        pad.length_mm = 200;
        pad.width_mm = 100;
        patch.id = "grip";
        patch.kind = AppliedPlan::Kind::non_slip_patch;
        patch.on_back = patch.stuck = true;
        patch.centre_mm = {700, 400};
        patch.diameter_mm = 150;
        patch.goods = "mesh";
        patch.goods_width_mm = 1200;
        in.applied = {pad, patch};
        panels = *shaped({in}, rectangle_survey(1, 1), settings);
        pieces = *edge_pieces(panels, settings, RunContext{});
        applied = *edge_applied(panels, pieces, settings, RunContext{});
    }

    PaperInput input(bool on_back) const {
        PaperInput in;
        in.lengths = {Unit::mm};
        in.bench_paper = a4();
        in.mark_on_back = on_back;
        in.goods = &goods;
        in.finish = &settings;
        in.panels = &panels;
        in.pieces = &pieces;
        in.applied = &applied;
        return in;
    }
};

std::string words_of(const Sheet& sheet) {
    std::string all;
    for (const Page& page : sheet.pages)
        for (const Item& item : page.items)
            if (const Text* text = std::get_if<Text>(&item)) all += text->utf8 + "\n";
    return all;
}

TEST(AppliedOnPaper, ItsCornersStandInTheRunningSizesMirroredOnTheBack) {
    const Set set;
    for (const bool on_back : {false, true}) {
        const PaperInput in = set.input(on_back);
        const paper::MarkingPlan plan =
            paper::plan_marking(set.pieces[0], paper::marking_options(in, set.pieces[0]));
        ASSERT_EQ(plan.sets.size(), 2u);
        const paper::PlanSet& pad = plan.sets[0];
        EXPECT_EQ(pad.name, "1a");
        EXPECT_EQ(pad.on_marked_side, !on_back);
        ASSERT_EQ(pad.marks.size(), 4u);
        // The datum is the long edge that has the mat on one side; by hand for a mat that lies along it.
        const Box box = box_of(pad.line);
        EXPECT_NEAR(box.width() * box.height(), 200 * 100, 1e-6);
        for (const paper::PlanMark& m : pad.marks)
            EXPECT_NEAR(nearest_on(pad.line, m.true_mm).distance, 0, 1e-9);
        // Marks of the piece and of what is set keep their places to one another: back and face differ by the mirror alone.
        const Vec2 corner = plan.marks[plan.lines[0].strokes[0].from].true_mm;
        const Vec2 off = box.min - corner;
        EXPECT_GE(off.x, 0);
        const paper::PlanSet& patch = plan.sets[1];
        ASSERT_TRUE(patch.radius);
        EXPECT_NEAR(patch.radius->printed_mm, 75, 0.3);
        // From pad to patch, one turns left seen from the face, right seen from the back.
        const Vec2 to_bow = plan.view.to_bow, to_patch = patch.marks[0].true_mm - 0.5 * (box.min + box.max);
        EXPECT_EQ(cross(to_bow, to_patch) > 0, !on_back);
        const auto rows = paper::rows_of(plan);
        const char *pad_row = on_back ? "SET 1a, ON FACE" : "SET 1a",
                   *patch_row = on_back ? "SET 1b" : "SET 1b, ON BACK";
        for (const char* mark : {pad_row, "a1", "a4", patch_row, "b1"})
            EXPECT_EQ(std::count_if(rows.begin(), rows.end(), [&](const auto& r) { return r.mark == mark; }),
                      1)
                << mark;
    }
}

TEST(AppliedOnPaper, EverySheetThatNeedsItNamesIt) {
    const Set set;
    const PaperInput in = set.input(true);
    const std::string applied = words_of(applied_sheet(in));
    for (const char* words : {"1a", "1b", "heel pad helm", "mesh", "BACK", "FACE"})
        EXPECT_NE(applied.find(words), std::string::npos) << words << " not in\n" << applied;
    EXPECT_NE(words_of(ticket(in)).find("1a heel pad helm"), std::string::npos);
    EXPECT_NE(words_of(label_sheet(in)).find("1b"), std::string::npos);
    EXPECT_NE(words_of(customer_sheet(in)).find("heel pad helm"), std::string::npos);
    const std::string sewing = words_of(sewing_sheet(in));
    EXPECT_NE(sewing.find("sewn on, 1a"), std::string::npos) << sewing;
    const std::string marking = words_of(marking_sheet(in, set.applied[0].piece));
    EXPECT_NE(marking.find("1a"), std::string::npos);
    EXPECT_NE(marking.find("raw all round"), std::string::npos);
    // Only what is of the panel's goods is cut from them.
    EXPECT_EQ(cut_from_goods(in).size(), 2u);
    EXPECT_EQ(all_pieces(in).size(), 3u);
    EXPECT_TRUE(is_cut_by_sizes(set.applied[0]));
}

}  // namespace
}  // namespace spile
