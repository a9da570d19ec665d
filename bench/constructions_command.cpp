// spile-bench constructions FOLDER: one SVG for each construction of edging, drawn from what the program makes of a small
// panel. tools/make_gallery.sh runs it; docs/gallery/edging keeps what it drew.
#include <cmath>
#include <cstdio>
#include <fstream>
#include <functional>

#include "bench/commands.h"
#include "core/edging/piece.h"
#include "core/paper/page_frame.h"
#include "core/paper/view.h"
#include "export/svg/page_svg.h"

namespace spile {
namespace {

constexpr double kIn = 25.4;

/// A small panel: corners with the curve and the finish of the edge that leaves each.
struct Corner {
    const char* name;
    Vec2 at;
    Finish finish = Finish::turned;
    double bulge = 0;
    double radius = 0;
};

struct Construction {
    const char* file;
    const char* title;
    std::vector<Corner> corners;
    std::vector<std::string> says;  ///< what a trimmer should see in it
    std::function<void(FinishSettings&)> set = [](FinishSettings&) {};
    double post_mm = 0;                              ///< turned hole in the middle
    std::function<void(OpeningPlan&)> opening = {};  ///< of another form, there
    std::function<void(PanelInput&)> more = {};
    std::function<void(Survey&, std::vector<PanelInput>&)> beside =
        {};  ///< panels drawn with it, in their places
};

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
        {"thickness",
         "Face and backing of known thickness",
         {{"A", {0, 0}}, {"B", {240, 0}}, {"C", {240, 160}}, {"D", {0, 160}}},
         {"Backing cut inside the net line by the face; cuts keep clear of the fold by the backing and 1/8 "
          "in."},
         [](FinishSettings& s) { s.face_thickness_mm = 3, s.backing_thickness_mm = 9; }},
    };
    return all;
}

Result<std::vector<Piece>> made(const Construction& c) {
    FinishSettings settings;
    c.set(settings);
    Survey survey;
    survey.space = "s";
    survey.fixed = true;
    PanelInput in;
    in.id = "1";
    in.space = "s";
    Box box;
    for (std::size_t i = 0; i < c.corners.size(); ++i) {
        const Corner &a = c.corners[i], &b = c.corners[(i + 1) % c.corners.size()];
        survey.points[a.name] = {a.at, {}};
        box.add(a.at);
        if (a.bulge != 0) survey.curves.push_back({a.name, b.name, {{a.at, b.at, a.bulge, 0}}});
        in.corners.push_back({a.name, a.radius});
        in.edges.push_back({a.name, b.name, Measured::finished, Situation::wall, a.finish, 0, 0});
    }
    if (c.post_mm > 0) {
        survey.points["P"] = {0.5 * (box.min + box.max), {}};
        in.openings.push_back({"post", "P", c.post_mm, kIn / 4, turned, {}});
    }
    std::vector<PanelInput> inputs;
    if (c.opening) {
        const Vec2 middle = 0.5 * (box.min + box.max);
        survey.points["P"] = {middle, {}};
        // The free one: an L about the middle; the lid: a box there.
        const std::pair<const char*, Vec2> inner[] = {{"E", {-75, -50}}, {"F", {75, -50}}, {"G", {75, 10}},
                                                      {"H", {10, 10}},   {"I", {10, 55}},  {"J", {-75, 55}}};
        for (const auto& [name, at] : inner) survey.points[name] = {middle + at, {}};
        OpeningPlan o;
        o.id = "opening";
        o.at = "P";
        o.ease_mm = kIn / 4;
        c.opening(o);
        in.openings.push_back(o);
        if (!o.lid.empty()) {
            const std::pair<const char*, Vec2> lid[] = {
                {"K", {-70, -40}}, {"L", {70, -40}}, {"M", {70, 40}}, {"N", {-70, 40}}};
            PanelInput own;
            own.id = o.lid;
            own.space = "s";
            for (int i = 0; i < 4; ++i) {
                survey.points[lid[i].first] = {middle + lid[i].second, {}};
                own.corners.push_back({lid[i].first, 30});
                own.edges.push_back(
                    {lid[i].first, lid[(i + 1) % 4].first, Measured::finished, Situation::lid, bound, 0, 0});
            }
            inputs.push_back(own);
        }
    }
    if (c.more) c.more(in);
    inputs.insert(inputs.begin(), in);
    if (c.beside) c.beside(survey, inputs);
    const auto panels = shape(inputs, {{"s", survey}}, settings, RunContext{});
    if (!panels) return {};
    return edge_pieces(*panels, settings, RunContext{});
}

void draw_piece(paper::Canvas& canvas, const paper::PageFrom& page, const Piece& piece) {
    using namespace paper;
    const Rigid boat_from_piece = inverse(piece.piece_from_boat);
    const PieceView view = moved(boat_from_piece, view_of(piece, false));
    Shape net;
    net.stroke = {0.2, {0.45}, {}};
    net.closed.push_back(page(view.net.outer));
    for (const Outline& hole : view.net.holes) net.closed.push_back(page(hole));
    canvas.page.items.push_back(std::move(net));
    draw_cut_lines(canvas, page, view);
    Shape seams;
    seams.stroke = {0.25, {0}, {0.6, 1.2}};
    for (const Seam& seam : piece.seams) seams.open.push_back(page(boat_from_piece(seam.path)));
    canvas.page.items.push_back(std::move(seams));
    for (const Stud& s : view.studs) canvas.disc(page(s.at_mm), 1.2, stroke::thin, true);
    for (const MatchStroke& m : view.match_strokes) {
        const Vec2 end = page(m.to_mm), along = unit(end - page(m.from_mm));
        canvas.line(page(m.from_mm), end, stroke::match);
        canvas.text(end + 4.0 * along + Vec2{0, 1.2}, m.name, 3.4, Weight::semibold, Anchor::middle);
    }
}

/// The first piece, or all that lie beside one another.
Page drawn(const Construction& c, const std::vector<Piece>& pieces) {
    using namespace paper;
    Canvas canvas(190, 168);
    canvas.text({8, 12}, c.title, 6, Weight::semibold);
    const Box area{{12, 22}, {178, 132}};
    const std::size_t shown = c.beside ? pieces.size() : 1;
    Box all;
    for (std::size_t i = 0; i < shown; ++i)
        all.add(box_of(inverse(pieces[i].piece_from_boat)(pieces[i].cut.face)));
    const PageFrom page = page_from(all, area);
    for (std::size_t i = 0; i < shown; ++i) draw_piece(canvas, page, pieces[i]);
    const std::size_t n = c.corners.size();
    for (std::size_t i = 0; i < n; ++i) {
        // Into the corner, half-way between its edges, clear of the stitches.
        const Vec2 at = c.corners[i].at;
        const Vec2 back = unit(c.corners[(i + n - 1) % n].at - at),
                   ahead = unit(c.corners[(i + 1) % n].at - at);
        const Vec2 half = unit(back + ahead), in = cross(ahead, back) < 0 ? -half : half;
        const Vec2 label = page(at + (18 + 0.45 * c.corners[i].radius) * in);
        canvas.text(label + Vec2{0, 1.4}, c.corners[i].name, 4, Weight::semibold, Anchor::middle);
    }
    double y = 141;
    for (const std::string& words : c.says) {
        canvas.text({8, y}, words, 3.4);
        y += 5;
    }
    canvas.text(
        {8, 159},
        "Seen from the face. Heavy: cut through. Dashed: backing only. Grey: net line. Dotted: stitches. "
        "Thin: cuts in the flaps.",
        2.9, Weight::regular, Anchor::start, ink::soft);
    draw_scale_bar(canvas, {8, 165}, page, LengthStyle{}, 40);
    return std::move(canvas.page);
}

}  // namespace

int constructions_command(const std::vector<std::string>& arguments) {
    if (arguments.size() != 1) return 2;
    for (const Construction& c : constructions()) {
        const auto pieces = made(c);
        if (!pieces || pieces->empty()) {
            std::fprintf(stderr, "%s: no piece\n", c.file);
            for (const Finding& f : pieces.findings) std::fprintf(stderr, "  %s\n", f.says.c_str());
            return 1;
        }
        const std::string path = arguments[0] + "/" + c.file + ".svg";
        std::ofstream out(path, std::ios::binary);
        out << page_svg(drawn(c, *pieces), c.title, nullptr);
        if (!out.flush()) {
            std::fprintf(stderr, "%s cannot be written\n", path.c_str());
            return 1;
        }
    }
    return 0;
}

}  // namespace spile
