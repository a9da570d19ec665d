// The drawing of a marking sheet: how large, the two datum lines with their running sizes, the lines to cut.
#include "core/paper/marking_drawing.h"

#include <algorithm>
#include <cmath>

#include "core/base/check.h"

namespace spile::paper {
namespace {

constexpr double kScaleBar = 58;   ///< room for the scale bar and its words
constexpr double kLeaderRoom = 3;  ///< between two sizes for the leader of one in the row under them

}  // namespace

bool Drawing::draw() {
    legend();
    const std::vector<Rung> overs = rungs(true), ups = rungs(false);
    lay_out(overs, ups);
    const bool aside = kept_.x > 0 || kept_.y > 0;
    if (aside) arrow_aside();
    datum_lines();
    zero();
    // Running sizes first: their room is set aside at the left and below.
    if (show_ups_) draw_ups(ups);
    if (show_overs_ != Overs::none) draw_overs(overs);
    diagonals();
    lines();
    marks();
    match_marks();
    studs();
    set_notes();
    if (!aside && !arrow()) return false;
    hole_notes();
    check_notes();
    stud_notes();
    line_names();
    return true;
}

double Drawing::scale() {
    legend();
    lay_out(rungs(true), rungs(false));
    return page_.scale;
}

std::vector<Rung> Drawing::rungs(bool over) const {
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

double Drawing::rung_width(const Rung& r) const {
    const double names = r.names.empty() ? 0 : text_width_mm(r.names + ": ", type::small, Weight::regular);
    return names + text_width_mm(r.figure, type::figure, Weight::semibold);
}

void Drawing::legend() {
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
    if (!plan_.sets.empty()) entry(stroke::set_line, "where a piece is set: not to cut");
    entry(stroke::datum, "datum, sizes from 0");
    room(kScaleBar);
    bar_at_ = {x, y};
    top_ = y + 2.2;
    field_.keep_off(Box{area_.min, {area_.max.x, top_}});
}

bool Drawing::has_backing_lines() const {
    for (const PlanLine& l : plan_.lines)
        if (l.cut == Cut::backing_only) return true;
    for (const PlanHole& h : plan_.holes)
        for (const PlanCircle& c : h.circles)
            if (c.cut && *c.cut == Cut::backing_only) return true;
    return false;
}

void Drawing::lay_out(const std::vector<Rung>& overs, const std::vector<Rung>& ups) {
    const double row = type::figure * (kTop + kDeep) + 0.4;
    double left = 0, tall = 0, wide = 0;
    double rows[2] = {0, 0};
    for (const Rung& r : ups) left = std::max(left, rung_width(r));
    for (std::size_t i = 0; i < overs.size(); ++i) {
        const double width = rung_width(overs[i]);
        tall = std::max(tall, width);
        wide += width + 3;
        rows[i % 2] += width + 3;
    }
    rows[0] += kLeaderRoom * static_cast<double>(overs.size() / 2);
    const double clear = 9;  // for the numbers of the marks

    // The running sizes get room unless the drawing would suffer; then the table alone has them.
    show_ups_ = row * static_cast<double>(ups.size()) <= area_.max.y - top_ - 2 * clear &&
                left <= area_.width() * 0.4;
    left_ = show_ups_ ? left + 8.5 : clear;
    const double right = clear + kept_.x;
    const double across = area_.width() - left_ - right;
    show_overs_ = wide <= across + clear                              ? Overs::level
                  : std::max(rows[0], rows[1]) <= across + clear      ? Overs::two_rows
                  : row * static_cast<double>(overs.size()) <= across ? Overs::upright
                                                                      : Overs::none;
    if (tall > area_.height() * 0.3 && show_overs_ == Overs::upright) show_overs_ = Overs::none;
    const double below = show_overs_ == Overs::level      ? row + 5
                         : show_overs_ == Overs::two_rows ? 2 * row + 6
                         : show_overs_ == Overs::upright  ? tall + 5
                                                          : clear;
    const Box inner{{area_.min.x + left_, top_ + clear + kept_.y},
                    {area_.max.x - right, area_.max.y - below - 2}};
    Box drawing = plan_.box;
    drawing.add(Vec2{0, 0});
    page_ = page_from(drawing, inner);
    low_ = page_(Vec2{0, 0}).y;
    zero_x_ = page_(Vec2{0, 0}).x;
    draw_scale_bar(canvas_, bar_at_, page_, plan_.lengths, kScaleBar - 23);
}

void Drawing::datum_lines() {
    const double over = page_(Vec2{plan_.box.max.x, 0}).x + 7, up = page_(Vec2{0, plan_.box.max.y}).y - 7;
    canvas_.line({zero_x_ - 5, low_}, {std::min(over, area_.max.x), low_}, stroke::datum);
    canvas_.line({zero_x_, low_ + 5}, {zero_x_, std::max(up, top_ + kept_.y)}, stroke::datum);
    field_.disturb({zero_x_ - 5, low_}, {over, low_}, 5);
    field_.disturb({zero_x_, low_ + 5}, {zero_x_, up}, 5);
}

void Drawing::zero() {
    const double width = text_width_mm("0", type::figure, Weight::semibold);
    field_.keep_off(canvas_.text({zero_x_ - width - 1.5, low_ + 1 + type::figure * kTop}, "0", type::figure,
                                 Weight::semibold));
}

void Drawing::draw_ups(const std::vector<Rung>& ups) {
    const double height = type::figure * (kTop + kDeep);
    std::vector<Interval> wanted;  // downwards
    for (std::size_t i = ups.size(); i-- > 0;) wanted.push_back({low_ - ups[i].mm * page_.scale, height});
    const auto places = spread(wanted, 0.3, top_ + kept_.y, low_ + 1);
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

void Drawing::over_tick(Vec2 tick, double x, double top, const Rung& r) {
    canvas_.chain({{x, top + 0.4}, {x, low_ + 4}, {tick.x, low_ + 1.6}, tick}, stroke::thin);
    guide(tick, r, true);
}

void Drawing::draw_overs_in_two_rows(const std::vector<Rung>& overs) {
    const double row = type::figure * (kTop + kDeep) + 0.4, top = low_ + 5;
    const double right = area_.max.x - kept_.x;
    // The upper row: sizes, and between them the leaders that go on down.
    std::vector<Interval> upper;
    for (std::size_t i = 0; i < overs.size(); ++i)
        upper.push_back(
            {zero_x_ + overs[i].mm * page_.scale, i % 2 == 0 ? rung_width(overs[i]) + 3 : kLeaderRoom});
    const auto places = spread(upper, 0, zero_x_ - 1, right);
    if (!places) return;
    std::vector<Interval> lower;
    for (std::size_t i = 1; i < overs.size(); i += 2) lower.push_back({(*places)[i], rung_width(overs[i])});
    const auto under = spread(lower, 3, zero_x_ - 1, right);
    if (!under) return;
    for (std::size_t i = 0; i < overs.size(); ++i) {
        const Rung& r = overs[i];
        const double half = rung_width(r) / 2, x = (*places)[i];
        const Vec2 tick{upper[i].wanted, low_};
        if (i % 2 == 0) {
            rung_text(r, {x - half, top + 0.8 + type::figure * kTop}, 0);
            over_tick(tick, x, top, r);
        } else {
            const double middle = (*under)[i / 2], second = top + row + 1;
            rung_text(r, {middle - half, second + 0.8 + type::figure * kTop}, 0);
            over_tick(tick, x, top + row - 1.4, r);
            canvas_.chain({{x, top + row - 1}, {middle, second + 0.4}}, stroke::thin);
        }
    }
    field_.keep_off(Box{{area_.min.x, top - 1}, {area_.max.x, area_.max.y}});
}

void Drawing::draw_overs(const std::vector<Rung>& overs) {
    if (show_overs_ == Overs::two_rows) return draw_overs_in_two_rows(overs);
    const double height = type::figure * (kTop + kDeep);
    const bool level = show_overs_ == Overs::level;
    std::vector<Interval> wanted;
    for (const Rung& r : overs)
        wanted.push_back({zero_x_ + r.mm * page_.scale, level ? rung_width(r) : height});
    const auto places = spread(wanted, level ? 3 : 0.3, zero_x_ - 1, area_.max.x - kept_.x);
    if (!places) return;
    const double top = low_ + 5;
    for (std::size_t i = 0; i < overs.size(); ++i) {
        const Rung& r = overs[i];
        const double middle = (*places)[i];
        if (level)
            rung_text(r, {middle - rung_width(r) / 2, top + 0.8 + type::figure * kTop}, 0);
        else
            rung_text(r, {middle + type::figure * (kTop - kDeep) / 2, top + 1 + rung_width(r)}, 90);
        over_tick({wanted[i].wanted, low_}, middle, top, r);
    }
    field_.keep_off(Box{{area_.min.x, top - 1}, {area_.max.x, area_.max.y}});
}

void Drawing::rung_text(const Rung& r, Vec2 at, double angle) {
    const Vec2 along = angle == 0 ? Vec2{1, 0} : Vec2{0, -1};
    if (!r.names.empty()) {
        field_.keep_off(
            canvas_.text(at, r.names + ":", type::small, Weight::regular, Anchor::start, ink::black, angle));
        at = at + text_width_mm(r.names + ": ", type::small, Weight::regular) * along;
    }
    field_.keep_off(
        canvas_.text(at, r.figure, type::figure, Weight::semibold, Anchor::start, ink::black, angle));
}

void Drawing::guide(Vec2 tick, const Rung& r, bool over) {
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

void Drawing::diagonals() {
    for (const PlanCheck& c : plan_.checks) {
        const Vec2 a = page_(plan_.marks[c.a].true_mm), b = page_(plan_.marks[c.b].true_mm);
        canvas_.line(a, b, stroke::diagonal);
        field_.disturb(a, b, 4);
    }
}

void Drawing::lines() {
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
    for (const PlanSet& s : plan_.sets) draw_outline(canvas_, page_, s.line, stroke::set_line);
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

double marking_scale(const Box& area, const MarkingPlan& plan, const Piece& piece) {
    Canvas scratch(area.max.x, area.max.y);
    // Where the arrow finds no room on the piece, room is kept for it beside.
    const bool whole = Drawing(scratch, area, {}, {}, plan, piece).draw();
    const Vec2 kept = whole ? Vec2{} : Drawing(scratch, area, {}, {}, plan, piece).needs();
    return Drawing(scratch, area, {}, kept, plan, piece).scale();
}

void draw_marking(Canvas& canvas, const Box& area, const Box& spare, const MarkingPlan& plan,
                  const Piece& piece) {
    const std::size_t begun = canvas.page.items.size();
    if (Drawing(canvas, area, spare, {}, plan, piece).draw()) return;
    canvas.page.items.resize(begun);
    const Vec2 kept = Drawing(canvas, area, spare, {}, plan, piece).needs();
    // A sheet without its arrow could be marked the wrong way round.
    const bool drawn = Drawing(canvas, area, spare, kept, plan, piece).draw();
    SPILE_CHECK(drawn);
}

}  // namespace spile::paper
