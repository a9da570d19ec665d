// What is put on the panels: where it is set, and what is cut for it.
#include <algorithm>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/applied_words.h"
#include "core/paper/flow_parts.h"

namespace spile {
namespace paper {

std::string cut_size_words(const AppliedPiece& applied, const LengthStyle& lengths) {
    const Box box = box_of(applied.piece.cut.face.outer);
    if (applied.plan.diameter_mm > 0) return length_words(box.width(), lengths) + " across";
    LengthStyle plain = lengths;
    plain.with_unit = false;
    return print_length(box.width(), plain).text + " \u00d7 " + length_words(box.height(), lengths);
}

std::string set_words(const AppliedPiece& applied, const LengthStyle& lengths) {
    const AppliedPlan& a = applied.plan;
    const auto said = [&](double mm) { return length_words(mm, lengths); };
    if (!a.from.empty())
        return "along " + joined(a.from, "\u2013", a.to) + ", " + said(a.from_edge_mm.value_or(0)) +
               " inside the edge, from " + said(a.start_mm.value_or(0)) + " to " +
               said(a.start_mm.value_or(0) + a.length_mm) + " from " + a.from;
    std::string words = a.at.empty() ? "" : "about " + a.at + ", ";
    if (a.at.empty() && a.outline.empty() && a.centre_mm.y > 0)
        words = "its middle " + said(a.centre_mm.x) + " along, " + said(a.centre_mm.y) + " across; ";
    if (a.diameter_mm > 0) return words + said(a.diameter_mm) + " across";
    if (!a.outline.empty()) {
        std::vector<std::string> points;
        for (const CornerPlan& c : a.outline) points.push_back(c.at);
        return "by " + list_words(points);
    }
    LengthStyle plain = lengths;
    plain.with_unit = false;
    return words + print_length(a.length_mm, plain).text + " \u00d7 " + said(a.width_mm);
}

std::string held_words(const AppliedPiece& applied, const LengthStyle& lengths) {
    const AppliedPlan& a = applied.plan;
    std::string edge = a.finish == Finish::sealed ? "raw" : word_for(a.finish);
    if (a.finish == Finish::turned) edge += " by " + length_words(a.turn_mm, lengths);
    return edge + (a.stuck ? ", stuck" : ", sewn");
}

std::vector<const AppliedPiece*> applied_on(const PaperInput& in, const Piece& piece) {
    std::vector<const AppliedPiece*> out;
    if (in.applied)
        for (const AppliedPiece& a : *in.applied)
            if (a.panel == piece.id) out.push_back(&a);
    return out;
}

std::string applied_line(const AppliedPiece& applied, const LengthStyle& lengths) {
    const AppliedPlan& a = applied.plan;
    return strong(called(applied.piece) + " " + applied.piece.name) + ", on the " +
           (a.on_back ? "back" : "face") + ": cut " + strong(cut_size_words(applied, lengths)) +
           (a.goods.empty() ? "" : " from " + a.goods) + "; " + held_words(applied, lengths) + "; " +
           set_words(applied, lengths) + ".";
}

namespace {

constexpr double kPicture = 74;  ///< height of a picture with its words
constexpr double kFoot = 17;     ///< under it: the arrow and the side
constexpr double kName = 5.6;    ///< em of "3a" on it

class AppliedSheet {
  public:
    explicit AppliedSheet(const PaperInput& in)
        : in_(in), flow_(in.bench_paper, plain_frame(in, "APPLIED PIECES", "Applied pieces")) {}

    std::vector<Page> pages() {
        flow_.paragraph(
            "Pieces of their own that go on the panels. Chalk each set line on the side shown, set the piece "
            "to it "
            "with its arrow to the bow, try it, then sew or stick it on while the panel lies flat. " +
            std::string("Sizes are as cut; hold the knife to the line."));
        for (const Piece& piece : *in_.pieces) {
            const std::vector<const AppliedPiece*> on = applied_on(in_, piece);
            if (!on.empty()) panel(piece, on);
        }
        return flow_.finish();
    }

  private:
    void panel(const Piece& piece, const std::vector<const AppliedPiece*>& on) {
        const bool back = std::any_of(on.begin(), on.end(), [](const auto* a) { return a->plan.on_back; });
        const bool face = std::any_of(on.begin(), on.end(), [](const auto* a) { return !a->plan.on_back; });
        const std::vector<std::vector<std::string>> rows = rows_of(on);
        const double width = flow_.area().width();
        flow_.skip(3);
        flow_.heading(
            joined(called(piece), "  ", piece.name),
            std::min(kPicture + table_height(width, kColumns, rows, kType), flow_.area().height() - 16));
        const Vec2 at{flow_.area().min.x, flow_.y()};
        const double each = back && face ? (width - 6) / 2 : width;
        double x = at.x;
        for (const bool from_back : {false, true}) {
            if (!(from_back ? back : face)) continue;
            picture({{x, at.y}, {x + each, at.y + kPicture}}, piece, on, from_back);
            x += each + 6;
        }
        flow_.skip(kPicture + 1);
        draw_table(flow_, kColumns, rows, kType);
    }

    void picture(const Box& box, const Piece& piece, const std::vector<const AppliedPiece*>& on,
                 bool from_back) {
        Canvas& canvas = flow_.canvas();
        const PieceView view = view_of(piece, from_back);
        const Box room{{box.min.x + 2, box.min.y + 2}, {box.max.x - 2, box.max.y - kFoot}};
        const PageFrom page = page_from(box_of(view.net), room, 1);
        draw_outline(canvas, page, view.net.outer, stroke::thin);
        for (const Outline& hole : view.net.holes) draw_outline(canvas, page, hole, stroke::thin);
        for (const AppliedPiece* a : on) {
            if (a->plan.on_back != from_back) continue;
            const Outline line = from_back ? BackFromFace{0}(a->set) : a->set;
            draw_outline(canvas, page, line, stroke::cut_through);
            const Box at = page(box_of(line));
            const std::string name = called(a->piece);
            // Beside a strip that is too narrow for it.
            const bool thin = at.width() < text_width_mm(name, kName, Weight::semibold) + 2,
                       flat = at.height() < kName;
            const Vec2 middle = 0.5 * (at.min + at.max);
            if (thin && !flat)
                canvas.text({at.max.x + 1.2, middle.y + kName * 0.36}, name, kName, Weight::semibold);
            else
                canvas.text({middle.x, flat ? at.max.y + kName * 0.95 : middle.y + kName * 0.36}, name, kName,
                            Weight::semibold, Anchor::middle);
        }
        // The arrow stands under the picture, clear of what is set.
        const Witness w = witness_at({box.min.x + 22, box.max.y - 8}, 24, view, page);
        draw_witness(canvas, w);
        const double right = std::max({w.head.x, w.tail.x, w.flag.x}) + 5;
        draw_fitted(canvas, {right, box.max.y - 6.4},
                    std::string("arrow to the bow \u00b7 ") + side_words(from_back), box.max.x - right,
                    type::small, Weight::semibold);
    }

    std::vector<std::vector<std::string>> rows_of(const std::vector<const AppliedPiece*>& on) const {
        std::vector<std::vector<std::string>> rows;
        for (const AppliedPiece* a : on)
            rows.push_back(
                {called(a->piece), a->piece.name,
                 a->plan.goods.empty()
                     ? (in_.goods && !in_.goods->name.empty() ? in_.goods->name : "the panel's goods")
                     : a->plan.goods,
                 cut_size_words(*a, in_.lengths), held_words(*a, in_.lengths),
                 std::string(a->plan.on_back ? "back: " : "face: ") + set_words(*a, in_.lengths)});
        return rows;
    }

    static constexpr double kType = 4.0;
    inline static const std::vector<Column> kColumns{{"", 0.6, Anchor::start, Weight::semibold, 1},
                                                     {"what", 1.8, Anchor::start, Weight::semibold, 3},
                                                     {"goods", 1.9, Anchor::start, Weight::regular, 3},
                                                     {"cut", 1.7, Anchor::start, Weight::semibold, 2},
                                                     {"own edge", 1.5, Anchor::start, Weight::regular, 3},
                                                     {"set", 3, Anchor::start, Weight::regular, 4}};

    const PaperInput& in_;
    Flow flow_;
};

}  // namespace
}  // namespace paper

std::vector<const Piece*> cut_from_goods(const PaperInput& in) {
    std::vector<const Piece*> out;
    for (const Piece& piece : *in.pieces) out.push_back(&piece);
    if (in.applied)
        for (const AppliedPiece& a : *in.applied)
            if (a.own_goods()) out.push_back(&a.piece);
    return out;
}

std::vector<const Piece*> all_pieces(const PaperInput& in) {
    std::vector<const Piece*> out;
    for (const Piece& piece : *in.pieces) out.push_back(&piece);
    if (in.applied)
        for (const AppliedPiece& a : *in.applied) out.push_back(&a.piece);
    return out;
}

bool is_cut_by_sizes(const AppliedPiece& applied) {
    if (applied.plan.diameter_mm > 0) return true;
    for (std::size_t k = 0; k < applied.square.size(); ++k)
        if (!applied.square.edge(k).straight()) return false;
    return applied.plan.outline.empty();
}

Sheet applied_sheet(const PaperInput& in) {
    SPILE_CHECK(in.pieces && in.applied);
    Sheet sheet;
    sheet.file_stem = "applied-pieces";
    sheet.title = "Applied pieces";
    sheet.purpose = "For whoever cuts and sews: what is put on the panels, its sizes and where it is set";
    sheet.cutting = true;
    sheet.pages = paper::AppliedSheet(in).pages();
    return sheet;
}

}  // namespace spile
