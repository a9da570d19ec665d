// Pieces as drawn: the side they are seen from, the fit into a page, the mark that tells the two hands apart.
#pragma once

#include <string>
#include <vector>

#include "core/edging/piece.h"
#include "core/geom/measure_of.h"
#include "core/paper/labels.h"
#include "core/paper/page_frame.h"

namespace spile::paper {

/// Page from a drawing space whose y is up, `scale` page mm for one drawing mm. As seen nothing is mirrored: page y is
/// down, so bulges change their sign.
struct PageFrom {
    double scale = 1;
    Vec2 origin;  ///< of the drawing, on the page

    Vec2 operator()(Vec2 p) const { return {origin.x + scale * p.x, origin.y - scale * p.y}; }
    Outline operator()(const Outline& outline) const;
    Path operator()(const Path& path) const;
    Box operator()(const Box& box) const;
};
/// As large as fits, but no larger than `largest_scale`, in the middle of `area`.
PageFrom page_from(const Box& drawing, const Box& area, double largest_scale = 1e9);

/// A piece seen from one side: `side` space is piece space, or its back by BackFromFace about y = 0.
struct PieceView {
    Region face, backing, net;
    std::vector<Path> slits;
    std::vector<Path> flap_cuts;
    std::vector<Stud> studs;
    std::vector<HoleReport> holes;
    std::vector<MatchStroke> match_strokes;
    Vec2 to_bow, to_port;  ///< unit, in the view's space
    bool from_back = false;
};
PieceView view_of(const Piece& piece, bool from_back);
PieceView moved(const Rigid& to_from_side, const PieceView& view);

/// Strokes with one meaning on every paper.
namespace stroke {
inline const Stroke cut_through{0.8, {0}, {}};
inline const Stroke backing_only{0.55, {0}, {3.2, 1.6}};
inline const Stroke datum{0.3, {0}, {9, 1.6, 1.2, 1.6}};
inline const Stroke guide{0.14, {0}, {0.5, 1.1}};
inline const Stroke diagonal{0.22, {0}, {2.2, 1.8}};
inline const Stroke set_line{0.3, {0}, {1.4, 1.4}};  ///< where an applied piece is set
inline const Stroke thin{0.2, {0}, {}};
inline const Stroke across{0.3, {0}, {5, 1.6}};  ///< where the goods come apart straight across
inline const Stroke match{0.6, {0}, {}};         ///< of the marks that meet those of a neighbour
inline const Stroke witness{1.1, {0}, {}};       ///< of the arrow with its flag and of nothing else
}  // namespace stroke

/// The cut lines of a view: CUT THROUGH solid, BACKING ONLY dashed where it is another line; holes, slits and the cuts in
/// flaps with them.
/// `weight` scales the line widths (small pictures).
void draw_cut_lines(Canvas& canvas, const PageFrom& page, const PieceView& view, double weight = 1);

void draw_outline(Canvas& canvas, const PageFrom& page, const Outline& outline, const Stroke& stroke);

/// The arrow with its flag: one stroke from the port side to the tail of the arrow, then along the goods to the bow, and
/// a head. Its hand tells the side: seen from the face the stroke turns left, from the back right.
struct Witness {
    Vec2 flag, tail, head;  ///< page space
};
/// An arrow `length` long with its middle at `middle`; flag a third as long.
Witness witness_at(Vec2 middle, double length, const PieceView& view, const PageFrom& page);
void draw_witness(Canvas& canvas, const Witness& witness, double weight = 1);
Box witness_box(const Witness& witness);
/// A scale bar: a round length of the drawing, said.
void draw_scale_bar(Canvas& canvas, Vec2 left, const PageFrom& page, const LengthStyle& lengths,
                    double most_mm);

/// A point inside a region, well clear of its lines where there is room.
Vec2 inside_of(const Region& region);

/// The panel of a piece; null when papers were not given panels.
const Panel* panel_of(const PaperInput& in, const Piece& piece);

}  // namespace spile::paper
