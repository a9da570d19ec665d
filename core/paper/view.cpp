#include "core/paper/view.h"

#include <algorithm>
#include <cmath>

namespace spile::paper {

Outline PageFrom::operator()(const Outline& outline) const {
    Outline out = outline;
    for (Vertex& v : out.vertices) v = {(*this)(v.p), -v.bulge, v.tag};
    return out;
}

Path PageFrom::operator()(const Path& path) const {
    Path out = path;
    for (Vertex& v : out.vertices) v = {(*this)(v.p), -v.bulge, v.tag};
    return out;
}

Box PageFrom::operator()(const Box& box) const {
    Box out;
    out.add((*this)(box.min));
    out.add((*this)(box.max));
    return out;
}

PageFrom page_from(const Box& drawing, const Box& area, double largest_scale) {
    double scale = largest_scale;
    if (drawing.width() > 0) scale = std::min(scale, area.width() / drawing.width());
    if (drawing.height() > 0) scale = std::min(scale, area.height() / drawing.height());
    const Vec2 middle = 0.5 * (area.min + area.max);
    const Vec2 from = 0.5 * (drawing.min + drawing.max);
    return {scale, {middle.x - scale * from.x, middle.y + scale * from.y}};
}

PieceView view_of(const Piece& piece, bool from_back) {
    PieceView v{piece.cut.face, piece.cut.backing,   piece.net, piece.slits, {},       piece.studs,
                piece.holes,    piece.match_strokes, {1, 0},    {0, 1},      from_back};
    for (const FlapCut& cut : piece.flap_cuts) v.flap_cuts.push_back(cut.path);
    if (!from_back) return v;
    const BackFromFace back_from_piece{0};
    v.face = back_from_piece(v.face);
    v.backing = back_from_piece(v.backing);
    v.net = back_from_piece(v.net);
    for (Path& p : v.slits) p = back_from_piece(p);
    for (Path& p : v.flap_cuts) p = back_from_piece(p);
    for (Stud& s : v.studs) s.at_mm = back_from_piece(s.at_mm);
    for (HoleReport& h : v.holes) h.centre_mm = back_from_piece(h.centre_mm);
    for (MatchStroke& m : v.match_strokes) {
        m.from_mm = back_from_piece(m.from_mm);
        m.to_mm = back_from_piece(m.to_mm);
    }
    const Vec2 zero = back_from_piece(Vec2{0, 0});
    v.to_bow = back_from_piece(v.to_bow) - zero;
    v.to_port = back_from_piece(v.to_port) - zero;
    return v;
}

PieceView moved(const Rigid& to_from_side, const PieceView& view) {
    PieceView v = view;
    v.face = to_from_side(view.face);
    v.backing = to_from_side(view.backing);
    v.net = to_from_side(view.net);
    for (Path& p : v.slits) p = to_from_side(p);
    for (Path& p : v.flap_cuts) p = to_from_side(p);
    for (Stud& s : v.studs) s.at_mm = to_from_side(s.at_mm);
    for (HoleReport& h : v.holes) h.centre_mm = to_from_side(h.centre_mm);
    for (MatchStroke& m : v.match_strokes) {
        m.from_mm = to_from_side(m.from_mm);
        m.to_mm = to_from_side(m.to_mm);
    }
    v.to_bow = to_from_side.turn(view.to_bow);
    v.to_port = to_from_side.turn(view.to_port);
    return v;
}

void draw_outline(Canvas& canvas, const PageFrom& page, const Outline& outline, const Stroke& stroke) {
    Shape shape;
    shape.stroke = stroke;
    shape.closed.push_back(page(outline));
    canvas.page.items.push_back(std::move(shape));
}

void draw_cut_lines(Canvas& canvas, const PageFrom& page, const PieceView& view, double weight) {
    const auto weighted = [&](Stroke s) {
        s.width_mm *= weight;
        for (double& d : s.dash_mm) d *= std::sqrt(weight);
        return s;
    };
    const auto draw = [&](const Region& region, const Stroke& s) {
        Shape shape;
        shape.stroke = s;
        shape.closed.push_back(page(region.outer));
        for (const Outline& hole : region.holes) shape.closed.push_back(page(hole));
        canvas.page.items.push_back(std::move(shape));
    };
    // The dashes first: where the two are one line the solid one covers them.
    const bool two = !(view.backing.outer == view.face.outer) || !(view.backing.holes == view.face.holes);
    if (two && !view.backing.outer.empty()) draw(view.backing, weighted(stroke::backing_only));
    draw(view.face, weighted(stroke::cut_through));
    if (!view.slits.empty()) {
        Shape slits;
        slits.stroke = weighted({0.5, {0}, {}});
        for (const Path& p : view.slits) slits.open.push_back(page(p));
        canvas.page.items.push_back(std::move(slits));
    }
    if (!view.flap_cuts.empty()) {
        Shape cuts;
        cuts.stroke = weighted(stroke::thin);
        for (const Path& p : view.flap_cuts) cuts.open.push_back(page(p));
        canvas.page.items.push_back(std::move(cuts));
    }
}

Witness witness_at(Vec2 middle, double length, const PieceView& view, const PageFrom& page) {
    const auto direction = [&](Vec2 d) { return unit(page(d) - page(Vec2{0, 0})); };
    const Vec2 bow = direction(view.to_bow), port = direction(view.to_port);
    const double flag = length / 3.5;
    // The middle is that of the whole mark, so that it can be placed by its box.
    const Vec2 tail = middle - 0.5 * length * bow - 0.5 * flag * port;
    return {tail + flag * port, tail, tail + length * bow};
}

namespace {

std::vector<Vec2> head_of(const Witness& witness) {
    const Vec2 back = unit(witness.tail - witness.head);
    const double length = 0.2 * distance(witness.tail, witness.head);
    return {witness.head + length * (back + 0.42 * left_of(back)), witness.head,
            witness.head + length * (back - 0.42 * left_of(back))};
}

}  // namespace

void draw_witness(Canvas& canvas, const Witness& witness, double weight) {
    Stroke s = stroke::witness;
    s.width_mm *= weight;
    const Vec2 neck = lerp(witness.head, witness.tail, 0.1);
    canvas.chain({witness.flag, witness.tail, neck}, s);
    Shape head;
    head.stroked = false;
    head.filled = true;
    head.closed.push_back(polygon(head_of(witness)));
    canvas.page.items.push_back(std::move(head));
}

Box witness_box(const Witness& witness) {
    Box box;
    box.add(witness.flag);
    box.add(witness.tail);
    box.add(witness.head);
    for (const Vec2 p : head_of(witness)) box.add(p);
    return grown(box, stroke::witness.width_mm);
}

void draw_scale_bar(Canvas& canvas, Vec2 left, const PageFrom& page, const LengthStyle& lengths,
                    double most_mm) {
    // Round lengths of the drawing, the longest that fits.
    const std::vector<double> inches{1, 2, 3, 6, 12, 24, 36, 72, 120};
    const std::vector<double> mm{10, 20, 50, 100, 200, 500, 1000, 2000, 5000};
    double best = 0;
    for (const double step : lengths.unit == Unit::inch ? inches : mm) {
        const double length = step * (lengths.unit == Unit::inch ? 25.4 : 1);
        if (best == 0 || length * page.scale <= most_mm) best = length;
    }
    const double width = best * page.scale;
    if (width > most_mm) return;
    for (const double share : {0.0, 0.5, 1.0})
        canvas.line({left.x + share * width, left.y - (share == 0.5 ? 1.2 : 2.0)},
                    {left.x + share * width, left.y}, {0.3, ink::black, {}});
    canvas.line(left, {left.x + width, left.y}, {0.3, ink::black, {}});
    canvas.text({left.x + width + 1.5, left.y}, length_words(best, lengths), type::small);
}

Vec2 inside_of(const Region& region) {
    const Box box = box_of(region);
    Vec2 best = 0.5 * (box.min + box.max);
    double clear = -1;
    constexpr int cells = 24;
    for (int i = 1; i < cells; ++i)
        for (int j = 1; j < cells; ++j) {
            const Vec2 p{box.min.x + box.width() * i / cells, box.min.y + box.height() * j / cells};
            if (side_of(region, p) != Side::inside) continue;
            double d = nearest_on(region.outer, p).distance;
            for (const Outline& hole : region.holes) d = std::min(d, nearest_on(hole, p).distance);
            if (d > clear) {
                clear = d;
                best = p;
            }
        }
    return best;
}

const Panel* panel_of(const PaperInput& in, const Piece& piece) {
    if (!in.panels) return nullptr;
    for (const Panel& panel : *in.panels)
        if (panel.id == piece.id) return &panel;
    return nullptr;
}

}  // namespace spile::paper
