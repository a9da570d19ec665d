#include "export/lines/machine_drawing.h"

#include <algorithm>

#include "core/base/check.h"
#include "core/geom/measure_of.h"
#include "core/geom/transform.h"
#include "core/paper/text_layout.h"

namespace spile {
namespace {

MachineLine line_of(Purpose purpose, const Piece& piece, std::string name, const Outline& outline) {
    return {purpose, piece.id, std::move(name), true, outline.vertices};
}

MachineLine line_of(Purpose purpose, const Piece& piece, std::string name, const Path& path) {
    return {purpose, piece.id, std::move(name), false, path.vertices};
}

/// No knife tells two lines apart that lie this near.
bool lies_on(const Edge& edge, const Region& region) {
    const double near_mm = Resolution{}.mm;
    const auto on = [&](const Outline& outline) {
        for (const Vec2 p : {edge.a, midpoint_of(edge), edge.b})
            if (nearest_on(outline, p).distance > near_mm) return false;
        return true;
    };
    return on(region.outer) || std::any_of(region.holes.begin(), region.holes.end(), on);
}

/// What is left of an outline of the backing where it does not lie on the face cut.
std::vector<MachineLine> own_stretches(const Piece& piece, const std::string& name, const Outline& outline) {
    const std::size_t n = outline.size();
    std::vector<bool> lies;
    for (std::size_t i = 0; i < n; ++i) lies.push_back(lies_on(outline.edge(i), piece.cut.face));
    const auto first_lying = std::find(lies.begin(), lies.end(), true);
    if (first_lying == lies.end()) return {line_of(Purpose::backing_only, piece, name, outline)};

    std::vector<MachineLine> stretches;
    Path stretch;
    const std::size_t start = static_cast<std::size_t>(first_lying - lies.begin());
    for (std::size_t k = 1; k <= n; ++k) {
        const std::size_t i = (start + k) % n;
        if (!lies[i]) {
            stretch.vertices.push_back(outline.vertices[i]);
        } else if (!stretch.vertices.empty()) {
            stretch.vertices.push_back(outline.vertices[i]);
            stretches.push_back(line_of(Purpose::backing_only, piece,
                                        name + ", stretch " + std::to_string(stretches.size() + 1), stretch));
            stretch.vertices.clear();
        }
    }
    return stretches;
}

std::string hole_name(std::size_t index) {
    return "hole " + std::to_string(index + 1);
}

/// The point of a coarse grid that lies farthest inside.
Vec2 roomiest_point(const Region& region) {
    const Box box = box_of(region);
    constexpr int cells = 24;
    Vec2 best = 0.5 * (box.min + box.max);
    double best_clear = -1;
    for (int i = 1; i < cells; ++i) {
        for (int j = 1; j < cells; ++j) {
            const Vec2 p = {box.min.x + box.width() * i / cells, box.min.y + box.height() * j / cells};
            if (side_of(region, p) != Side::inside) continue;
            double clear = nearest_on(region.outer, p).distance;
            for (const Outline& hole : region.holes) clear = std::min(clear, nearest_on(hole, p).distance);
            if (clear > best_clear) {
                best_clear = clear;
                best = p;
            }
        }
    }
    return best;
}

/// Flag, arrow and head, `length_mm` long and turned as the face sees them, about `middle`.
std::vector<Path> mark_about(Vec2 middle, double length_mm) {
    const Vec2 tail = middle + Vec2{-length_mm / 2, -length_mm / 8};
    const Vec2 head = tail + Vec2{length_mm, 0};
    const double barb = length_mm / 8;
    const auto chain = [](std::initializer_list<Vec2> points) {
        Path path;
        for (const Vec2 p : points) path.vertices.push_back({p, 0, 0});
        return path;
    };
    return {chain({tail + Vec2{0, length_mm / 4}, tail, head}),
            chain({head + Vec2{-barb, barb / 2}, head, head + Vec2{-barb, -barb / 2}})};
}

/// All lines of a piece in piece space, in the order of Purpose.
std::vector<MachineLine> lines_of(const Piece& piece, Vec2 mark_at, double mark_length_mm) {
    std::vector<MachineLine> lines;
    const std::vector<Path> mark = mark_about(mark_at, mark_length_mm);
    lines.push_back(line_of(Purpose::marks, piece, "flag and arrow", mark[0]));
    lines.push_back(line_of(Purpose::marks, piece, "arrow head", mark[1]));
    for (const Stud& stud : piece.studs)
        for (const Vec2 arm : {Vec2{5, 0}, Vec2{0, 5}}) {
            const Path path{{{stud.at_mm - arm, 0, 0}, {stud.at_mm + arm, 0, 0}}};
            lines.push_back(line_of(Purpose::marks, piece, "stud " + stud.id, path));
        }
    for (const Seam& seam : piece.seams) {
        MachineLine line = line_of(Purpose::stitch, piece, seam.name, seam.path);
        if (seam.closed && !line.vertices.empty()) {
            line.vertices.pop_back();
            line.closed = true;
        }
        lines.push_back(std::move(line));
    }
    for (std::size_t i = 0; i < piece.slits.size(); ++i)
        lines.push_back(line_of(Purpose::slits, piece, "slit " + std::to_string(i + 1), piece.slits[i]));
    for (std::size_t i = 0; i < piece.flap_cuts.size(); ++i)
        lines.push_back(
            line_of(Purpose::slits, piece, "flap cut " + std::to_string(i + 1), piece.flap_cuts[i].path));
    const auto add_backing = [&](const std::string& name, const Outline& outline) {
        for (MachineLine& line : own_stretches(piece, name, outline)) lines.push_back(std::move(line));
    };
    for (std::size_t i = 0; i < piece.cut.backing.holes.size(); ++i)
        add_backing(hole_name(i), piece.cut.backing.holes[i]);
    add_backing("outside", piece.cut.backing.outer);
    for (std::size_t i = 0; i < piece.cut.face.holes.size(); ++i)
        lines.push_back(line_of(Purpose::cut_through, piece, hole_name(i), piece.cut.face.holes[i]));
    lines.push_back(line_of(Purpose::cut_through, piece, "outside", piece.cut.face.outer));
    std::erase_if(lines, [](const MachineLine& line) { return line.vertices.size() < 2; });
    return lines;
}

MachineLine turned_over(const MachineLine& line, const BackFromFace& back_from_face) {
    MachineLine turned = line;
    turned.vertices = line.closed ? back_from_face(Outline{line.vertices}).vertices
                                  : back_from_face(Path{line.vertices}).vertices;
    return turned;
}

void finish(MachineDrawing& drawing) {
    for (const MachineLine& line : drawing.lines) {
        const Path path{line.vertices};
        for (std::size_t i = 0; i < path.edge_count(); ++i) drawing.box.add(box_of(path.edge(i)));
        if (line.closed) drawing.box.add(box_of(Outline{line.vertices}));
    }
}

/// Adds a piece at its place; `back_from_face` is used when the drawing is seen from the back.
void add_piece(MachineDrawing& drawing, const Piece& piece, const Rigid& place,
               const BackFromFace& back_from_face) {
    const Vec2 middle = roomiest_point(piece.cut.backing.outer.empty() ? piece.cut.face : piece.cut.backing);
    double clear = nearest_on(piece.cut.face.outer, middle).distance;
    for (const Outline& hole : piece.cut.face.holes)
        clear = std::min(clear, nearest_on(hole, middle).distance);
    const double mark_length = std::min(120.0, 1.2 * clear);
    const bool from_back = drawing.side == SeenFrom::back;
    for (MachineLine& line : lines_of(piece, middle, mark_length)) {
        line.vertices = place(Path{line.vertices}).vertices;
        drawing.lines.push_back(from_back ? turned_over(line, back_from_face) : std::move(line));
    }

    // The words stand under the arrow, readable from the side they are seen from. A name that would become too small to
    // read is left out; the number stands for it.
    Vec2 at = place(middle);
    if (from_back) at = back_from_face(at);
    double below = mark_length / 8;
    const double height = mark_length / 12;
    const double least = height / 2;
    const auto write = [&](double wanted, const std::string& utf8) {
        const double width = text_width_mm(utf8, wanted / font_heights().capital, Weight::regular);
        const double size = wanted * std::min(1.0, mark_length / width);
        if (utf8.empty() || size < least) return;
        below += 1.6 * size;
        drawing.texts.push_back({Purpose::marks, piece.id, at - Vec2{0, below}, size, utf8});
    };
    write(1.5 * height, called(piece));
    write(height, piece.name);
    write(height, from_back ? "BACK, MIRRORED" : "FACE");
}

}  // namespace

const char* words_for(SeenFrom side) {
    return side == SeenFrom::back ? "back, mirrored" : "face";
}
const char* file_word(SeenFrom side) {
    return side == SeenFrom::back ? "back-mirrored" : "face";
}

const char* words_for(Purpose purpose) {
    switch (purpose) {
        case Purpose::goods:
            return "goods";
        case Purpose::marks:
            return "mark";
        case Purpose::stitch:
            return "stitch";
        case Purpose::slits:
            return "slit";
        case Purpose::backing_only:
            return "backing only";
        case Purpose::cut_through:
            return "cut through";
    }
    SPILE_CHECK(false);
}

const char* layer_for(Purpose purpose) {
    switch (purpose) {
        case Purpose::goods:
            return "GOODS";
        case Purpose::marks:
            return "MARKS";
        case Purpose::stitch:
            return "STITCH";
        case Purpose::slits:
            return "SLITS";
        case Purpose::backing_only:
            return "BACKING_ONLY";
        case Purpose::cut_through:
            return "CUT_THROUGH";
    }
    SPILE_CHECK(false);
}

MachineDrawing machine_drawing(const Piece& piece, SeenFrom side) {
    MachineDrawing drawing;
    drawing.side = side;
    drawing.title =
        "piece " + called(piece) + (piece.name.empty() ? "" : " " + piece.name) + ", " + words_for(side);
    const Box box = box_of(piece.cut.face);
    add_piece(drawing, piece, {}, BackFromFace{(box.min.y + box.max.y) / 2});
    finish(drawing);
    return drawing;
}

MachineDrawing machine_drawing(const std::vector<Piece>& pieces, const Layout& layout, const Goods& goods,
                               SeenFrom side) {
    MachineDrawing drawing;
    drawing.side = side;
    drawing.title = "roll, " + std::to_string(layout.placements.size()) + " pieces, " + words_for(side);
    const BackFromFace back_from_face{goods.usable_width_mm / 2};
    Outline there = rectangle({0, 0}, {layout.bought_mm, goods.usable_width_mm});
    if (!goods.outline.empty())
        there = side == SeenFrom::back ? back_from_face(goods.outline) : goods.outline;
    drawing.lines.push_back({Purpose::goods, "", "goods as bought", true, there.vertices});
    for (const Placement& placement : layout.placements) {
        const auto piece = std::find_if(pieces.begin(), pieces.end(),
                                        [&](const Piece& p) { return p.id == placement.piece; });
        SPILE_CHECK(piece != pieces.end());
        add_piece(drawing, *piece, roll_from_piece(placement), back_from_face);
    }
    finish(drawing);
    return drawing;
}

}  // namespace spile
