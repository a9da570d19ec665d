// Openings that are not round, new snaps and flaps that hang loose, as the papers give them to the hand.
#include <gtest/gtest.h>

#include <algorithm>

#include "core/paper/aboard.h"
#include "core/paper/flap_words.h"
#include "core/paper/marking_parts.h"
#include "tests/shape/panels.h"

namespace spile {
namespace {
using namespace testing_panels;

/// A mat 900 x 600 with a box and a slot-like one in it, and snaps by rule.
Piece mat_with_openings(const FinishSettings& settings) {
    PanelInput in;
    in.id = "1";
    in.size_x_mm = 900;
    in.size_y_mm = 600;
    in.mat_finish = Finish::turned;
    const auto box = [](const char* id, Vec2 at, double length, double width, double radius, double turn) {
        OpeningPlan o = box_opening(length, width, radius, Finish::turned, id);
        o.centre_mm = at;
        o.turn_deg = turn;
        return o;
    };
    in.openings = {box("hatch", {250, 300}, 200, 140, 30, 0), box("rail", {640, 300}, 260, 90, 45, 35)};
    in.stud_rule = StudRule{0, 22};
    const auto panels = shaped({in}, rectangle_survey(1, 1), settings);
    const auto pieces = edge_pieces(*panels, settings, RunContext{});
    EXPECT_TRUE(pieces && pieces->size() == 1) << codes(pieces.findings);
    return pieces->front();
}

TEST(OpeningsOnPaper, AnyFormIsMarkedByItsOwnNumbers) {
    const FinishSettings settings;
    const Piece piece = mat_with_openings(settings);
    for (const bool on_back : {true, false}) {
        paper::MarkingOptions options;
        options.on_back = on_back;
        const paper::MarkingPlan plan = paper::plan_marking(piece, options);
        EXPECT_TRUE(plan.holes.empty());  // no circles to swing
        for (const char* id : {"hatch", "rail"}) {
            int cut_through = 0, backing_only = 0;
            for (const paper::PlanLine& line : plan.lines) {
                if (!line.hole || line.name != id) continue;
                (line.cut == paper::Cut::through ? cut_through : backing_only)++;
                EXPECT_LE(line.departure_mm, options.departure.mm);
                EXPECT_LE(paper::departure_between(paper::drawn_from_numbers(plan, line), line.true_edges,
                                                   Resolution{0.1}),
                          options.departure.mm + 0.1);
            }
            EXPECT_EQ(cut_through, 1) << id;
            EXPECT_EQ(backing_only, 1) << id;
        }
        PaperInput input;
        input.finish = &settings;
        input.mark_on_back = on_back;
        std::string all;
        for (const std::string& step : paper::steps_of(plan, piece, input)) all += step + "\n";
        for (const char* words : {"hatch", "rail", "Cut holes first", "New snaps"})
            EXPECT_NE(all.find(words), std::string::npos) << words << " not in\n" << all;
        EXPECT_EQ(all.find("never holed on the bench"), std::string::npos);
        const auto rows = paper::rows_of(plan);
        EXPECT_EQ(std::count_if(rows.begin(), rows.end(), [](const auto& r) { return r.mark == "n1"; }), 1);
    }
}

TEST(OpeningsOnPaper, NewSnapsAndStudsOfTheBoatAreTwoThings) {
    Piece piece = mat_with_openings({});
    piece.studs.push_back({"S", {100, 100}});
    EXPECT_EQ(paper::stud_names(piece, true), (std::vector<std::string>{"n1", "n2", "n3", "n4"}));
    EXPECT_EQ(paper::stud_names(piece, false), std::vector<std::string>{"S"});
}

TEST(OpeningsOnPaper, AFlapThatHangsLooseIsSaid) {
    // Common practice, no source: an inch-wide flap sewn at 1/4 in hangs loose by 3/4 in.
    FinishSettings settings;
    PaperInput input;
    input.finish = &settings;
    const auto words = [&] {
        std::string all;
        for (const std::string& step : paper::turning_steps(input, mat_with_openings(settings)))
            all += step + "\n";
        return all;
    };
    EXPECT_NE(words().find("of flap hangs loose"), std::string::npos) << words();
    settings.turn_mm = 19;  // 12.65 beyond the stitches: no more than lies before them twice over
    EXPECT_EQ(words().find("hangs loose"), std::string::npos) << words();
}

}  // namespace
}  // namespace spile
