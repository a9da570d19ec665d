#include "tests/paper/pieces.h"

#include <algorithm>
#include <cmath>

#include "core/geom/measure_of.h"
#include "core/geom/offset.h"
#include "core/geom/transform.h"

namespace spile::test {
namespace {

Piece piece_of(int number, const std::string& name, Region face, Region backing) {
    Piece p;
    p.id = std::to_string(number);
    p.number = number;
    p.name = name;
    const Vec2 low = box_of(face).min;
    p.piece_from_boat = translation(-low);
    p.cut.face = p.piece_from_boat(face);
    p.cut.backing = p.piece_from_boat(backing);
    p.net = p.cut.backing;
    p.area_mm2 = area_mm2(p.cut.face);
    return p;
}

void report_edges(Piece& p, Finish finish) {
    for (std::size_t i = 0; i < p.net.outer.size(); ++i) {
        const Edge e = p.net.outer.edge(i);
        EdgeReport r;
        r.from = "P" + std::to_string(i);
        r.to = "P" + std::to_string((i + 1) % p.net.outer.size());
        r.plan.finish = finish;
        r.plan.clearance_mm = 25.4 * 3 / 16;
        r.net_length_mm = r.cut_length_mm = length_of(e);
        p.edges.push_back(r);
    }
    if (finish == Finish::bound) p.binding_mm = length_mm(p.net.outer) + 25.4;
}

}  // namespace

Piece bound_piece(int number, const std::string& name, const Outline& face) {
    Piece p = piece_of(number, name, {face, {}}, {face, {}});
    report_edges(p, Finish::bound);
    return p;
}

Piece turned_piece(int number, const std::string& name, const Outline& face) {
    const std::vector<Outline> inside = offset(face, -in);
    if (inside.size() != 1) return bound_piece(number, name, face);
    Piece p = piece_of(number, name, {face, {}}, {inside.front(), {}});
    report_edges(p, Finish::turned);
    return p;
}

Outline random_outline(Chance& chance, const PanelKind& kind) {
    const int n = kind.least_corners + chance.below(kind.most_corners - kind.least_corners + 1);
    const double turn = chance.from(0, 6.28), size = chance.from(kind.least_mm, kind.most_mm);
    const double squash = chance.from(0.35, 1);
    Outline o;
    for (int i = 0; i < n; ++i) {
        const double a = turn + 6.283185307 * (i + chance.from(-0.3, 0.3)) / n;
        const double r = size * chance.from(0.6, 1);
        o.vertices.push_back({{r * std::cos(a), squash * r * std::sin(a)}, 0, i});
    }
    if (kind.arcs)
        for (Vertex& v : o.vertices)
            if (chance.one_in(3)) v.bulge = chance.from(-0.08, 0.22);
    if (kind.rounds) {
        std::vector<CornerRadius> corners;
        for (std::size_t i = 0; i < o.size(); ++i)
            if (!chance.one_in(3)) corners.push_back({i, chance.from(10, 0.12 * size)});
        o = fillet(o, corners, -1).outline;
    }
    return o;
}

Piece random_piece(Chance& chance, int number, const PanelKind& kind) {
    const Outline o = random_outline(chance, kind);
    Piece p = chance.one_in(2) ? turned_piece(number, "panel " + std::to_string(number), o)
                               : bound_piece(number, "panel " + std::to_string(number), o);
    return p;
}

void add_post_hole(Piece& piece, Vec2 centre) {
    HoleReport h;
    h.id = "table post";
    h.centre_mm = centre;
    h.post_diameter_mm = 2 * in;
    h.net_diameter_mm = h.backing_cut_diameter_mm = 2.5 * in;
    h.face_cut_diameter_mm = 1 * in;
    h.stitch_diameter_mm = 3 * in;
    h.slits = 8;
    h.slit_outer_diameter_mm = 2 * in;
    piece.cut.face.holes.push_back(reversed(circle(centre, h.face_cut_diameter_mm / 2)));
    piece.cut.backing.holes.push_back(reversed(circle(centre, h.backing_cut_diameter_mm / 2)));
    for (int i = 0; i < h.slits; ++i) {
        const double a = 6.283185307 * i / h.slits;
        const Vec2 d{std::cos(a), std::sin(a)};
        piece.slits.push_back({{{centre + 0.5 * in * d, 0, 0}, {centre + 1 * in * d, 0, 0}}});
    }
    piece.holes.push_back(h);
}

namespace {

/// The panel a piece might have been made from, so far along the boat.
Panel panel_under(Piece& piece, double x) {
    Panel panel;
    panel.id = piece.id;
    panel.name = piece.name;
    panel.space = "cockpit";
    piece.piece_from_boat = translation({-x, 0});
    panel.boat_line.outline = translation({x, 0})(piece.net.outer);
    for (std::size_t k = 0; k < panel.boat_line.outline.size(); ++k) {
        panel.boat_line.outline.vertices[k].tag = static_cast<int>(k);
        const EdgeReport& report = piece.edges[std::min(k, piece.edges.size() - 1)];
        panel.corners.push_back({report.from, 0});
        panel.edges.push_back(report.plan);
    }
    for (const Stud& s : piece.studs) panel.studs.push_back({s.id, s.at_mm + Vec2{x, 0}});
    return panel;
}

}  // namespace

Papers::Papers(std::vector<Piece> of) : pieces(std::move(of)) {
    goods.name = "woven vinyl, sand, foam back";
    double x = 0;
    for (Piece& p : pieces) {
        const Box b = box_of(p.cut.face);
        panels.push_back(panel_under(p, x));
        layout.placements.push_back({p.id, static_cast<std::int64_t>((x + goods.gap_mm) * 1000),
                                     static_cast<std::int64_t>(goods.gap_mm * 1000)});
        x += b.width() + goods.gap_mm;
        goods.usable_width_mm = std::max(goods.usable_width_mm, b.height() + 2 * goods.gap_mm);
        goods.width_mm = std::max(goods.width_mm, goods.usable_width_mm);
    }
    layout.used_mm = x + goods.gap_mm;
    layout.bought_mm = std::ceil(layout.used_mm / goods.step_mm) * goods.step_mm;
    takeoff.materials.push_back(
        {goods.name, layout.used_mm, "mm", layout.bought_mm, "As laid out on the roll."});
    takeoff.work.push_back({"bound edge", 5000, "mm", 5000, "All bound edges together."});
    input.title = "Cockpit sole";
    input.boat = "open launch, 24 ft";
    input.bench_paper = a4();
    input.goods = &goods;
    input.finish = &finish;
    input.panels = &panels;
    input.pieces = &pieces;
    input.layout = &layout;
    input.takeoff = &takeoff;
}

std::vector<Sheet> all_sheets(const Papers& papers) {
    std::vector<Sheet> sheets{
        ticket(papers.input),       roll_sheet(papers.input),   materials_sheet(papers.input),
        sewing_sheet(papers.input), check_sheet(papers.input),  fitting_sheet(papers.input),
        label_sheet(papers.input),  field_sheets(papers.input), customer_sheet(papers.input)};
    for (const Piece& p : papers.pieces) {
        sheets.push_back(marking_sheet(papers.input, p));
        // On the paper of the bench and, in turn, on the two larger ones.
        for (const PaperSize& size : {papers.input.bench_paper, p.number % 2 == 0 ? a3() : tabloid()})
            sheets.push_back(full_size_tiles(papers.input, p, size));
        sheets.push_back(full_size_strips(papers.input, p));
    }
    return sheets;
}

}  // namespace spile::test
