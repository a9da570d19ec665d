// spile-bench constructions FOLDER: one SVG for each construction of edging, drawn from what the program makes of a small
// panel. tools/make_gallery.sh runs it; docs/gallery/edging keeps what it drew.
#include <cmath>
#include <cstdio>
#include <fstream>

#include "bench/commands.h"
#include "bench/constructions.h"
#include "core/edging/piece.h"
#include "core/paper/page_frame.h"
#include "core/paper/view.h"
#include "export/svg/page_svg.h"

namespace spile {
namespace {

constexpr double kIn = 25.4;

struct Made {
    std::vector<Piece> pieces;
    std::vector<AppliedPiece> applied;
    std::vector<Finding> findings;
};

Made made(const Construction& c) {
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
        const ConstructionCorner &a = c.corners[i], &b = c.corners[(i + 1) % c.corners.size()];
        survey.points[a.name] = {a.at, {}};
        box.add(a.at);
        if (a.bulge != 0) survey.curves.push_back({a.name, b.name, {{a.at, b.at, a.bulge, 0}}});
        in.corners.push_back({a.name, a.radius});
        in.edges.push_back({a.name, b.name, Measured::finished, Situation::wall, a.finish, 0, 0});
    }
    if (c.post_mm > 0) {
        survey.points["P"] = {0.5 * (box.min + box.max), {}};
        in.openings.push_back({"post", "P", c.post_mm, kIn / 4, Finish::turned, {}});
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
                own.edges.push_back({lid[i].first, lid[(i + 1) % 4].first, Measured::finished, Situation::lid,
                                     Finish::bound, 0, 0});
            }
            inputs.push_back(own);
        }
    }
    if (c.more) c.more(in);
    inputs.insert(inputs.begin(), in);
    if (c.beside) c.beside(survey, inputs);
    const auto panels = shape(inputs, {{"s", survey}}, settings, RunContext{});
    if (!panels) return {{}, {}, panels.findings};
    auto pieces = edge_pieces(*panels, settings, RunContext{});
    if (!pieces) return {{}, {}, pieces.findings};
    auto applied = edge_applied(*panels, *pieces, settings, RunContext{});
    if (!applied) return {{}, {}, applied.findings};
    return {std::move(*pieces), std::move(*applied), {}};
}

void draw_seams(paper::Canvas& canvas, const paper::PageFrom& page, const Rigid& boat_from_piece,
                const std::vector<Seam>& seams) {
    Shape shape;
    shape.stroke = {0.25, {0}, {0.6, 1.2}};
    for (const Seam& seam : seams) shape.open.push_back(page(boat_from_piece(seam.path)));
    canvas.page.items.push_back(std::move(shape));
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
    draw_seams(canvas, page, boat_from_piece, piece.seams);
    for (const Stud& s : view.studs) canvas.disc(page(s.at_mm), 1.2, stroke::thin, true);
    for (const MatchStroke& m : view.match_strokes) {
        const Vec2 end = page(m.to_mm), along = unit(end - page(m.from_mm));
        canvas.line(page(m.from_mm), end, stroke::match);
        canvas.text(end + 4.0 * along + Vec2{0, 1.2}, m.name, 3.4, Weight::semibold, Anchor::middle);
    }
}

/// A piece of the panel's own goods on its face: its cut lines about the line it is set to.
void draw_applied(paper::Canvas& canvas, const paper::PageFrom& page, const AppliedPiece& on,
                  const Rigid& boat_from_panel) {
    using namespace paper;
    const Vec2 to_set = box_of(on.set).min - box_of(on.piece.net.outer).min;
    const Rigid boat_from_own = compose(boat_from_panel, translation(to_set));
    draw_cut_lines(canvas, page, moved(boat_from_own, view_of(on.piece, false)));
    if (on.sewn_on) draw_seams(canvas, page, boat_from_panel, {*on.sewn_on});
}

/// The first piece, or all that lie beside one another.
Page drawn(const Construction& c, const Made& made) {
    using namespace paper;
    const std::vector<Piece>& pieces = made.pieces;
    Canvas canvas(190, 168);
    canvas.text({8, 12}, c.title, 6, Weight::semibold);
    const Box area{{12, 22}, {178, 132}};
    const std::size_t shown = c.beside ? pieces.size() : 1;
    Box all;
    for (std::size_t i = 0; i < shown; ++i)
        all.add(box_of(inverse(pieces[i].piece_from_boat)(pieces[i].cut.face)));
    const PageFrom page = page_from(all, area);
    for (std::size_t i = 0; i < shown; ++i) draw_piece(canvas, page, pieces[i]);
    for (const AppliedPiece& on : made.applied)
        draw_applied(canvas, page, on, inverse(pieces.front().piece_from_boat));
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
        const Made all = made(c);
        if (all.pieces.empty()) {
            std::fprintf(stderr, "%s: no piece\n", c.file);
            for (const Finding& f : all.findings) std::fprintf(stderr, "  %s\n", f.says.c_str());
            return 1;
        }
        const std::string path = arguments[0] + "/" + c.file + ".svg";
        std::ofstream out(path, std::ios::binary);
        out << page_svg(drawn(c, all), c.title, nullptr);
        if (!out.flush()) {
            std::fprintf(stderr, "%s cannot be written\n", path.c_str());
            return 1;
        }
    }
    return 0;
}

}  // namespace spile
