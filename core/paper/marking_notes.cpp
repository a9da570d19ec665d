// The labels of a marking sheet's drawing, in the order in which they get their room.
#include <algorithm>
#include <cmath>

#include "core/paper/aboard.h"
#include "core/paper/marking_drawing.h"

namespace spile::paper {
namespace {

constexpr double kCircle = 5.0;  ///< em of a mark's number
constexpr double kLetter = 4.2;
constexpr double kLeastArrow = 22;

}  // namespace

Vec2 Drawing::outwards(const PlanLine& line, std::size_t mark) const {
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

void Drawing::lead(const LabelField::Placed& p) {
    if (p.leader) canvas_.line(p.from, lerp(p.to, p.from, 0.12), stroke::thin);
}

void Drawing::mark_number(std::size_t mark, Vec2 prefer, double stop) {
    const std::string& name = plan_.marks[mark].name;
    const double radius = std::max(3.1, text_width_mm(name, kCircle, Weight::semibold) / 2 + 0.9);
    const auto place = field_.place(
        {2 * radius, 2 * radius, page_(plan_.marks[mark].true_mm), prefer, 0.7, 26, 2.5, {}, stop});
    if (!place) return;  // the table and the order round the piece still name it
    lead(*place);
    const Vec2 c = 0.5 * (place->box.min + place->box.max);
    canvas_.disc(c, radius, {0.4, ink::black, {}}, true);
    canvas_.text({c.x, c.y + kCircle * 0.727 / 2}, name, kCircle, Weight::semibold, Anchor::middle);
}

double Drawing::hole_arm(const PlanHole& hole) const {
    const double largest = hole.circles.empty() ? 0 : hole.circles.back().true_radius_mm * page_.scale;
    return std::max(3.0, largest + 1.5);
}

void Drawing::marks() {
    for (const PlanHole& h : plan_.holes) {
        const Vec2 c = page_(plan_.marks[h.centre].true_mm);
        const double arm = hole_arm(h);
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
    for (const PlanHole& h : plan_.holes) mark_number(h.centre, unit(Vec2{-1, -1}), hole_arm(h));
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

void Drawing::backing_letter(std::size_t mark, Vec2 prefer) {
    const Vec2 at = page_(plan_.marks[mark].true_mm);
    canvas_.disc(at, 0.8, stroke::thin, true, ink::black);
    note({{plan_.marks[mark].name, kLetter, Weight::semibold}}, at, prefer, 0.9, 16);
}

bool Drawing::note(const std::vector<NoteLine>& lines, Vec2 at, Vec2 prefer, double near, double reach,
                   double stop) {
    double width = 0, height = 0;
    for (const NoteLine& l : lines) {
        width = std::max(width, text_width_mm(l.text, l.size, l.weight));
        height += l.size * type::line;
    }
    const auto place = field_.place({width + 0.8, height + 0.4, at, prefer, near, reach, 4, {}, stop});
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

void Drawing::hole_notes() {
    for (const PlanHole& h : plan_.holes) {
        std::vector<NoteLine> lines;
        if (!h.id.empty())
            lines.push_back({fitted(h.id, 50, kNote, Weight::semibold).utf8, kNote, Weight::semibold});
        for (const PlanCircle& c : h.circles)
            lines.push_back({c.radius.text + "  " + name_of(c), kNote, Weight::regular});
        const Vec2 at = page_(plan_.marks[h.centre].true_mm);
        if (!note(lines, at, {1, 0}, 1, 45, hole_arm(h)) && lines.size() > 1)
            note({lines.front()}, at, {1, 0}, 1, 45, hole_arm(h));
    }
    for (const HoleReport& h : plan_.view.holes)
        if (!h.round)
            note({{fitted(h.id, 50, kNote, Weight::semibold).utf8, kNote, Weight::semibold}},
                 page_(h.centre_mm), {1, 0}, 1, 45);
}

bool Drawing::arrow() {
    const auto inside = [&](const Box& b) { return side_on_page(b); };
    const Vec2 wanted = page_(inside_of(plan_.view.face));
    const double reach = 0.5 * page_.scale * (plan_.box.width() + plan_.box.height());
    for (const double length : {46.0, 36.0, 28.0, kLeastArrow}) {
        const ArrowBlock at_zero = block_at({0, 0}, length);
        const auto box =
            field_.place_near(at_zero.box.width(), at_zero.box.height(), wanted, 2, inside, reach);
        if (!box) continue;
        draw_block(block_at(box->min - at_zero.box.min, length));
        return true;
    }
    // Too small a piece: in the spare place, else beside it.
    for (const double length : {36.0, 28.0, kLeastArrow}) {
        const ArrowBlock at_zero = block_at({0, 0}, length);
        const Vec2 room{spare_.max.x - spare_.min.x - at_zero.box.width(),
                        spare_.max.y - spare_.min.y - at_zero.box.height()};
        if (spare_.empty() || room.x < 0 || room.y < 0) continue;
        draw_block(block_at(spare_.min + 0.5 * room - at_zero.box.min, length));
        return true;
    }
    return false;
}

void Drawing::arrow_aside() {
    const ArrowBlock at_zero = block_at({0, 0}, kLeastArrow);
    const Box room = kept_.y > 0 ? Box{{area_.min.x, top_}, {area_.max.x, top_ + kept_.y}}
                                 : Box{{area_.max.x - kept_.x, top_}, {area_.max.x, low_}};
    const Vec2 middle = 0.5 * (room.min + room.max) - 0.5 * (at_zero.box.min + at_zero.box.max);
    const ArrowBlock block = block_at(middle, kLeastArrow);
    field_.keep_off(block.box);
    draw_block(block);
}

Vec2 Drawing::needs() const {
    const Box box = block_at({0, 0}, kLeastArrow).box;
    // Over the drawing or at its right, whichever takes less of it away.
    return box.width() > 1.3 * box.height() ? Vec2{0, box.height() + 3} : Vec2{box.width() + 3, 0};
}

Drawing::ArrowBlock Drawing::block_at(Vec2 middle, double length) const {
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
    word("BOW", size, w.head, ahead, 2);
    word("PORT", size, w.flag, port, 1.6);
    // The number behind the tail, no wider than the arrow is long, clear of the flag's word.
    const Fitted number = fitted(called(piece_), length * 0.8, length < 30 ? 9 : 13, Weight::semibold);
    const Box before = b.box;
    for (double gap = 2.4;; gap += 1) {
        word(number.utf8, number.size_mm, w.tail, -ahead, gap);
        if (!overlap(text_box_mm(b.words[1]), text_box_mm(b.words[2]))) break;
        b.words.pop_back();
        b.box = before;
    }
    // What is chalked with them, along the shaft; where it would touch another word the step alone says it.
    const Box said = b.box;
    word(side_chalked(plan_.on_back), type::small, lerp(w.tail, w.head, 0.5), -port, 1.4);
    const Box last = text_box_mm(b.words.back());
    for (std::size_t i = 0; i + 1 < b.words.size(); ++i)
        if (overlap(text_box_mm(b.words[i]), last)) {
            b.words.pop_back();
            b.box = said;
            break;
        }
    return b;
}

void Drawing::draw_block(const ArrowBlock& block) {
    draw_witness(canvas_, block.witness);
    for (const Text& t : block.words) {
        canvas_.fill(grown(text_box_mm(t), -0.3), ink::white);
        canvas_.text(t.at_mm, t.utf8, t.size_mm, t.weight, t.anchor);
    }
}

bool Drawing::side_on_page(const Box& b) const {
    const Vec2 c = 0.5 * (b.min + b.max);
    const Vec2 p{(c.x - page_.origin.x) / page_.scale, (page_.origin.y - c.y) / page_.scale};
    return side_of(plan_.view.face, p) == Side::inside;
}

void Drawing::check_notes() {
    for (const PlanCheck& c : plan_.checks) {
        const std::string words = plan_.marks[c.a].name + "\u2013" + plan_.marks[c.b].name + " must read ";
        const Vec2 a = page_(plan_.marks[c.a].true_mm), b = page_(plan_.marks[c.b].true_mm);
        const Vec2 side = left_of(unit(b - a));
        for (const double t : {0.72, 0.28, 0.62, 0.38, 0.82, 0.18, 0.5})
            if (note({{words + c.reads.text, kNote, Weight::semibold}}, lerp(a, b, t),
                     side.y < 0 ? side : -side, 0.8, 9))
                break;
    }
}

void Drawing::match_marks() {
    for (const MatchStroke& m : plan_.view.match_strokes) {
        const Vec2 a = page_(m.from_mm), b = page_(m.to_mm);
        canvas_.line(a, b, stroke::match);
        field_.keep_off(a, b);
    }
    for (const MatchStroke& m : plan_.view.match_strokes) {
        const Vec2 a = page_(m.from_mm), b = page_(m.to_mm);
        note({{m.name, kLetter, Weight::semibold}}, b, unit(b - a), 0.6, 16);
    }
}

void Drawing::studs() {
    for (const Stud& s : plan_.view.studs) {
        const Vec2 c = page_(s.at_mm);
        canvas_.disc(c, 1.3, {0.3, ink::black, {}}, true);
        canvas_.line(c - Vec2{1.3, 0}, c + Vec2{1.3, 0}, stroke::thin);
        field_.keep_off(Box{c - Vec2{1.3, 1.3}, c + Vec2{1.3, 1.3}});
    }
}

void Drawing::set_notes() {
    for (const PlanSet& s : plan_.sets) {
        const Box box = page_(box_of(s.line));
        const Vec2 middle = 0.5 * (box.min + box.max);
        std::vector<NoteLine> words{{s.name, kLetter, Weight::semibold}};
        if (!s.on_marked_side)
            words.push_back({plan_.on_back ? "on the face" : "on the back", type::small, Weight::regular});
        if (!note(words, middle, {0, -1}, 0, 30)) note({words.front()}, middle, {0, -1}, 0, 30);
    }
}

void Drawing::stud_notes() {
    for (const Stud& s : plan_.view.studs) {
        const Vec2 c = page_(s.at_mm);
        if (s.by_rule ||
            !note({{s.id + " aboard, not here", type::small, Weight::regular}}, c, {1, 0}, 2, 22))
            note({{s.id, type::small, Weight::regular}}, c, {1, 0}, 2, 22);
    }
}

void Drawing::line_names() {
    for (const Cut cut : {Cut::through, Cut::backing_only}) {
        const PlanStroke* longest = nullptr;
        double most = 0;
        for (const PlanLine& l : plan_.lines)
            for (const PlanStroke& s : l.strokes) {
                if (l.cut != cut || l.hole || s.how != PlanStroke::How::straight) continue;
                const Vec2 a = plan_.marks[s.from].true_mm, b = plan_.marks[s.to].true_mm;
                if (std::fabs(a.y) + std::fabs(b.y) < 1 || distance(a, b) <= most) continue;  // not the datum
                longest = &s;
                most = distance(a, b);
            }
        if (!longest) continue;
        const Vec2 a = page_(plan_.marks[longest->from].true_mm), b = page_(plan_.marks[longest->to].true_mm);
        const Vec2 inside = unit(Vec2{(b - a).y, -(b - a).x});
        for (const double t : {0.5, 0.35, 0.65, 0.25, 0.75})
            if (note({{cut == Cut::through ? "CUT THROUGH" : "BACKING ONLY", type::small, Weight::semibold}},
                     lerp(a, b, t), cut == Cut::through ? -inside : inside, 1.2, 9))
                break;
    }
}

}  // namespace spile::paper
