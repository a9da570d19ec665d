// The drawing of a marking sheet.
#include <algorithm>
#include <cmath>

#include "core/base/check.h"
#include "core/paper/marking_parts.h"

namespace spile::paper {
namespace {

constexpr double kCircle = 5.0;  ///< em of a mark's number
constexpr double kLetter = 4.2;
constexpr double kNote = 4.2;
constexpr double kScaleBar = 50;  ///< room for the scale bar and its words
constexpr double kTop = 0.97;     ///< ascender and descender of the shipped font, em
constexpr double kDeep = 0.242;

/// A running size at one of the two datum lines, with the marks it belongs to.
struct Rung {
    double mm = 0;
    std::string names, figure;
};

class Drawing {
  public:
    /// `beside` mm at the right are kept for what to chalk.
    Drawing(Canvas& canvas, const Box& area, const Box& spare, double beside, const MarkingPlan& plan,
            const Piece& piece)
        : canvas_(canvas),
          area_(area),
          spare_(spare),
          beside_(beside),
          plan_(plan),
          piece_(piece),
          field_(area) {}

    /// False when there was no room for the arrow: the drawing is then unfinished.
    bool draw() {
        legend();
        const std::vector<Rung> overs = rungs(true), ups = rungs(false);
        lay_out(overs, ups);
        datum_lines();
        zero();
        // Running sizes first: their room is set aside at the left and below.
        if (show_ups_) draw_ups(ups);
        if (show_overs_ != Overs::none) draw_overs(overs);
        diagonals();
        lines();
        marks();
        studs();
        if (!arrow()) return false;
        hole_notes();
        check_notes();
        stud_notes();
        line_names();
        return true;
    }

    /// Page mm per mm of the piece.
    double scale() {
        legend();
        lay_out(rungs(true), rungs(false));
        return page_.scale;
    }

  private:
    enum class Overs { none, level, upright };

    std::vector<Rung> rungs(bool over) const {
        std::vector<Rung> out;
        std::vector<std::size_t> wanted;
        for (const PlanLine& l : plan_.lines)
            if (l.cut == Cut::through)
                for (const PlanStroke& s : l.strokes) wanted.push_back(s.from);
        for (const PlanHole& h : plan_.holes) wanted.push_back(h.centre);
        std::vector<Rung> all;
        for (const std::size_t m : wanted) {
            const PrintedLength& p = over ? plan_.marks[m].over : plan_.marks[m].up;
            all.push_back({p.printed_mm, plan_.marks[m].name, p.text});
        }
        std::stable_sort(all.begin(), all.end(), [](const Rung& a, const Rung& b) { return a.mm < b.mm; });
        for (const Rung& r : all) {
            if (r.mm == 0) continue;
            if (!out.empty() && out.back().mm == r.mm)
                out.back().names += ", " + r.names;
            else
                out.push_back(r);
        }
        return out;
    }

    double rung_width(const Rung& r) const {
        const double names =
            r.names.empty() ? 0 : text_width_mm(r.names + ": ", type::small, Weight::regular);
        return names + text_width_mm(r.figure, type::figure, Weight::semibold);
    }

    void legend() {
        double y = area_.min.y + 4.2, x = area_.min.x;
        const auto room = [&](double width) {
            if (x == area_.min.x || x + width <= area_.max.x) return;
            x = area_.min.x;
            y += type::small * 1.5;
        };
        const auto entry = [&](const Stroke& s, const std::string& words) {
            room(15.5 + text_width_mm(words, type::small, Weight::regular));
            canvas_.line({x, y - 1.3}, {x + 14, y - 1.3}, s);
            x = canvas_.text({x + 15.5, y}, words, type::small).max.x + 5;
        };
        entry(stroke::cut_through, "CUT THROUGH");
        if (has_backing_lines()) entry(stroke::backing_only, "BACKING ONLY");
        entry(stroke::datum, "datum, sizes from 0");
        room(kScaleBar);
        bar_at_ = {x, y};
        top_ = y + 2.2;
        field_.keep_off(Box{area_.min, {area_.max.x, top_}});
    }

    bool has_backing_lines() const {
        for (const PlanLine& l : plan_.lines)
            if (l.cut == Cut::backing_only) return true;
        for (const PlanHole& h : plan_.holes)
            for (const PlanCircle& c : h.circles)
                if (c.cut && *c.cut == Cut::backing_only) return true;
        return false;
    }

    void lay_out(const std::vector<Rung>& overs, const std::vector<Rung>& ups) {
        const double row = type::figure * (kTop + kDeep) + 0.4;
        double left = 0, tall = 0, wide = 0;
        for (const Rung& r : ups) left = std::max(left, rung_width(r));
        for (const Rung& r : overs) tall = std::max(tall, rung_width(r)), wide += rung_width(r) + 3;
        const double clear = 9;  // for the numbers of the marks

        // The running sizes get room unless the drawing would suffer; then the table alone has them.
        show_ups_ = row * static_cast<double>(ups.size()) <= area_.max.y - top_ - 2 * clear &&
                    left <= area_.width() * 0.4;
        left_ = show_ups_ ? left + 8.5 : clear;
        const double right = clear + beside_;
        const double across = area_.width() - left_ - right;
        show_overs_ = wide <= across + right                              ? Overs::level
                      : row * static_cast<double>(overs.size()) <= across ? Overs::upright
                                                                          : Overs::none;
        if (tall > area_.height() * 0.3 && show_overs_ == Overs::upright) show_overs_ = Overs::none;
        const double below = show_overs_ == Overs::level     ? row + 5
                             : show_overs_ == Overs::upright ? tall + 5
                                                             : clear;
        const Box inner{{area_.min.x + left_, top_ + clear}, {area_.max.x - right, area_.max.y - below - 2}};
        Box drawing = plan_.box;
        drawing.add(Vec2{0, 0});
        page_ = page_from(drawing, inner);
        low_ = page_(Vec2{0, 0}).y;
        zero_x_ = page_(Vec2{0, 0}).x;
        draw_scale_bar(canvas_, bar_at_, page_, plan_.lengths, kScaleBar - 16);
    }

    void datum_lines() {
        const double over = page_(Vec2{plan_.box.max.x, 0}).x + 7, up = page_(Vec2{0, plan_.box.max.y}).y - 7;
        canvas_.line({zero_x_ - 5, low_}, {std::min(over, area_.max.x), low_}, stroke::datum);
        canvas_.line({zero_x_, low_ + 5}, {zero_x_, std::max(up, top_)}, stroke::datum);
        field_.disturb({zero_x_ - 5, low_}, {over, low_}, 5);
        field_.disturb({zero_x_, low_ + 5}, {zero_x_, up}, 5);
    }

    /// One zero, where the two lines cross.
    void zero() {
        const double width = text_width_mm("0", type::figure, Weight::semibold);
        field_.keep_off(canvas_.text({zero_x_ - width - 1.5, low_ + 1 + type::figure * kTop}, "0",
                                     type::figure, Weight::semibold));
    }

    /// Figures at the left, each beside its height; a line from it to the datum.
    void draw_ups(const std::vector<Rung>& ups) {
        const double height = type::figure * (kTop + kDeep);
        std::vector<Interval> wanted;  // downwards
        for (std::size_t i = ups.size(); i-- > 0;) wanted.push_back({low_ - ups[i].mm * page_.scale, height});
        const auto places = spread(wanted, 0.3, top_, low_ + 1);
        if (!places) return;
        const double right = zero_x_ - 6;
        for (std::size_t i = 0; i < ups.size(); ++i) {
            const Rung& r = ups[ups.size() - 1 - i];
            const double middle = (*places)[i];
            const double baseline = middle + type::figure * (kTop - kDeep) / 2;
            rung_text(r, {right - 1.2 - rung_width(r), baseline}, 0);
            canvas_.chain({{right - 0.6, middle},
                           {right + 1.6, middle},
                           {zero_x_ - 1.6, wanted[i].wanted},
                           {zero_x_, wanted[i].wanted}},
                          stroke::thin);
            guide({zero_x_, wanted[i].wanted}, r, false);
        }
    }

    void draw_overs(const std::vector<Rung>& overs) {
        const double height = type::figure * (kTop + kDeep);
        const bool level = show_overs_ == Overs::level;
        std::vector<Interval> wanted;
        for (const Rung& r : overs)
            wanted.push_back({zero_x_ + r.mm * page_.scale, level ? rung_width(r) : height});
        const auto places = spread(wanted, level ? 3 : 0.3, zero_x_ - 1, area_.max.x);
        if (!places) return;
        const double top = low_ + 5;
        for (std::size_t i = 0; i < overs.size(); ++i) {
            const Rung& r = overs[i];
            const double middle = (*places)[i];
            if (level)
                rung_text(r, {middle - rung_width(r) / 2, top + 0.8 + type::figure * kTop}, 0);
            else
                rung_text(r, {middle + type::figure * (kTop - kDeep) / 2, top + 1 + rung_width(r)}, 90);
            canvas_.chain({{middle, top + 0.4},
                           {middle, top - 1},
                           {wanted[i].wanted, low_ + 1.6},
                           {wanted[i].wanted, low_}},
                          stroke::thin);
            guide({wanted[i].wanted, low_}, r, true);
        }
        field_.keep_off(Box{{area_.min.x, top - 1}, {area_.max.x, area_.max.y}});
    }

    void rung_text(const Rung& r, Vec2 at, double angle) {
        const Vec2 along = angle == 0 ? Vec2{1, 0} : Vec2{0, -1};
        if (!r.names.empty()) {
            field_.keep_off(canvas_.text(at, r.names + ":", type::small, Weight::regular, Anchor::start,
                                         ink::black, angle));
            at = at + text_width_mm(r.names + ": ", type::small, Weight::regular) * along;
        }
        field_.keep_off(
            canvas_.text(at, r.figure, type::figure, Weight::semibold, Anchor::start, ink::black, angle));
    }

    /// Dotted from a tick across to the furthest of its marks; left out when there would be too many to follow.
    void guide(Vec2 tick, const Rung& r, bool over) {
        if (plan_.marks.size() > 24) return;
        Vec2 end = tick;
        for (const PlanMark& m : plan_.marks) {
            const PrintedLength& p = over ? m.over : m.up;
            if (p.text != r.figure || m.name[0] > '9') continue;
            const Vec2 at = page_(m.true_mm);
            end = over ? Vec2{tick.x, std::min(end.y, at.y)} : Vec2{std::max(end.x, at.x), tick.y};
        }
        if (end == tick) return;
        canvas_.line(tick, end, stroke::guide);
        field_.disturb(tick, end, 1.2);
    }

    void diagonals() {
        for (const PlanCheck& c : plan_.checks) {
            const Vec2 a = page_(plan_.marks[c.a].true_mm), b = page_(plan_.marks[c.b].true_mm);
            canvas_.line(a, b, stroke::diagonal);
            field_.disturb(a, b, 4);
        }
    }

    void lines() {
        // The square corner of a round is a mark: thin lines lead to it.
        for (const PlanLine& l : plan_.lines)
            for (const PlanRound& r : l.rounds) {
                const Vec2 corner = plan_.marks[r.mark].true_mm;
                for (const PlanStroke& s : l.strokes) {
                    if (s.from != r.mark && s.to != r.mark) continue;
                    const Vec2 other = plan_.marks[s.from == r.mark ? s.to : s.from].true_mm;
                    const double touch = (s.from == r.mark ? r.touch_after : r.touch_before).printed_mm;
                    canvas_.line(page_(corner), page_(corner + touch * unit(other - corner)), stroke::thin);
                }
            }
        draw_cut_lines(canvas_, page_, plan_.view);
        field_.keep_off(page_(plan_.view.face.outer));
        for (const Outline& h : plan_.view.face.holes) field_.keep_off(page_(h));
        field_.keep_off(page_(plan_.view.backing.outer));
        for (const Outline& h : plan_.view.backing.holes) field_.keep_off(page_(h));
        for (const PlanHole& h : plan_.holes)
            for (const PlanCircle& c : h.circles)
                if (!c.cut)
                    canvas_.disc(page_(plan_.marks[h.centre].true_mm), c.true_radius_mm * page_.scale,
                                 stroke::guide, false);
    }

    /// Outwards at a mark of a line: between the normals of the two strokes that meet there.
    Vec2 outwards(const PlanLine& line, std::size_t mark) const {
        Vec2 out{0, 0};
        for (const PlanStroke& s : line.strokes) {
            std::vector<std::size_t> chain{s.from};
            chain.insert(chain.end(), s.via.begin(), s.via.end());
            chain.push_back(s.to);
            for (std::size_t i = 0; i + 1 < chain.size(); ++i) {
                if (chain[i] != mark && chain[i + 1] != mark) continue;
                const Vec2 d = plan_.marks[chain[i + 1]].true_mm - plan_.marks[chain[i]].true_mm;
                if (norm2(d) > 0) out = out - left_of(unit(d));
            }
        }
        if (norm2(out) == 0) return {0, -1};
        out = unit(out);
        return {out.x, -out.y};  // page space is y down
    }

    void white_under(const Box& box) { canvas_.fill(grown(box, -0.4), ink::white); }

    void lead(const LabelField::Placed& p) {
        if (p.leader) canvas_.line(p.from, lerp(p.to, p.from, 0.12), stroke::thin);
    }

    void mark_number(std::size_t mark, Vec2 prefer) {
        const std::string& name = plan_.marks[mark].name;
        const double radius = std::max(3.1, text_width_mm(name, kCircle, Weight::semibold) / 2 + 0.9);
        const auto place = field_.place(
            {2 * radius, 2 * radius, page_(plan_.marks[mark].true_mm), prefer, 0.7, 26, 2.5, {}});
        if (!place) return;  // the table and the order round the piece still name it
        lead(*place);
        const Vec2 c = 0.5 * (place->box.min + place->box.max);
        canvas_.disc(c, radius, {0.4, ink::black, {}}, true);
        canvas_.text({c.x, c.y + kCircle * 0.727 / 2}, name, kCircle, Weight::semibold, Anchor::middle);
    }

    void marks() {
        for (const PlanHole& h : plan_.holes) {
            const Vec2 c = page_(plan_.marks[h.centre].true_mm);
            const double arm =
                std::max(3.0, h.circles.empty() ? 3.0 : h.circles.back().true_radius_mm * page_.scale + 1.5);
            canvas_.line(c - Vec2{arm, 0}, c + Vec2{arm, 0}, stroke::thin);
            canvas_.line(c - Vec2{0, arm}, c + Vec2{0, arm}, stroke::thin);
            field_.keep_off(Box{c - 0.7 * Vec2{arm, arm}, c + 0.7 * Vec2{arm, arm}});
        }
        for (const PlanLine& l : plan_.lines) {
            const bool letter = l.cut == Cut::backing_only;
            if (letter) continue;
            for (const PlanStroke& s : l.strokes) {
                mark_number(s.from, outwards(l, s.from));
                for (const std::size_t m : s.via) mark_number(m, outwards(l, m));
            }
        }
        for (const PlanHole& h : plan_.holes) mark_number(h.centre, unit(Vec2{-1, -1}));
        for (const PlanSlit& s : plan_.slits) mark_number(s.from, {0, -1}), mark_number(s.to, {0, -1});
        for (const PlanLine& l : plan_.lines) {
            if (l.cut != Cut::backing_only) continue;
            const auto letter = [&](std::size_t m) { backing_letter(m, -outwards(l, m)); };
            for (const PlanStroke& s : l.strokes) {
                letter(s.from);
                for (const std::size_t m : s.via) letter(m);
            }
            if (!l.closed) letter(l.strokes.back().to);
        }
    }

    void backing_letter(std::size_t mark, Vec2 prefer) {
        const Vec2 at = page_(plan_.marks[mark].true_mm);
        canvas_.disc(at, 0.8, stroke::thin, true, ink::black);
        note({{plan_.marks[mark].name, kLetter, Weight::semibold}}, at, prefer, 0.9, 16, {});
    }

    struct NoteLine {
        std::string text;
        double size = kNote;
        Weight weight = Weight::regular;
    };
    /// Lines of text as one label; true when there was room.
    bool note(const std::vector<NoteLine>& lines, Vec2 at, Vec2 prefer, double near, double reach,
              std::function<bool(const Box&)> allowed) {
        double width = 0, height = 0;
        for (const NoteLine& l : lines) {
            width = std::max(width, text_width_mm(l.text, l.size, l.weight));
            height += l.size * type::line;
        }
        const auto place =
            field_.place({width + 0.8, height + 0.4, at, prefer, near, reach, 4, std::move(allowed)});
        if (!place) return false;
        white_under(place->box);
        lead(*place);
        double y = place->box.min.y + 0.2;
        for (const NoteLine& l : lines) {
            canvas_.text({place->box.min.x + 0.4, y + l.size * kTop}, l.text, l.size, l.weight);
            y += l.size * type::line;
        }
        return true;
    }

    void hole_notes() {
        for (const PlanHole& h : plan_.holes) {
            std::vector<NoteLine> lines;
            if (!h.id.empty())
                lines.push_back({fitted(h.id, 50, kNote, Weight::semibold).utf8, kNote, Weight::semibold});
            for (const PlanCircle& c : h.circles)
                lines.push_back({c.radius.text + "  " + name_of(c), kNote, Weight::regular});
            const Vec2 at = page_(plan_.marks[h.centre].true_mm);
            const double radius = h.circles.empty() ? 0 : h.circles.back().true_radius_mm * page_.scale;
            if (!note(lines, at, {1, 0}, radius + 2.5, radius + 45, {}) && lines.size() > 1)
                note({lines.front()}, at, {1, 0}, radius + 2.5, radius + 45, {});
        }
    }

    /// The arrow with its flag and what to chalk beside it, as one block inside the piece as large as there is room for.
    bool arrow() {
        const auto inside = [&](const Box& b) { return side_on_page(b); };
        const Vec2 wanted = page_(inside_of(plan_.view.face));
        for (const double length : {46.0, 36.0, 28.0, 22.0}) {
            const ArrowBlock at_zero = block_at({0, 0}, length);
            const auto box = field_.place_near(at_zero.box.width(), at_zero.box.height(), wanted, 2, inside);
            if (!box) continue;
            draw_block(block_at(box->min - at_zero.box.min, length));
            return true;
        }
        // Too small a piece: in the spare place, else beside it.
        for (const double length : {36.0, 28.0, 22.0}) {
            const ArrowBlock at_zero = block_at({0, 0}, length);
            const Vec2 room{spare_.max.x - spare_.min.x - at_zero.box.width(),
                            spare_.max.y - spare_.min.y - at_zero.box.height()};
            if (spare_.empty() || room.x < 0 || room.y < 0) continue;
            draw_block(block_at(spare_.min + 0.5 * room - at_zero.box.min, length));
            return true;
        }
        const ArrowBlock at_zero = block_at({0, 0}, 22);
        const Vec2 aside{area_.max.x - at_zero.box.width() / 2, 0.5 * (top_ + low_)};
        const auto box = field_.place_near(at_zero.box.width(), at_zero.box.height(), aside, 1, {});
        if (box) draw_block(block_at(box->min - at_zero.box.min, 22));
        return box.has_value();
    }

    struct ArrowBlock {
        Witness witness;
        std::vector<Text> words;
        Box box;
    };
    ArrowBlock block_at(Vec2 middle, double length) const {
        ArrowBlock b;
        b.witness = witness_at(middle, length, plan_.view, page_);
        b.box = witness_box(b.witness);
        const Witness& w = b.witness;
        const Vec2 ahead = unit(w.head - w.tail), port = unit(w.flag - w.tail);
        // A word whose box begins `gap` beyond a point in one direction.
        const auto word = [&](const std::string& s, double size, Vec2 at, Vec2 away, double gap) {
            const Vec2 half{text_width_mm(s, size, Weight::semibold) / 2, size * (kTop + kDeep) / 2};
            const Vec2 centre = at + gap * away + Vec2{half.x * away.x, half.y * away.y};
            Text t{{centre.x, centre.y + size * (kTop - kDeep) / 2},
                   s,
                   size,
                   Weight::semibold,
                   Anchor::middle,
                   0,
                   ink::black};
            b.box.add(text_box_mm(t));
            b.words.push_back(std::move(t));
        };
        const double size = length < 30 ? 4.0 : 4.8;
        word("BOW \u00b7 TOP", size, w.head, ahead, 2);
        word("PORT", size, w.flag, port, 1.6);
        word(std::to_string(piece_.number), length < 30 ? 9 : 13, w.tail, -ahead, 2.4);
        return b;
    }
    void draw_block(const ArrowBlock& block) {
        draw_witness(canvas_, block.witness);
        for (const Text& t : block.words) {
            canvas_.fill(grown(text_box_mm(t), -0.3), ink::white);
            canvas_.text(t.at_mm, t.utf8, t.size_mm, t.weight, t.anchor);
        }
    }

    bool side_on_page(const Box& b) const {
        const Vec2 c = 0.5 * (b.min + b.max);
        const Vec2 p{(c.x - page_.origin.x) / page_.scale, (page_.origin.y - c.y) / page_.scale};
        return side_of(plan_.view.face, p) == Side::inside;
    }

    void check_notes() {
        for (const PlanCheck& c : plan_.checks) {
            const std::string words =
                plan_.marks[c.a].name + "\u2013" + plan_.marks[c.b].name + " must read ";
            const Vec2 a = page_(plan_.marks[c.a].true_mm), b = page_(plan_.marks[c.b].true_mm);
            const Vec2 side = left_of(unit(b - a));
            for (const double t : {0.72, 0.28, 0.62, 0.38, 0.82, 0.18, 0.5})
                if (note({{words + c.reads.text, kNote, Weight::semibold}}, lerp(a, b, t),
                         side.y < 0 ? side : -side, 0.8, 9, {}))
                    break;
        }
    }

    void studs() {
        for (const Stud& s : plan_.view.studs) {
            const Vec2 c = page_(s.at_mm);
            canvas_.disc(c, 1.3, {0.3, ink::black, {}}, true);
            canvas_.line(c - Vec2{1.3, 0}, c + Vec2{1.3, 0}, stroke::thin);
            field_.keep_off(Box{c - Vec2{1.3, 1.3}, c + Vec2{1.3, 1.3}});
        }
    }

    void stud_notes() {
        for (const Stud& s : plan_.view.studs) {
            const Vec2 c = page_(s.at_mm);
            if (!note({{s.id + " aboard, not here", type::small, Weight::regular}}, c, {1, 0}, 2, 22, {}))
                note({{s.id, type::small, Weight::regular}}, c, {1, 0}, 2, 22, {});
        }
    }

    /// The words of each kind of line beside it, once.
    void line_names() {
        for (const Cut cut : {Cut::through, Cut::backing_only}) {
            const PlanStroke* longest = nullptr;
            double most = 0;
            for (const PlanLine& l : plan_.lines)
                for (const PlanStroke& s : l.strokes) {
                    if (l.cut != cut || l.hole || s.how != PlanStroke::How::straight) continue;
                    const Vec2 a = plan_.marks[s.from].true_mm, b = plan_.marks[s.to].true_mm;
                    if (std::fabs(a.y) + std::fabs(b.y) < 1 || distance(a, b) <= most)
                        continue;  // not the datum
                    longest = &s;
                    most = distance(a, b);
                }
            if (!longest) continue;
            const Vec2 a = page_(plan_.marks[longest->from].true_mm),
                       b = page_(plan_.marks[longest->to].true_mm);
            const Vec2 inside = unit(Vec2{(b - a).y, -(b - a).x});
            for (const double t : {0.5, 0.35, 0.65, 0.25, 0.75})
                if (note({{cut == Cut::through ? "CUT THROUGH" : "BACKING ONLY", type::small,
                           Weight::semibold}},
                         lerp(a, b, t), cut == Cut::through ? -inside : inside, 1.2, 9, {}))
                    break;
        }
    }

    Canvas& canvas_;
    Box area_, spare_;
    double beside_;
    const MarkingPlan& plan_;
    const Piece& piece_;
    LabelField field_;
    PageFrom page_;
    double top_ = 0, left_ = 0, low_ = 0, zero_x_ = 0;
    Vec2 bar_at_;
    bool show_ups_ = false;
    Overs show_overs_ = Overs::none;
};

}  // namespace

double marking_scale(const Box& area, const MarkingPlan& plan, const Piece& piece) {
    Canvas scratch(area.max.x, area.max.y);
    return Drawing(scratch, area, {}, 0, plan, piece).scale();
}

void draw_marking(Canvas& canvas, const Box& area, const Box& spare, const MarkingPlan& plan,
                  const Piece& piece) {
    const std::size_t begun = canvas.page.items.size();
    for (double beside = 0; beside < area.width(); beside += 35) {
        if (Drawing(canvas, area, spare, beside, plan, piece).draw()) return;
        canvas.page.items.resize(begun);
    }
    SPILE_CHECK(false);  // a sheet without its arrow could be marked the wrong way round
}

}  // namespace spile::paper
