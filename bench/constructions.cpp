#include "bench/constructions.h"

namespace spile {
namespace {

constexpr double kIn = 25.4;

/// An edge of every panel that has it becomes a joint.
void make_joint(std::vector<PanelInput>& panels, const std::string& a, const std::string& b,
                double gives_up) {
    for (PanelInput& panel : panels)
        for (EdgePlan& e : panel.edges)
            if ((e.from == a && e.to == b) || (e.from == b && e.to == a)) {
                e.measured = Measured::wall;
                e.situation = Situation::joint;
                e.clearance_mm = gives_up;
            }
}

constexpr Finish bound = Finish::bound, turned = Finish::turned, sealed = Finish::sealed;

}  // namespace

const std::vector<Construction>& constructions() {
    static const std::vector<Construction> all{
        {"corner-lapped",
         "Square corners, one flap over the other",
         {{"A", {0, 0}}, {"B", {260, 0}}, {"C", {260, 170}}, {"D", {0, 170}}},
         {"Fold A-B and C-D first. Notch each corner, then fold B-C and D-A.",
          "The flap that lies over stops 1/16 in short, so that its end does not show."}},
        {"corner-mitred",
         "Square corners, mitred",
         {{"A", {0, 0}}, {"B", {260, 0}}, {"C", {260, 170}}, {"D", {0, 170}}},
         {"Each flap ends at half the corner angle; one laps the other by 1/4 in at its end."},
         [](FinishSettings& s) { s.mitred_corners = true; }},
        {"corner-sharp",
         "Corners sharper than square",
         {{"A", {0, 0}}, {"B", {290, 0}}, {"C", {145, 200}}},
         {"A flap ends along the mirror image of the edge beside it: folded, it lies inside that edge."}},
        {"corner-wide",
         "Corners wider than square",
         {{"A", {60, 0}},
          {"B", {200, 0}},
          {"C", {260, 105}},
          {"D", {200, 210}},
          {"E", {60, 210}},
          {"F", {0, 105}}},
         {"Flaps end square to their folds. What is cut out between them is the turn of the corner."}},
        {"corner-inside",
         "An inside corner, turned",
         {{"A", {0, 0}},
          {"B", {270, 0}},
          {"C", {270, 90}},
          {"D", {120, 90}},
          {"E", {120, 200}},
          {"F", {0, 200}}},
         {"One slit half-way between the flaps at D. Folded they open: a patch of face goes behind the "
          "corner."}},
        {"curve-outside",
         "An outside curve, turned",
         {{"A", {0, 0}}, {"B", {270, 0}, turned, 0.35}, {"C", {270, 190}}, {"D", {0, 190}}},
         {"Notches take out 2 s of goods for each radian at depth s. Between two of them the fold is a chord",
          "that stands off the curve by no more than 1/32 in: pitch = square root of 8 x radius x 1/32 in."}},
        {"curve-inside",
         "An inside curve, turned",
         {{"A", {0, 0}}, {"B", {290, 0}, turned, -0.35}, {"C", {290, 190}}, {"D", {0, 190}}},
         {"Slits at the same pitch; they open as the flap is folded. They stop 1/4 in short of the fold."}},
        {"corner-round",
         "Rounded corners, turned",
         {{"A", {0, 0}, turned, 0, 60},
          {"B", {270, 0}, turned, 0, 60},
          {"C", {270, 190}, turned, 0, 20},
          {"D", {0, 190}, turned, 0, 20}},
         {"A and B: radius 60 mm, the whole turn, notched. C and D: 20 mm, no larger than the turn, so the "
          "flap is narrowed."}},
        {"bound-and-turned",
         "Bound meets turned",
         {{"A", {0, 0}, turned},
          {"B", {180, 0}, bound},
          {"C", {270, 120}, turned},
          {"D", {120, 200}, bound},
          {"E", {0, 160}, turned}},
         {"The flap ends at the cut line of the bound edge, so that the binding goes over its end."}},
        {"bound-and-turned-inside",
         "Bound meets turned at an inside corner",
         {{"A", {0, 0}, bound},
          {"B", {280, 0}, bound},
          {"C", {280, 200}, bound},
          {"D", {180, 200}, turned},
          {"E", {150, 90}, bound},
          {"F", {0, 90}, bound}},
         {"The flap of D-E ends square at E; it is cut free of the bound edge beside it."}},
        {"turned-and-sealed",
         "Turned meets sealed",
         {{"A", {0, 0}, sealed},
          {"B", {260, 0}, turned, 0.2},
          {"C", {230, 190}, sealed},
          {"D", {20, 170}, turned}},
         {"A sealed edge is cut at the net line; the flap beside it ends there."}},
        {"bound-all-round",
         "Bound all round",
         {{"A", {0, 0}, bound, 0, 40},
          {"B", {260, 0}, bound, 0, 40},
          {"C", {260, 180}, bound, 0, 40},
          {"D", {0, 180}, bound, 0, 40}},
         {"Cut inside the net line by the growth of the binding; the stitch line starts on the least seen "
          "edge."}},
        {"post-hole",
         "A turned post hole",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {200, 0}, bound, 0, 30},
          {"C", {200, 160}, bound, 0, 30},
          {"D", {0, 160}, bound, 0, 30}},
         {"2 in post, 1/4 in ease: backing cut 2 1/2 in, face 1 in, slits to 2 in, stitched at 3 in across."},
         [](FinishSettings&) {},
         2 * kIn},
        {"opening-box",
         "A turned opening with rounded corners",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {270, 0}, bound, 0, 30},
          {"C", {270, 180}, bound, 0, 30},
          {"D", {0, 180}, bound, 0, 30}},
         {"A box of 130 x 70 mm with corners of 25 mm, 1/4 in ease all round. The face is folded back "
          "through it;",
          "slits let it round the corners, and stop 1/4 in short of the fold."},
         [](FinishSettings&) {},
         0,
         [](OpeningPlan& o) {
             o.form = OpeningPlan::Form::box;
             o.length_mm = 130;
             o.width_mm = 70;
             o.radius_mm = 25;
         }},
        {"opening-free",
         "A free opening, turned",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {290, 0}, bound, 0, 30},
          {"C", {290, 200}, bound, 0, 30},
          {"D", {0, 200}, bound, 0, 30}},
         {"Square inside corners get one slit half-way between the flaps; where the goods reach into the "
          "opening,",
          "the flaps are notched as at an outside corner."},
         [](FinishSettings&) {},
         0,
         [](OpeningPlan& o) {
             o.form = OpeningPlan::Form::free;
             o.at = "";
             o.outline = {{"E", 0}, {"F", 0}, {"G", 0}, {"H", 0}, {"I", 0}, {"J", 0}};
         },
         [](PanelInput&) {}},
        {"slit",
         "A slit to a fixed pedestal",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {250, 0}, bound, 0, 30},
          {"C", {250, 180}, bound, 0, 30},
          {"D", {0, 180}, bound, 0, 30}},
         {"What cannot be lifted through gets a slit to the least seen edge, a joint of the panel with "
          "itself:",
          "its edges are bound. The opening, too small to bind, is turned; its flap ends at the slit."},
         [](FinishSettings&) {},
         0,
         [](OpeningPlan& o) {
             o.diameter_mm = 90;
             o.finish = bound;
             o.slit = SlitPlan{"", "", 6, bound};
         }},
        {"lid",
         "A lid cut out of its surround",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {270, 0}, bound, 0, 30},
          {"C", {270, 180}, bound, 0, 30},
          {"D", {0, 180}, bound, 0, 30}},
         {"The opening is the finished edge of the lid, larger all round by the gap; here 1/4 in, turned."},
         [](FinishSettings&) {},
         0,
         [](OpeningPlan& o) {
             o.form = OpeningPlan::Form::lid;
             o.at = "";
             o.lid = "2";
         }},
        {"snaps-by-rule",
         "New snaps by rule",
         {{"A", {0, 0}, turned}, {"B", {270, 0}, turned}, {"C", {270, 170}, turned}, {"D", {0, 170}, turned}},
         {"One in each corner 7/8 in inside the finished edge, and between two corners as many as keep "
          "the pitch."},
         [](FinishSettings&) {},
         50,
         {},
         [](PanelInput& in) {
             in.stud_rule = StudRule{110, kIn * 7 / 8};
         }},
        {"opening-slot",
         "A slot with round ends, turned",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {270, 0}, bound, 0, 30},
          {"C", {270, 160}, bound, 0, 30},
          {"D", {0, 160}, bound, 0, 30}},
         {"From one point to another, round about both; 1/4 in ease all round."},
         [](FinishSettings&) {},
         0,
         [](OpeningPlan& o) {
             o.form = OpeningPlan::Form::slot;
             o.at = "";
             o.along = {"H", "G"};
             o.width_mm = 60;
         }},
        {"joint",
         "Two panels along one joint line, with their match marks",
         {{"A", {0, 0}, bound},
          {"B", {150, 0}, turned, 0.12},
          {"E", {170, 190}, bound},
          {"F", {0, 190}, bound}},
         {"Both take the same line and give up half the reveal each; here 10 mm, so that it shows.",
          "M1 stands on one line square to the joint on both, and reaches beyond what the turn covers."},
         [](FinishSettings&) {},
         0,
         {},
         {},
         [](Survey& survey, std::vector<PanelInput>& panels) {
             survey.points["C"] = {{330, 0}, {}};
             survey.points["D"] = {{330, 190}, {}};
             PanelInput other = panels.front();
             other.id = "2";
             other.corners = {{"B", 0}, {"C", 0}, {"D", 0}, {"E", 0}};
             for (std::size_t i = 0; i < 4; ++i) {
                 other.edges[i].from = other.corners[i].at;
                 other.edges[i].to = other.corners[(i + 1) % 4].at;
                 other.edges[i].finish = bound;
             }
             panels.push_back(other);
             make_joint(panels, "B", "E", 5);
         }},
        {"twin",
         "A mirror twin in its place",
         {{"A", {0, 20}, bound},
          {"B", {220, 20}, bound},
          {"C", {190, 110}, turned, 0.1},
          {"D", {20, 90}, turned}},
         {"Rolled over about the line between the two hands, bow staying bow; its corners are A' to D'.",
          "It is assumed until its check sizes were taped aboard."},
         [](FinishSettings&) {},
         0,
         {},
         {},
         [](Survey& survey, std::vector<PanelInput>& panels) {
             survey.points["O"] = {{0, 0}, {}};
             survey.points["P"] = {{200, 0}, {}};
             PanelInput other;
             other.id = "2";
             other.twin_of = "1";
             other.twin_about = {"O", "P"};
             panels.push_back(other);
         }},
        {"left-long",
         "An edge left long for the dry fit",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {250, 0}, bound, 0, 30},
          {"C", {250, 170}, bound, 0, 30},
          {"D", {0, 170}, bound, 0, 30}},
         {"B-C has 1 in more, to be trimmed aboard before it is bound. The corners beside it are cut square",
          "and rounded once it is trimmed. Stitches stay where the finished edge will be."},
         [](FinishSettings&) {},
         0,
         {},
         [](PanelInput& in) { in.edges[1].left_long_mm = kIn; }},
        {"applied",
         "What is put on a panel",
         {{"A", {0, 0}, bound, 0, 30},
          {"B", {280, 0}, bound, 0, 30},
          {"C", {280, 190}, bound, 0, 30},
          {"D", {0, 190}, bound, 0, 30}},
         {"The heel pad is turned: cut larger by its turn all round, its corners notched. The facing strip "
          "is raw,",
          "cut as it is set, and ends where it is clear of the bindings. Both are sewn on all round."},
         [](FinishSettings&) {},
         0,
         {},
         [](PanelInput& in) {
             AppliedPlan pad, strip;
             pad.id = "pad";
             pad.centre_mm = {165, 110};
             pad.length_mm = 110;
             pad.width_mm = 75;
             pad.finish = turned;
             strip.id = "strip";
             strip.kind = AppliedPlan::Kind::facing_strip;
             strip.from = "D";
             strip.to = "A";
             strip.width_mm = 30;
             in.applied = {pad, strip};
         }},
        {"thickness",
         "Face and backing of known thickness",
         {{"A", {0, 0}}, {"B", {240, 0}}, {"C", {240, 160}}, {"D", {0, 160}}},
         {"Backing cut inside the net line by the face; cuts keep clear of the fold by the backing and 1/8 "
          "in."},
         [](FinishSettings& s) { s.face_thickness_mm = 3, s.backing_thickness_mm = 9; }},
    };
    return all;
}

}  // namespace spile
