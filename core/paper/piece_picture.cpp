#include "core/paper/piece_picture.h"

#include <algorithm>
#include <map>

#include "core/base/text.h"
#include "core/paper/plan_lines.h"

namespace spile::paper {
namespace {

constexpr double kName = 3.4;           ///< em of a corner's name
constexpr std::size_t kMostDrawn = 10;  ///< corners; of more the diagonals would cover the piece

/// The finished edge, and where it is sewn.
void draw_finished(Canvas& canvas, const PageFrom& page, const PieceView& view,
                   const std::vector<Seam>& seams) {
    Shape net;
    net.stroke = {0.5, ink::black, {}};
    net.closed.push_back(page(view.net.outer));
    for (const Outline& h : view.net.holes) net.closed.push_back(page(h));
    canvas.page.items.push_back(std::move(net));
    if (seams.empty()) return;
    Shape sewn;
    sewn.stroke = {0.28, ink::black, {1.3, 0.9}};
    for (const Seam& seam : seams)
        sewn.open.push_back(page(view.from_back ? BackFromFace{0}(seam.path) : seam.path));
    canvas.page.items.push_back(std::move(sewn));
}

void name_corners(Canvas& canvas, const PageFrom& page, const std::vector<NamedCorner>& corners,
                  LabelField& field) {
    Vec2 middle{0, 0};
    for (const NamedCorner& c : corners) middle = middle + page(c.at) / static_cast<double>(corners.size());
    for (const NamedCorner& c : corners) {
        const Vec2 at = page(c.at), away = at - middle;
        const Fitted name = fitted(c.name, 16, kName, Weight::semibold);
        const double width = text_width_mm(name.utf8, name.size_mm, Weight::semibold) + 0.4;
        const auto place = field.place({width,
                                        name.size_mm * type::line,
                                        at,
                                        norm2(away) > 0 ? unit(away) : Vec2{0, -1},
                                        0.8,
                                        7,
                                        2.6,
                                        {}});
        if (!place) continue;  // the table names it
        if (place->leader) canvas.line(place->from, place->to, stroke::thin);
        canvas.text({place->box.min.x + 0.2, place->box.min.y + name.size_mm * 0.99}, name.utf8, name.size_mm,
                    Weight::semibold);
    }
}

}  // namespace

std::vector<NamedCorner> corners_of(const Outline& outline, const Piece& piece, double disc_most_mm) {
    const RawLine line = raw_line(edges_of(outline), true, disc_most_mm);
    std::vector<NamedCorner> out;
    for (const RawStroke& s : line.strokes) {
        const int tag = s.edges.front().tag;
        if (tag >= 0 && static_cast<std::size_t>(tag) < piece.edges.size())
            out.push_back({s.from(), piece.edges[static_cast<std::size_t>(tag)].from});
    }
    return out;
}

std::string corner_words(const PaperInput& in, const Piece& piece) {
    const RawLine net = raw_line(edges_of(piece.net.outer), true, in.disc_most_mm);
    std::map<std::string, std::size_t> count;
    for (const RawRound& r : net.rounds) ++count[length_words(r.radius, in.lengths)];
    std::vector<std::string> words;
    for (const auto& [radius, n] : count) words.push_back(std::to_string(n) + " of " + radius + " radius");
    if (net.strokes.size() > net.rounds.size() && net.strokes.size() > 1)
        words.push_back(std::to_string(net.strokes.size() - net.rounds.size()) + " square");
    return words.empty() ? "none" : list_words(words);
}

std::vector<std::pair<std::size_t, std::size_t>> diagonals_of(std::size_t corners) {
    // From the first corner to all that are no neighbours, and one across them: with the sides they fix the shape.
    std::vector<std::pair<std::size_t, std::size_t>> out;
    for (std::size_t b = 2; b + 1 < corners; ++b) out.push_back({0, b});
    if (corners > 3) out.push_back({1, 3});
    return out;
}

void draw_piece_picture(Canvas& canvas, const Box& box, const PaperInput& in, const Piece& piece,
                        const PictureWants& wants) {
    if (wants.from_back) canvas.fill(box, ink::tint);
    canvas.frame(box, {0.2, ink::black, {}});
    const std::string words = wants.words.empty() ? side_words(wants.from_back) : wants.words;
    draw_fitted(canvas, {box.min.x + 1.2, box.max.y - 1.6}, words, box.width() - 2.4, 3.2, Weight::semibold);
    const PieceView view = view_of(piece, wants.from_back);
    const double rim = wants.corners ? 6 : 2.5;
    const Box inner{box.min + Vec2{2.5, 2.5}, {box.max.x - 2.5, box.max.y - 6}};
    const PageFrom page = page_from(box_of(wants.finished ? view.net : view.face),
                                    {box.min + Vec2{rim, rim}, {box.max.x - rim, box.max.y - rim - 3.5}});
    const Region& shown = wants.finished ? view.net : view.face;
    LabelField field(inner);
    field.keep_off(page(shown.outer));
    for (const Outline& h : shown.holes) field.keep_off(page(h));
    if (wants.corners) {
        // Corners are named on the piece; the view carries places over as it does the outline.
        std::vector<NamedCorner> corners =
            corners_of(wants.finished ? piece.net.outer : piece.cut.face.outer, piece, in.disc_most_mm);
        for (NamedCorner& c : corners)
            if (wants.from_back) c.at = BackFromFace{0}(c.at);
        if (wants.diagonals && corners.size() <= kMostDrawn)
            for (const auto& [a, b] : diagonals_of(corners.size()))
                canvas.line(page(corners[a].at), page(corners[b].at), stroke::diagonal);
        name_corners(canvas, page, corners, field);
    }
    if (wants.finished)
        draw_finished(canvas, page, view, piece.seams);
    else
        draw_cut_lines(canvas, page, view, 0.55);
    for (const double length : {17.0, 12.0, 8.0}) {
        const Box shape = witness_box(witness_at({0, 0}, length, view, page));
        // Inside where there is room, else in a corner of the picture.
        const auto place = field.place_near(shape.width(), shape.height(), page(inside_of(shown)), 1.5, {});
        if (!place) continue;
        if (wants.diagonals) canvas.fill(*place, ink::white);
        draw_witness(canvas, witness_at(place->min - shape.min, length, view, page), 0.6);
        return;
    }
    draw_witness(canvas, witness_at(0.5 * (inner.min + inner.max), 8, view, page), 0.6);
}

}  // namespace spile::paper
