// The roll as it lies on the bench: every piece in its place, seen from the side that is marked.
#include <algorithm>
#include <cctype>
#include <cmath>

#include "core/base/check.h"
#include "core/base/text.h"
#include "core/layout/cuts_across.h"
#include "core/paper/aboard.h"
#include "core/paper/clip.h"
#include "core/paper/marking_parts.h"
#include "core/paper/roll_parts.h"

namespace spile {
namespace paper {
namespace {

constexpr double kKey = 19;           ///< over the roll: the arrow, and what is used and bought
constexpr double kRulerHeight = 7;    ///< under a strip: running sizes from the cut end
constexpr double kLeastScale = 0.03;  ///< page mm per mm: below it a strip goes on overleaf instead

struct PlacedPiece {
    const Piece* piece;
    PieceView view;  ///< roll space of the marked side
    OnRoll on_roll;
};

class RollSheet {
  public:
    /// `name`: "roll 3, lot 0417", empty when there is but one. Requires: the layout has one stretch.
    RollSheet(const PaperInput& in, std::string name) : in_(in), goods_(*in.goods), name_(std::move(name)) {
        used_ = std::max(in.layout->used_mm, 1.0);
        // What is bought is drawn with it unless that would make the picture much smaller.
        length_ = in.layout->bought_mm <= 1.3 * used_ ? std::max(used_, in.layout->bought_mm) : used_;
        if (!name_.empty()) length_ = used_;  // it is there already
        if (!goods_.outline.empty()) length_ = goods_.length_mm;
        std::vector<LayoutPiece> lie;
        for (const Piece* piece : cut_from_goods(in)) {
            const MarkFrame frame = mark_frame(*piece, marking_options(in, *piece));
            const auto where = on_roll(in, *piece, frame);
            if (!where) continue;
            pieces_.push_back({piece, moved(where->roll_from_mark, frame.view), *where});
            lie.push_back({piece->id, piece->cut.face});
        }
        cuts_ = cut_places_mm(cuts_across(lie, goods_, *in.layout), plain());
    }

    std::vector<Page> pages(int before = 0, int after = 0) {
        FrameText text;
        text.name = name_.empty() ? "The roll" : name_;
        if (!name_.empty()) text.name[0] = static_cast<char>(std::toupper(text.name[0]));
        text.right_1 = joined(in_.title, " \u00b7 ", in_.boat);
        text.right_2 = units_words(plain());
        text.bar = std::string("SEEN FROM THE ") + side_words(in_.mark_on_back);
        text.bar_right = any_dry_fitted(in_) ? dry_fit_bar(true) : goods_.name;
        text.foot_left = "Cut end at the left, near edge at the bottom";
        text.foot_right = "Blades: cut away from the hand, board under the goods.";
        const auto room = [&](const PaperSize& paper, double table) {
            const Box box = content_box(paper, true);
            const double high = box.height() - kKey - 2 - table;
            return high > 2 * kRulerHeight ? choose_strips(box.width() - 4, high).scale : 0.0;
        };
        // The table under the picture, on whichever way of the paper shows the roll larger; overleaf when the picture
        // would be much the smaller for it.
        const PaperSize upright = in_.bench_paper, across = landscape(in_.bench_paper);
        const double under_upright = places_height(upright), under_across = places_height(across);
        const double with_table = std::max(room(upright, under_upright), room(across, under_across));
        const double alone = room(across, 0);
        const bool one_page = with_table >= 0.7 * alone && with_table >= kLeastScale;
        const bool turned = !one_page || room(across, under_across) >= with_table;
        Flow flow(turned ? across : upright, text);
        draw_key(flow);
        draw_strips(flow, one_page ? (turned ? under_across : under_upright) : 0);
        draw_places(flow);
        return flow.finish(before, after);
    }

  private:
    LengthStyle plain() const {
        LengthStyle style = in_.lengths;
        style.feet = false;
        style.with_unit = false;
        return style;
    }
    std::string said(double mm) const { return print_length(mm, plain()).text; }
    std::string said_with_unit(double mm) const { return length_words(mm, plain()); }

    /// The arrow, and what is used and bought, in one line over the roll.
    void draw_key(Flow& flow) {
        const Vec2 at{flow.area().min.x + 27, flow.y() + 7};
        PieceView direction;
        direction.to_bow = {1, 0};
        direction.to_port = in_.mark_on_back ? BackFromFace{0}(Vec2{0, 1}) : Vec2{0, 1};
        const Witness w = witness_at(at, 26, direction, {1, {0, 0}});
        draw_witness(flow.canvas(), w);
        const double small = type::small;
        double x =
            flow.canvas().text({w.head.x + 2, w.head.y + small * 0.36}, "BOW", small, Weight::semibold).max.x;
        // Beside the flag, clear of the shaft.
        flow.canvas().text({w.flag.x - 2, w.flag.y + (w.flag.y > w.tail.y ? 0 : small * 0.7)}, "PORT", small,
                           Weight::semibold, Anchor::end);
        std::string words =
            strong("Used " + said_with_unit(in_.layout->used_mm)) +
            (name_.empty() ? ", buy " + strong(said_with_unit(in_.layout->bought_mm)) + bought_words() + ". "
                           : " of " + strong(name_) + ". ") +
            (goods_.outline.empty()
                 ? "Usable width " + strong(said_with_unit(goods_.usable_width_mm)) + " of " +
                       said_with_unit(goods_.width_mm) + ": strike its near edge first"
                 : "Strike a near edge and a cut end round its box, " +
                       strong(said_with_unit(goods_.length_mm)) + " along and " +
                       strong(said_with_unit(goods_.usable_width_mm)) + " across, first") +
            ". Sizes run " + strong("along") + " from the cut end and " + strong("across") +
            " from that edge.";
        x += 8;
        // All of it in the height of the key: smaller where long figures make it long.
        const double width = flow.area().max.x - x;
        double size = type::body;
        while (size > type::least &&
               static_cast<double>(wrapped(words, width, size).size()) * size * type::line > kKey - 1.5)
            size -= 0.4;
        draw_lines(flow.canvas(), {x, flow.y() + size}, wrapped(words, width, size), size);
        flow.skip(kKey);
    }

    std::string bought_words() const {
        const double steps = in_.layout->bought_mm / goods_.step_mm;
        std::string words;
        if (in_.lengths.unit == Unit::inch && std::fabs(goods_.step_mm - 914.4) < kYardExact.mm)
            words = count_of(static_cast<std::size_t>(std::llround(steps)), "yard", "yards");
        if (in_.layout->least_order) words += (words.empty() ? "" : ", ") + std::string("the least order");
        return words.empty() ? "" : " (" + words + ")";
    }

    struct Strips {
        double scale = 0, length = 0;  ///< of goods on one strip
        std::size_t count = 1, on_page = 1;
    };
    Strips choose_strips(double width, double height) const {
        Strips best;
        // As many strips on one page as make the largest picture ...
        for (std::size_t n = 1; n <= 4; ++n) {
            const double room = height / static_cast<double>(n) - kRulerHeight - 2;
            const double scale =
                std::min(width / (length_ / static_cast<double>(n)), room / goods_.usable_width_mm);
            if (scale > best.scale) best = {scale, length_ / static_cast<double>(n), n, n};
        }
        if (best.scale >= kLeastScale) return best;
        // ... and over several pages when that would be too small to read.
        best.scale = std::min(kLeastScale * 1.5, (height - kRulerHeight - 2) / goods_.usable_width_mm);
        best.length = width / best.scale;
        best.count = static_cast<std::size_t>(std::ceil(length_ / best.length));
        best.on_page = static_cast<std::size_t>(
            std::max(1.0, std::floor(height / (best.scale * goods_.usable_width_mm + kRulerHeight + 2))));
        return best;
    }

    void draw_strips(Flow& flow, double kept) {
        const double height = flow.left() - 2 - kept, width = flow.area().width() - 4;
        const Strips strips = choose_strips(width, height);
        const double strip_height = strips.scale * goods_.usable_width_mm + kRulerHeight + 2;
        for (std::size_t i = 0; i < strips.count; ++i) {
            flow.need(strip_height);
            const double from = strips.length * static_cast<double>(i);
            const double to = std::min(length_, from + strips.length);
            const PageFrom page{strips.scale,
                                {flow.area().min.x + 2 - strips.scale * from,
                                 flow.y() + strips.scale * goods_.usable_width_mm}};
            draw_strip(flow.canvas(), page, from, to, i == 0, to >= length_);
            flow.skip(strip_height);
        }
    }

    void draw_strip(Canvas& canvas, const PageFrom& page, double from, double to, bool first, bool last) {
        const double width = goods_.usable_width_mm;
        const Box strip{{from, 0}, {to, width}}, on_page = page(strip);
        if (goods_.outline.empty()) canvas.fill(on_page, ink::tint);
        LabelField field(on_page);
        draw_offcut(canvas, page, strip);
        draw_flaws(canvas, page, strip, in_, field);
        for (const PlacedPiece& p : pieces_) draw_piece(canvas, page, strip, p, field);
        draw_fillers(canvas, page, strip, in_, field);
        canvas.line({on_page.min.x, on_page.min.y}, {on_page.max.x, on_page.min.y}, stroke::thin);
        canvas.line({on_page.min.x, on_page.max.y}, {on_page.max.x, on_page.max.y}, {0.5, ink::black, {}});
        const auto end_line = [&](double x, bool real) {
            canvas.line({x, on_page.min.y - 1.5}, {x, on_page.max.y + 1.5},
                        real ? stroke::cut_through : stroke::diagonal);
        };
        end_line(on_page.min.x, first);
        end_line(on_page.max.x, last && length_ == used_);
        if (length_ > used_ && used_ > from && used_ <= to) end_line(page(Vec2{used_, 0}).x, true);
        for (const double at : cuts_) {
            if (at <= from || at >= to) continue;
            const double x = page(Vec2{at, 0}).x;
            canvas.line({x, on_page.min.y - 1.5}, {x, on_page.max.y + 1.5}, stroke::across);
            field.keep_off(Box{{x - 0.3, on_page.min.y}, {x + 0.3, on_page.max.y}});
        }
        for (const PlacedPiece& p : pieces_) label_piece(canvas, page, strip, p, field);
        draw_ruler(canvas, page, {from, to}, plain(), ruler_figures());
    }

    /// The goods there are of an offcut.
    void draw_offcut(Canvas& canvas, const PageFrom& page, const Box& strip) {
        if (goods_.outline.empty()) return;
        const BackFromFace back{goods_.usable_width_mm / 2};
        const Clipped part = clip(in_.mark_on_back ? back(goods_.outline) : goods_.outline, strip);
        Shape shape;
        shape.stroke = stroke::thin;
        for (const Outline& closed : part.closed) shape.closed.push_back(page(closed));
        for (const Path& open : part.open) shape.open.push_back(page(open));
        shape.filled = shape.open.empty();
        shape.fill = ink::tint;
        if (!shape.closed.empty() || !shape.open.empty()) canvas.page.items.push_back(std::move(shape));
    }

    void draw_piece(Canvas& canvas, const PageFrom& page, const Box& strip, const PlacedPiece& p,
                    LabelField& field) {
        const auto clipped = [&](const Region& region, Stroke s, bool filled) {
            Shape shape;
            shape.stroke = s;
            const auto take = [&](const Outline& outline) {
                const Clipped c = clip(outline, strip);
                for (const Outline& closed : c.closed) shape.closed.push_back(page(closed));
                for (const Path& open : c.open) shape.open.push_back(page(open));
            };
            take(region.outer);
            for (const Outline& hole : region.holes) take(hole);
            for (const Outline& o : shape.closed) field.keep_off(o);
            for (const Path& o : shape.open) field.keep_off(o);
            shape.filled = filled && shape.open.empty();
            shape.fill = ink::white;
            if (!shape.closed.empty() || !shape.open.empty()) canvas.page.items.push_back(std::move(shape));
        };
        if (!(p.view.backing.outer == p.view.face.outer)) {
            clipped(p.view.face, {0.55, ink::black, {}}, true);
            clipped({p.view.backing.outer, {}}, {0.3, ink::black, {1.6, 1}}, false);
        } else {
            clipped(p.view.face, {0.55, ink::black, {}}, true);
        }
        // The datum of its marking sheet, its first point a dot.
        const Path datum{{{p.on_roll.first.at, 0, 0}, {p.on_roll.second.at, 0, 0}}};
        for (const Path& part : clip(datum, strip)) {
            canvas.chain({page(part.vertices.front().p), page(part.vertices.back().p)},
                         {0.9, ink::black, {2.4, 1.2, 0.8, 1.2}});
        }
        if (p.on_roll.first.at.x >= strip.min.x && p.on_roll.first.at.x < strip.max.x) {
            const Vec2 z = page(p.on_roll.first.at);
            canvas.disc(z, 1.1, stroke::thin, true, ink::black);
            field.keep_off(Box{z - Vec2{1.1, 1.1}, z + Vec2{1.1, 1.1}});
        }
    }

    void label_piece(Canvas& canvas, const PageFrom& page, const Box& strip, const PlacedPiece& p,
                     LabelField& field) {
        // In the larger part of a piece that a strip cuts in two.
        const Box box = p.on_roll.box;
        const double low = std::max(box.min.x, strip.min.x), high = std::min(box.max.x, strip.max.x);
        if (high <= low || (high - low < 0.5 * box.width() && low == strip.min.x)) return;
        Vec2 middle = inside_of(p.view.face);
        if (middle.x < low || middle.x > high) middle.x = 0.5 * (low + high);

        struct Line {
            std::string text;
            double size;
            Weight weight;
        };
        const double room = std::min(page.scale * (high - low), page.scale * box.height());
        const double big = std::clamp(room * 0.32, 5.0, 13.0);
        const std::vector<Line> all{{called(*p.piece), big, Weight::semibold},
                                    {p.on_roll.turned.empty() ? p.piece->name : p.on_roll.turned, type::small,
                                     p.on_roll.turned.empty() ? Weight::regular : Weight::semibold},
                                    {said(p.on_roll.first.at.x) + " along", type::small, Weight::semibold},
                                    {said(p.on_roll.first.at.y) + " across", type::small, Weight::semibold}};
        const auto inside = [&](const Box& b) {
            const Vec2 c = 0.5 * (b.min + b.max);
            const Vec2 at{(c.x - page.origin.x) / page.scale, (page.origin.y - c.y) / page.scale};
            return side_of(p.view.face, at) == Side::inside;
        };
        for (const std::size_t lines : {std::size_t{4}, std::size_t{2}, std::size_t{1}}) {
            double width = 0, height = 0;
            for (std::size_t i = 0; i < lines; ++i) {
                width = std::max(width, text_width_mm(all[i].text, all[i].size, all[i].weight));
                height += all[i].size * type::line;
            }
            const auto place = field.place_near(width + 1, height + 0.4, page(middle), 1.5, inside,
                                                0.5 * page.scale * (box.width() + box.height()));
            if (!place) continue;
            double y = place->min.y + 0.2;
            const double x = 0.5 * (place->min.x + place->max.x);
            for (std::size_t i = 0; i < lines; ++i) {
                canvas.text({x, y + all[i].size * 0.97}, all[i].text, all[i].size, all[i].weight,
                            Anchor::middle);
                y += all[i].size * type::line;
            }
            return;
        }
        // Too small for its number: outside, led to it.
        const double size = 4.4, width = text_width_mm(all[0].text, size, Weight::semibold) + 0.8;
        if (const auto place =
                field.place({width, size * type::line, page(middle), {0, -1}, 2, 40, 0.5, {}})) {
            canvas.line(place->from, place->to, stroke::thin);
            canvas.fill(grown(place->box, -0.2), ink::white);
            canvas.text({0.5 * (place->box.min.x + place->box.max.x), place->box.min.y + size}, all[0].text,
                        size, Weight::semibold, Anchor::middle);
        }
    }

    /// What the ruler under a strip names beside round figures.
    std::vector<RulerFigure> ruler_figures() const {
        std::vector<RulerFigure> figures{{used_, "used " + said(used_)}};
        if (length_ > used_) figures.push_back({length_, "buy " + said(in_.layout->bought_mm)});
        for (const double at : cuts_) figures.push_back({at, "cut " + said(at)});
        return figures;
    }

    /// As large as the columns of the table hold every figure on paper with content so wide; a figure is never cut short.
    double places_size(double width) const {
        double shares = 0;
        for (const Column& c : kColumns) shares += c.share;
        const std::vector<std::vector<std::string>> all = rows();
        for (const double size : {4.8, 4.4, 4.0, 3.6, 3.2}) {
            bool fits = true;
            for (const auto& row : all)
                for (std::size_t i = 0; i < kColumns.size(); ++i)
                    if (kColumns[i].most_lines == 1)
                        fits = fits && wrapped(row[i], width * kColumns[i].share / shares - kTablePads, size,
                                               kColumns[i].weight)
                                               .size() == 1;
            if (fits) return size;
        }
        return type::least;
    }

    /// What stands under the table.
    std::vector<std::string> notes() const {
        std::vector<std::string> out;
        out.push_back("A piece " + strong("starts") + " at its point nearest the cut end.");
        out.push_back("Chalk on every piece before it is cut: its number, " +
                      strong(side_chalked(in_.mark_on_back)) + ", " + strong("BOW \u2192") +
                      " and the arrow.");
        if (!cuts_.empty()) {
            std::vector<std::string> at;
            for (const double cut : cuts_) at.push_back(strong(said(cut)));
            out.push_back(
                "With every piece chalked, the goods come apart straight across, clear of all of them, at " +
                list_words(at) + " along.");
        }
        for (const PlacedPiece& p : pieces_)
            if (!p.on_roll.turned.empty())
                out.push_back("Piece " + strong(called(*p.piece)) + " lies turned on the roll: " +
                              strong(p.on_roll.turned) + ". Its own arrow holds, not that of the roll.");
        if (const std::string bound = bound_words(*in_.layout, in_.lengths); !bound.empty())
            out.push_back(bound + ".");
        for (const std::string& joint : in_.pattern_at_joints) out.push_back(joint);
        if (const std::string fillers = filler_words(goods_, *in_.layout); !fillers.empty())
            out.push_back("In what is left beside the panels, drawn in a thin line: " + strong(fillers) +
                          ".");
        const std::string aboard = aboard_words(in_);
        if (!aboard.empty()) out.push_back(aboard);
        for (const std::string& o : in_.overrides) out.push_back(strong("Passed over by name: ") + o);
        return out;
    }

    /// What the table takes with its heading and notes on paper so wide.
    double places_height(const PaperSize& paper) const {
        const double width = content_box(paper, true).width();
        double height =
            2 + type::table * type::line + 4 + table_height(width, kColumns, rows(), places_size(width)) + 2;
        for (const std::string& n : notes())
            height += static_cast<double>(wrapped(n, width, kNotes).size()) * kNotes * type::line;
        return height + 1;
    }

    std::vector<std::vector<std::string>> rows() const {
        std::vector<std::vector<std::string>> rows;
        for (const PlacedPiece& p : pieces_) {
            const OnRoll& r = p.on_roll;
            rows.push_back({called(*p.piece), p.piece->name, said(r.box.min.x), r.first.over.text,
                            said(r.first.at.x), said(r.first.at.y), r.second.over.text, said(r.second.at.x),
                            said(r.second.at.y)});
        }
        return rows;
    }

    static constexpr double kNotes = 3.8;
    inline static const std::vector<Column> kColumns{{"piece", 0.7, Anchor::start, Weight::semibold, 1},
                                                     {"name", 2.4, Anchor::start, Weight::regular, 2},
                                                     {"starts", 1.2, Anchor::start, Weight::semibold, 1},
                                                     {"datum at", 1.2, Anchor::start, Weight::regular, 1},
                                                     {"lies along", 1.25, Anchor::start, Weight::semibold, 1},
                                                     {"across", 1.2, Anchor::start, Weight::semibold, 1},
                                                     {"and at", 1.2, Anchor::start, Weight::regular, 1},
                                                     {"along", 1.2, Anchor::start, Weight::semibold, 1},
                                                     {"across", 1.2, Anchor::start, Weight::semibold, 1}};

    void draw_places(Flow& flow) {
        flow.skip(2);
        flow.heading("Strike each datum line through these two points, then mark from its own sheet", 20);
        draw_table(flow, kColumns, rows(), places_size(flow.area().width()));
        for (const std::string& n : notes()) flow.paragraph(n, kNotes);
    }

    static constexpr Resolution kYardExact{0.001};

    const PaperInput& in_;
    const Goods& goods_;
    const std::string name_;
    double used_ = 0, length_ = 0;  ///< length_: what is drawn
    std::vector<PlacedPiece> pieces_;
    std::vector<double> cuts_;  ///< straight across, along from the cut end
};

}  // namespace
}  // namespace paper

Sheet roll_sheet(const PaperInput& in) {
    SPILE_CHECK(in.layout && in.goods && in.pieces);
    Sheet sheet;
    sheet.file_stem = "roll";
    sheet.title = "The roll";
    sheet.purpose = std::string("For the bench: where each piece lies, seen from the ") +
                    (in.mark_on_back ? "back, mirrored" : "face");
    sheet.cutting = true;
    if (in.layout->stretches.empty()) {
        sheet.pages = paper::RollSheet(in, "").pages();
        return sheet;
    }
    std::vector<LayoutPiece> pieces;
    for (const Piece* piece : cut_from_goods(in)) pieces.push_back({piece->id, piece->cut.face});
    const auto drawn = [&](std::size_t k, int before, int after) {
        const Goods goods = goods_on(*in.goods, *in.layout, k);
        const Layout layout = one_stretch(pieces, *in.goods, *in.layout, k);
        PaperInput part = in;
        part.goods = &goods;
        part.layout = &layout;
        return paper::RollSheet(part, stretch_words(*in.layout, k)).pages(before, after);
    };
    // How many there are is known when all are drawn; then they are numbered through.
    const std::size_t count = stretch_count(*in.layout);
    std::vector<int> pages(count);
    int all = 0;
    for (std::size_t k = 0; k < count; ++k) all += pages[k] = static_cast<int>(drawn(k, 0, 0).size());
    for (std::size_t k = 0; k < count; ++k) {
        const int before = static_cast<int>(sheet.pages.size());
        for (Page& page : drawn(k, before, all - before - pages[k])) sheet.pages.push_back(std::move(page));
    }
    return sheet;
}

}  // namespace spile
