// The sewing sheet: seam by seam, and whether the machine can reach it.
#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/paper/aboard.h"
#include "core/paper/applied_words.h"
#include "core/paper/cautions.h"
#include "core/paper/flap_words.h"
#include "core/paper/flow_parts.h"
#include "core/paper/piece_picture.h"

namespace spile {
namespace paper {
namespace {

constexpr double kPi = 3.14159265358979323846;

/// Diameter of a length of goods rolled up tight: the roll holds the same cross-section as the goods lying flat,
/// pi D^2 / 4 = L t. A loose roll is thicker; that is said beside it.
double rolled_diameter(double length_mm, double thickness_mm) {
    return std::sqrt(4 * length_mm * thickness_mm / kPi);
}

/// The farthest the goods reach from a hole's rim: what must lie under the arm while it is sewn round.
double reach_from(const Piece& piece, const HoleReport& hole) {
    double far = 0;
    for (const Vertex& v : piece.cut.face.outer.vertices) far = std::max(far, distance(v.p, hole.centre_mm));
    return far - (hole.round ? hole.net_diameter_mm : std::min(hole.along_mm, hole.across_mm)) / 2;
}

/// The same of a seam all round something set on the piece: sewn one way its outside lies under the arm, the other way its
/// inside and all beyond; whichever is less.
double reach_from(const Piece& piece, const Path& seam) {
    double outside = 0, inside = 0;
    for (std::size_t k = 0; k < seam.edge_count(); ++k) {
        const Edge e = seam.edge(k);
        const Vec2 in = left_of(direction_at(e, 0.5)), at = midpoint_of(e);
        for (const Vertex& v : piece.cut.face.outer.vertices) {
            outside = std::max(outside, -dot(v.p - at, in));
            inside = std::max(inside, dot(v.p - at, in));
        }
    }
    return std::min(outside, inside);
}

class Sewing {
  public:
    explicit Sewing(const PaperInput& in)
        : in_(in),
          notes_(in.settings.sewing),
          flow_(in.bench_paper, plain_frame(in, "SEWING", "Sewing sheet")) {}

    std::vector<Page> pages() {
        const std::string needle = needle_words(notes_);
        flow_.paragraph("Thread " + strong(notes_.thread.empty() ? "____________" : notes_.thread) +
                        "   needle " + strong(needle.empty() ? "____________" : needle) + "   stitch " +
                        strong(stitch_words(notes_.stitch_mm, in_.lengths)) +
                        "   lockstitch 301, reverse stitches at both ends of every seam");
        const std::string aboard = aboard_words(in_);
        if (!aboard.empty()) flow_.paragraph(aboard);
        scrap();
        std::vector<double> heights, shares(in_.pieces->size(), 0);
        for (const Piece& piece : *in_.pieces) heights.push_back(block_of(piece).height);
        if (std::all_of(heights.begin(), heights.end(), [&](double h) { return h <= flow_.area().height(); }))
            shares = shares_of_white(flow_.left(), flow_.area().height(), heights);
        for (std::size_t i = 0; i < shares.size(); ++i) draw_piece(in_.pieces->at(i), shares[i]);
        return flow_.finish();
    }

  private:
    std::string said(double mm) const { return length_words(mm, in_.lengths); }

    bool any(Finish finish) const {
        for (const Piece& p : *in_.pieces)
            for (const EdgeReport& e : p.edges)
                if (e.plan.finish == finish) return true;
        return false;
    }

    void scrap() {
        flow_.heading("On a scrap first");
        task(flow_,
             "Tension, stitch length and presser foot on two layers of these goods; look at the back.");
        if (any(Finish::bound)) {
            std::string words = "Bind all round a 12 \u00d7 12 in (305 \u00d7 305 mm) sample and measure it";
            if (in_.finish)
                words += ": the binding grows an edge by " + strong(fine(in_.finish->binding_growth_mm)) +
                         " here. If yours differs, the cut sizes are wrong: say so before cutting";
            task(flow_, words + ".");
            task(flow_, binder_words());
        }
        if (any(Finish::turned) && in_.finish)
            task(flow_,
                 "Fold a corner and a curve over by " + strong(said(in_.finish->turn_mm)) +
                     ": nothing may stick out or pucker. Thickness under the needle there: three layers.");
        task(flow_, std::string("Needle cold after a long seam: a hot one melts thread and foam. ") +
                        caution::blades);
    }

    std::string fine(double mm) const {
        LengthStyle style = in_.lengths;
        style.inch_denominator = std::max(style.inch_denominator, 32);
        style.mm_step = std::min(style.mm_step, 0.1);
        return length_words(mm, style);
    }

    std::string binder_words() const {
        const double goods = in_.goods ? in_.goods->thickness_mm : 0;
        if (goods <= 0 || notes_.binder_passes_mm <= 0)
            return "The goods with two layers of binding pass the binder: try it. (Thickness of the goods "
                   "and what the binder passes are settings.)";
        const double left = notes_.binder_passes_mm - goods;
        if (left <= 0)
            return strong("The binder passes " + fine(notes_.binder_passes_mm) + ", the goods are " +
                          fine(goods) + ": they do not go in.") +
                   " Another binder, or skive the foam along the edge.";
        return "The binder passes " + fine(notes_.binder_passes_mm) + ", the goods are " + fine(goods) +
               ": " + strong(fine(left) + " is left for the two layers of binding") + ".";
    }

    static constexpr double kPicture = 58, kGap = 5, kSize = 4.2;

    std::vector<std::vector<std::string>> rows_of(const Piece& piece) const {
        std::vector<std::vector<std::string>> rows;
        for (const Seam& s : piece.seams)
            rows.push_back({s.name, said(s.length_mm), fixed(s.length_mm / notes_.stitch_mm, 0),
                            s.closed ? "end over start" : "reversed"});
        for (const AppliedPiece* a : applied_on(in_, piece)) {
            for (const Seam& s : a->piece.seams)
                rows.push_back({called(a->piece) + ": " + s.name, said(s.length_mm),
                                fixed(s.length_mm / notes_.stitch_mm, 0), "end over start"});
            if (a->sewn_on)
                rows.push_back({a->sewn_on->name, said(a->sewn_on->length_mm),
                                fixed(a->sewn_on->length_mm / notes_.stitch_mm, 0), "end over start"});
        }
        return rows;
    }

    /// A piece's block, measured before it is drawn.
    struct Block {
        std::vector<std::vector<std::string>> rows;
        std::vector<std::string> how;
        double right = 0, picture = 0, height = 0;
    };
    Block block_of(const Piece& piece) const {
        const double beside = flow_.area().width() - kPicture - kGap;
        Block b;
        b.rows = rows_of(piece);
        b.how = steps(piece);
        b.right = b.rows.empty() ? 0 : table_height(beside, kSeams, b.rows, kSize) + 2.5;
        for (const std::string& h : b.how) b.right += task_height(beside, h, kSize);
        b.picture = std::clamp(b.right, 38.0, 60.0);
        b.height = std::max(b.right, b.picture) + 18;
        return b;
    }

    /// `share`: of the white its page would have at its foot. The picture takes of it what its width can use, lines to
    /// write on the rest.
    void draw_piece(const Piece& piece, double share) {
        const auto [rows, how, right, least_picture, block] = block_of(piece);
        const double all = flow_.area().width(), beside = all - kPicture - kGap;
        const PictureWants wants{false, true, true, false, "finished, from above"};
        if (block <= flow_.area().height()) {
            flow_.need(block + share);
            const double end = flow_.y() + block + share;
            const double picture =
                std::max(least_picture, std::min(60.0, std::max(right, least_picture) + share));
            flow_.heading(joined(called(piece), "  ", piece.name), 20);
            flow_.skip(1);
            const Vec2 at{flow_.area().min.x, flow_.y()};
            draw_piece_picture(flow_.canvas(), {at, at + Vec2{kPicture, picture}}, in_, piece, wants);
            const double x = at.x + kPicture + kGap;
            double y = at.y;
            if (!rows.empty()) y = draw_table(flow_.canvas(), {x, y}, beside, kSeams, rows, kSize) + 2.5;
            for (const std::string& h : how) y = task_at(flow_.canvas(), {x, y}, beside, h, kSize);
            if (share == 0) {
                flow_.skip(std::max(picture, y - at.y) + 4);
                return;
            }
            lines_in(flow_.canvas(), {{x, y + 1}, {x + beside, end - 5}}, "at the machine");
            flow_.skip(end - at.y);
            return;
        }
        // More seams than a page holds: the picture first, then all that is to do over as many pages as it takes.
        flow_.need(90);
        flow_.heading(joined(called(piece), "  ", piece.name), 20);
        flow_.skip(1);
        const Vec2 at{flow_.area().min.x, flow_.y()};
        draw_piece_picture(flow_.canvas(), {at, at + Vec2{all, 60}}, in_, piece, wants);
        flow_.skip(63);
        draw_table(flow_, kSeams, rows, kSize);
        for (const std::string& h : how) task(flow_, h, kSize);
    }

    inline static const std::vector<Column> kSeams{{"seam", 2.3, Anchor::start, Weight::semibold, 2},
                                                   {"length", 1.3, Anchor::start, Weight::regular, 1},
                                                   {"stitches", 0.9, Anchor::start, Weight::regular, 1},
                                                   {"start and end", 1.5, Anchor::start, Weight::regular, 2}};

    /// The edge a stretch of the outside's stitch line lies along; empty for a hole's.
    static std::string edge_of(const Piece& piece, const Vertex& v) {
        if (v.tag < 0) return "";
        const EdgeReport& edge = piece.edges[static_cast<std::size_t>(v.tag)];
        return joined(edge.from, "\u2013", edge.to);
    }

    /// One run of binding of the outside. A closed one starts where its stitch line does.
    std::string binding_words(const Piece& piece, const Seam& seam) const {
        const std::string cut = "cut " + strong(said(seam.binding_mm)) + ". ";
        const std::string first = edge_of(piece, seam.path.vertices.front());
        if (seam.closed) {
            std::string words = "Bind in one run: " + cut + "Start in the middle of " + strong(first) +
                                ", away from corners and feet";
            if (in_.finish) words += "; end over start by " + said(in_.finish->binding_overlap_mm);
            return words + ", sealed and back-stitched.";
        }
        const std::string last = edge_of(piece, seam.path.vertices[seam.path.edge_count() - 1]);
        return "Bind " + strong(first == last ? first : first + " to " + last) + ": " + cut +
               "It stops at both ends: fold them under, seal and back-stitch.";
    }

    /// Corners that no binder passes, each with the half of its angle, at which a mitre is folded. Empty when there are none.
    static std::string square_bound_words(const Piece& piece) {
        const Outline& net = piece.net.outer;
        const std::size_t n = net.size();
        std::vector<std::string> outside, inside;
        const auto bound = [&](int tag) {
            return tag >= 0 && static_cast<std::size_t>(tag) < piece.edges.size() &&
                   piece.edges[static_cast<std::size_t>(tag)].plan.finish == Finish::bound;
        };
        for (std::size_t k = 0; k < n; ++k) {
            const Edge before = net.edge((k + n - 1) % n), after = net.edge(k);
            if (!bound(before.tag) || !bound(after.tag) || before.tag == after.tag) continue;
            const Vec2 d = direction_at(before, 1), e = direction_at(after, 0);
            const double turn = std::atan2(cross(d, e), dot(d, e)) * 180 / kPi;
            constexpr double least = 20;  // degrees; by less a binding is eased round (common practice)
            const std::string& name = piece.edges[static_cast<std::size_t>(after.tag)].from;
            if (turn >= least)
                outside.push_back(strong(name) + " at " + std::to_string(std::lround((180 - turn) / 2)));
            else if (turn <= -least)
                inside.push_back(strong(name));
        }
        std::string words;
        if (!outside.empty())
            words =
                "Square corners, by hand: stop sewing at the stitch line of the next edge, fold the binding "
                "to a "
                "mitre at half the corner, " +
                list_words(outside) +
                " degrees, and sew on; or end it there and wrap the next run over its end.";
        if (!inside.empty())
            words += std::string(words.empty() ? "" : " ") + "Inside corners " + list_words(inside) +
                     ": clip the goods to the stitch line, open the corner straight, bind, and fold the "
                     "mitre after.";
        return words;
    }

    std::vector<std::string> binding_steps(const Piece& piece) const {
        std::vector<std::string> out;
        for (const Seam& seam : piece.seams)
            if (seam.binding_mm > 0 && !edge_of(piece, seam.path.vertices.front()).empty())
                out.push_back(binding_words(piece, seam));
        if (!out.empty()) out.back() += " Slow round the corners: " + corner_words(in_, piece) + ".";
        if (const std::string words = square_bound_words(piece); !words.empty()) out.push_back(words);
        return out;
    }

    std::string hole_binding(const HoleReport& hole) const {
        if (hole.finish != Finish::bound || !in_.finish) return "";
        const double rim = hole.round ? kPi * hole.net_diameter_mm : hole.rim_mm;
        const double cut = rim + in_.finish->binding_overlap_mm;
        return ", binding cut " + strong(said(cut));
    }

    /// In the order of the hand: holes, turned edges, bound edges.
    std::vector<std::string> steps(const Piece& piece) const {
        std::vector<std::string> out;
        const std::string aboard = aboard_words(in_, piece);
        if (!aboard.empty()) out.push_back(aboard);
        for (const HoleReport& h : piece.holes) {
            std::string words = "Hole " + strong(h.id) + ", " + word_for(h.finish) + ": ";
            if (h.finish == Finish::turned) {
                if (h.slits > 0) words += std::to_string(h.slits) + " slits, ";
                words += "fold the face back, sew ";
                words += h.round ? "the circle " + said(h.stitch_diameter_mm) + " across. "
                                 : "round it; finished " + finished_words(h, in_.lengths) + ". ";
            } else {
                words += "finished " + finished_words(h, in_.lengths) + hole_binding(h) + ". ";
            }
            out.push_back(words + throat_words(reach_from(piece, h)));
        }
        for (const AppliedPiece* a : applied_on(in_, piece)) out.push_back(applied_step(piece, *a));
        for (const std::string& step : turning_steps(in_, piece)) out.push_back(step);
        for (const std::string& step : binding_steps(piece)) out.push_back(step);
        if (rows_of(piece).empty()) out.push_back("Nothing is sewn on this piece.");
        return out;
    }

    /// What is put on, before the edges: the panel still lies flat.
    std::string applied_step(const Piece& piece, const AppliedPiece& a) const {
        std::string words =
            strong(called(a.piece)) + " " + a.piece.name + ", " + held_words(a, in_.lengths) + ": ";
        if (a.piece.binding_mm > 0) words += "bind it first, cut " + strong(said(a.piece.binding_mm)) + "; ";
        words += std::string("set it on the ") + (a.plan.on_back ? "back" : "face") + " to its line, " +
                 set_words(a, in_.lengths);
        if (a.plan.stuck) return words + "; press it down from the middle out.";
        words += "; sew all round " +
                 (in_.finish ? said(in_.finish->stitch_from_edge_mm) + " inside its edge" : "") +
                 ", start away from a corner. ";
        return a.sewn_on ? words + throat_words(reach_from(piece, a.sewn_on->path)) : words;
    }

    /// Whether the rest of the goods passes under the arm while a hole or something set on the piece is sewn round.
    std::string throat_words(double reach) const {
        const std::string under = "Up to " + said(reach) + " of goods lies under the arm";
        const double thickness = in_.goods ? in_.goods->thickness_mm : 0;
        if (notes_.throat_width_mm <= 0 || notes_.throat_height_mm <= 0)
            return under +
                   (thickness > 0 ? ", rolled tight " + said(rolled_diameter(reach, thickness)) + " thick"
                                  : "") +
                   ": try it under yours (its throat is not said).";
        if (reach <= notes_.throat_width_mm) return under + ": it passes flat.";
        if (thickness <= 0) return under + ": roll it (the thickness of the goods is not said).";
        const double roll = rolled_diameter(reach, thickness);
        const double room = std::min(notes_.throat_width_mm, notes_.throat_height_mm);
        const std::string rolled = under + ", rolled tight " + strong(said(roll)) + " thick; the throat is " +
                                   said(notes_.throat_width_mm) + " \u00d7 " + said(notes_.throat_height_mm);
        if (roll <= 0.8 * room) return rolled + ": it passes.";
        if (roll <= room) return rolled + ": " + strong("it passes only rolled hard") + ".";
        return rolled + ": " +
               strong("it does not pass. Sew the hole by hand, or on a machine with more room.");
    }

    const PaperInput& in_;
    const SewingNotes& notes_;
    Flow flow_;
};

}  // namespace
}  // namespace paper

Sheet sewing_sheet(const PaperInput& in) {
    SPILE_CHECK(in.pieces);
    Sheet sheet;
    sheet.file_stem = "sewing";
    sheet.title = "Sewing sheet";
    sheet.purpose = "For the machine: what to try on a scrap, every seam with its length, the order of folds";
    sheet.pages = paper::Sewing(in).pages();
    return sheet;
}

}  // namespace spile
